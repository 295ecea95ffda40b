package section

// rolledI lists the sizes of common rolled I sections by designation: height,
// width, web, flange and root radius in mm. From memory of EN 10365; a test
// checks each against the tabulated area.
var rolledI = map[string][5]float64{
	"ipe80":  {80, 46, 3.8, 5.2, 5},
	"ipe100": {100, 55, 4.1, 5.7, 7},
	"ipe120": {120, 64, 4.4, 6.3, 7},
	"ipe140": {140, 73, 4.7, 6.9, 7},
	"ipe160": {160, 82, 5.0, 7.4, 9},
	"ipe180": {180, 91, 5.3, 8.0, 9},
	"ipe200": {200, 100, 5.6, 8.5, 12},
	"ipe220": {220, 110, 5.9, 9.2, 12},
	"ipe240": {240, 120, 6.2, 9.8, 15},
	"ipe270": {270, 135, 6.6, 10.2, 15},
	"ipe300": {300, 150, 7.1, 10.7, 15},
	"hea100": {96, 100, 5, 8, 12},
	"hea120": {114, 120, 5, 8, 12},
	"hea140": {133, 140, 5.5, 8.5, 12},
	"hea160": {152, 160, 6, 9, 15},
	"hea180": {171, 180, 6, 9.5, 15},
	"hea200": {190, 200, 6.5, 10, 18},
	"heb100": {100, 100, 6, 10, 12},
	"heb120": {120, 120, 6.5, 11, 12},
	"heb140": {140, 140, 7, 12, 12},
	"heb160": {160, 160, 8, 13, 15},
	"heb180": {180, 180, 8.5, 14, 15},
	"heb200": {200, 200, 9, 15, 18},
}

// rolled finds a section by its designation, such as IPE 200, without the space
// and in small letters.
func rolled(designation string) (Shape, bool) {
	d, ok := rolledI[designation]
	if !ok {
		return Shape{}, false
	}
	s, err := newShape(&iBeam, d[:4], d[4])
	return s, err == nil
}
