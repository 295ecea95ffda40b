package casefile

import (
	"bytes"
	"fmt"
	"path/filepath"
	"reflect"

	"github.com/pelletier/go-toml/v2"
	"github.com/pelletier/go-toml/v2/unstable"

	"swapworth/beam"
	"swapworth/beam/section"
	"swapworth/internal/files"
	"swapworth/materials"
	"swapworth/mesh"
	"swapworth/quantity"
	"swapworth/swap"
	"swapworth/swap/joint"
)

// File is a case as a person writes it. A nil field was not given.
type File struct {
	Old      Part     `toml:"old,omitempty"`
	New      Part     `toml:"new,omitempty"`
	Machine  Machine  `toml:"machine,omitempty"`
	Load     Load     `toml:"load,omitempty"`
	Criteria Criteria `toml:"criteria,omitempty"`
	Made     Made     `toml:"made,omitempty"`
	Cost     Cost     `toml:"cost,omitempty"`
	Joint    Joint    `toml:"joint,omitempty"`
	Lesser   Lesser   `toml:"lesser,omitempty"`

	LoadCases []LoadCase `toml:"load-case,omitempty"`
	Pairs     []Pair     `toml:"pair,omitempty"` // of one machine, in place of Old and New

	Unit            *mesh.Unit         `toml:"unit"`
	Units           *quantity.System   `toml:"units"` // that results are written in
	ScaleResolution *quantity.Mass     `toml:"scale-resolution"`
	ScaleError      *quantity.Fraction `toml:"scale-error"`         // that may be, of what it shows
	Materials       []string           `toml:"materials,omitempty"` // user tables
	SameFrame       *bool              `toml:"same-frame"`
	Accept          *string            `toml:"accept"` // path of a fit's JSON
	SameLot         *bool              `toml:"same-lot"`
	BoltedTo        *string            `toml:"bolted-to"` // a material
}

// Part is one side of the comparison. Mesh is a path, relative to the case
// file.
type Part struct {
	Mesh     *string          `toml:"mesh"`
	Material *string          `toml:"material"`
	Unit     *mesh.Unit       `toml:"unit"` // of this mesh; else that of the file
	Weight   *quantity.Weight `toml:"weight"`
	Magnet   *string          `toml:"magnet"` // yes or no
	Colour   *string          `toml:"colour"`

	// Section and Length make a bar along x where there is no mesh.
	Section *section.Shape   `toml:"section"`
	Length  *quantity.Length `toml:"length"`
}

// Machine is what the parts move with.
type Machine struct {
	Count         *quantity.Count   `toml:"count"`
	MovingMass    *quantity.Mass    `toml:"moving-mass"`
	Pivot         *quantity.Point   `toml:"pivot"`
	PivotAxis     *mesh.Axis        `toml:"pivot-axis"`
	MovingInertia *quantity.Inertia `toml:"moving-inertia"`
	DriveInertia  *quantity.Inertia `toml:"drive-inertia"`
	TravelPerTurn *quantity.Length  `toml:"travel-per-turn"`
	Pulley        *Pulley           `toml:"pulley"` // teeth x pitch, in place of travel-per-turn
	DriveLimited  *swap.Limited     `toml:"drive-limited"`
}

// Load is how the parts are held and loaded.
type Load struct {
	Span         *mesh.Axis                     `toml:"span"`
	Along        []mesh.Axis                    `toml:"along,omitempty"`
	Force        *quantity.Span[quantity.Force] `toml:"force"`
	AttachedMass *quantity.Mass                 `toml:"attached-mass"`
	Support      *beam.Support                  `toml:"support"`
	Check        *string                        `toml:"check"` // auto, beam or solid

	Fix       []string `toml:"fix,omitempty"` // places of the stock part
	LoadAt    []string `toml:"load-at,omitempty"`
	NewFix    []string `toml:"new-fix,omitempty"` // of the redesign, where they are not the matching ones
	NewLoadAt []string `toml:"new-load-at,omitempty"`

	ForceVector  *quantity.ForceVector        `toml:"force-vector"`
	Moment       *quantity.MomentVector       `toml:"moment"`
	Pressure     *quantity.Stress             `toml:"pressure"`
	Acceleration *quantity.AccelerationVector `toml:"acceleration"`
}

// Criteria are the demands on the swap.
type Criteria struct {
	MinGain           *quantity.Fraction `toml:"min-gain"`
	MinSaving         *quantity.Fraction `toml:"min-saving"`
	MinStiffnessRatio *quantity.Scalar   `toml:"min-stiffness-ratio"`
	MinSafetyFactor   *quantity.Scalar   `toml:"min-safety-factor"`
	Confidence        *quantity.Fraction `toml:"confidence"`
	Goal              *swap.Goal         `toml:"goal"`

	// The demands of the swap room, by their names.
	MaxMass       *quantity.Mass      `toml:"max-mass"`
	MaxDeflection *quantity.Length    `toml:"max-deflection"`
	MinFrequency  *quantity.Frequency `toml:"min-frequency"`
	MaxCost       *quantity.Scalar    `toml:"max-cost"`
	MaxHours      *quantity.Hours     `toml:"max-hours"`
}

// Made is how the redesign comes off the mill, where it is not as drawn.
type Made struct {
	NotFaced    []SideLength     `toml:"not-faced,omitempty"` // side = thickness of its stock
	WallStock   *quantity.Length `toml:"wall-stock"`
	FloorStock  *quantity.Length `toml:"floor-stock"`
	NoChamfers  *bool            `toml:"no-chamfers"`
	Tolerance   *string          `toml:"tolerance"` // class of ISO 2768-1
	OriginError *quantity.Length `toml:"origin-error"`
}

// Cost is what time and stock are worth, and how the redesign is made.
type Cost struct {
	MillProfile    *string                         `toml:"mill-profile"`
	HourlyValue    *quantity.Span[quantity.Scalar] `toml:"hourly-value"`
	Hours          *quantity.Span[quantity.Hours]  `toml:"hours"` // of all the work, in place of the estimate
	QuotedPrice    *quantity.Span[quantity.Scalar] `toml:"quoted-price"`
	StockPrice     *quantity.Span[quantity.Scalar] `toml:"stock-price"` // a kg
	OldPrice       *quantity.Span[quantity.Scalar] `toml:"old-price"`   // of one stock part as a spare
	Currency       *string                         `toml:"currency"`    // a label
	PlateThickness *quantity.Length                `toml:"plate-thickness"`
	SetUps         *quantity.Count                 `toml:"set-ups"`
	Attempts       *quantity.Scalar                `toml:"attempts"`
	SuccessChance  *quantity.Fraction              `toml:"success-chance"`
	CAMTime        *quantity.Minutes               `toml:"cam-time"`     // for all parts
	SawTime        *quantity.Minutes               `toml:"saw-time"`     // each part
	MeasureTime    *quantity.Minutes               `toml:"measure-time"` // each part
}

// Joint is how the redesign is bolted on, for one bolt.
type Joint struct {
	Bolt       *joint.Thread    `toml:"bolt"`
	Class      *joint.Class     `toml:"class"`
	Hole       *quantity.Count  `toml:"hole"`
	TappedIn   *string          `toml:"tapped-in"` // a material; else a nut
	Engagement *quantity.Length `toml:"engagement"`
	Tension    *quantity.Force  `toml:"tension"`
	Shear      *quantity.Force  `toml:"shear"`
	Repeats    *bool            `toml:"repeats"`
	Ratio      *quantity.Scalar `toml:"ratio"` // smallest over largest load of a cycle
}

// Lesser names what may do as well as the redesign.
type Lesser struct {
	Trim  []SideLength `toml:"trim,omitempty"`  // side = width of the strip
	Drill []HoleCount  `toml:"drill,omitempty"` // count x diameter
	Buy   []Bought     `toml:"buy,omitempty"`   // name, mass, price
}

// maxBytes bounds a case file: a person writes a page, not a megabyte.
const maxBytes = 1 << 20

// Read reads a case file. Unknown keys and values of the wrong dimension are
// errors that name line and column. Paths in it become relative to its folder.
func Read(path string) (File, error) {
	text, err := files.Text(path, maxBytes)
	if err != nil {
		return File{}, fmt.Errorf("case file %w", err)
	}
	f, err := Parse(text)
	if err != nil {
		return File{}, fmt.Errorf("case file %s: %w", path, err)
	}
	f.resolve(filepath.Dir(path))
	return f, nil
}

// Parse reads the text of a case file.
func Parse(text []byte) (File, error) {
	var f File
	d := toml.NewDecoder(bytes.NewReader(quoted(text))).DisallowUnknownFields()
	if err := d.Decode(&f); err != nil {
		return File{}, materials.Located(err)
	}
	return f, readWords(reflect.ValueOf(&f).Elem(), "")
}

// quoted puts bare numbers in quotes. The decoder hands text to the types that
// know units and limits, but stores a bare number past them: 1 for 1 % would be 1.
func quoted(text []byte) []byte {
	var p unstable.Parser
	p.Reset(text)
	var out []byte
	done := 0
	quote := func(n *unstable.Node) {
		where := p.Range(n.Data)
		out = append(out, text[done:where.Offset]...)
		out = append(out, '"')
		out = append(out, bytes.ReplaceAll(n.Data, []byte("_"), nil)...)
		out = append(out, '"')
		done = int(where.Offset + where.Length)
	}
	for p.NextExpression() {
		if e := p.Expression(); e.Kind == unstable.KeyValue {
			numbers(e.Value(), quote)
		}
	}
	return append(out, text[done:]...)
}

// numbers visits the bare numbers of a value.
func numbers(v *unstable.Node, visit func(*unstable.Node)) {
	switch v.Kind {
	case unstable.Integer, unstable.Float:
		visit(v)
	case unstable.Array:
		for it := v.Children(); it.Next(); {
			numbers(it.Node(), visit)
		}
	case unstable.InlineTable:
		for it := v.Children(); it.Next(); {
			numbers(it.Node().Value(), visit)
		}
	}
}

// resolve makes the paths in the file relative to its folder.
func (f *File) resolve(folder string) {
	f.each(func(path string) string { return relativeTo(folder, path) })
}

func relativeTo(folder, path string) string {
	if path == "-" || filepath.IsAbs(path) {
		return path
	}
	return filepath.Join(folder, path)
}
