package mesh

import (
	"bytes"
	"compress/gzip"
	"encoding/binary"
	"fmt"
	"io"
	"math"
	"strings"
	"swapworth/internal/triangle"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// unitCube is the cube from the origin to (1, 1, 1).
var unitCube = Cuboid(r3.Vec{}, r3.Vec{X: 1, Y: 1, Z: 1})

// binaryOf returns a mesh as binary STL.
func binaryOf(t testing.TB, m *Mesh) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := Write(&b, m); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// textOf returns a mesh as ASCII STL, laid out as most writers do.
func textOf(m *Mesh) string {
	var b strings.Builder
	b.WriteString("solid part\n")
	for f := range m.Faces {
		p, q, r := m.Triangle(f)
		n := triangle.Normal(p, q, r)
		fmt.Fprintf(&b, "  facet normal %g %g %g\n    outer loop\n", n.X, n.Y, n.Z)
		for _, v := range []r3.Vec{p, q, r} {
			fmt.Fprintf(&b, "      vertex %g %g %g\n", v.X, v.Y, v.Z)
		}
		b.WriteString("    endloop\n  endfacet\n")
	}
	b.WriteString("endsolid part\n")
	return b.String()
}

func packed(t testing.TB, data []byte) []byte {
	t.Helper()
	var b bytes.Buffer
	w := gzip.NewWriter(&b)
	w.Write(data)
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// withHeader replaces the 80 bytes that lead a binary file.
func withHeader(file []byte, header string) []byte {
	file = bytes.Clone(file)
	for i := range headerSize {
		file[i] = ' '
	}
	copy(file[:headerSize], header)
	return file
}

// withCount replaces the count of triangles of a binary file.
func withCount(file []byte, n uint32) []byte {
	file = bytes.Clone(file)
	binary.LittleEndian.PutUint32(file[headerSize:], n)
	return file
}

// withCoordinate replaces the first coordinate of triangle f of a binary file.
func withCoordinate(file []byte, f int, x float64) []byte {
	file = bytes.Clone(file)
	binary.LittleEndian.PutUint32(file[preambleSize+recordSize*f+12:], math.Float32bits(float32(x)))
	return file
}

func TestEveryShapeOfFileGivesTheSameCube(t *testing.T) {
	bin, text := binaryOf(t, unitCube), textOf(unitCube)
	for name, file := range map[string][]byte{
		"binary":                               bin,
		"binary, header starts with solid":     withHeader(bin, "solid cube"),
		"binary, header is a whole text":       withHeader(bin, "solid\nfacet normal 0 0 1\nouter loop\nvertex 0 0 0"),
		"binary, header of spaces":             withHeader(bin, ""),
		"binary, header of zeros":              append(make([]byte, 80), bin[80:]...),
		"binary, header with byte order mark":  withHeader(bin, "\xef\xbb\xbfsolid"),
		"binary, bytes behind the last record": append(bytes.Clone(bin), "trailing"...),
		"binary, packed":                       packed(t, bin),
		"text":                                 []byte(text),
		"text, byte order mark":                []byte("\xef\xbb\xbf" + text),
		"text, CRLF":                           []byte(strings.ReplaceAll(text, "\n", "\r\n")),
		"text, CR":                             []byte(strings.ReplaceAll(text, "\n", "\r")),
		"text, tabs":                           []byte(strings.ReplaceAll(text, "  ", "\t")),
		"text, upper case":                     []byte(strings.ToUpper(text)),
		"text, mixed case":                     []byte(strings.NewReplacer("facet", "Facet", "vertex", "VERTEX").Replace(text)),
		"text, exponents":                      []byte(strings.ReplaceAll(text, "vertex 1 ", "vertex +1.000000E+000 ")),
		"text, no name":                        []byte(strings.ReplaceAll(text, "solid part", "solid")),
		"text, name with keywords":             []byte(strings.ReplaceAll(text, "solid part", "solid facet of a vertex")),
		"text, name in UTF-8":                  []byte(strings.ReplaceAll(text, "solid part", "solid Träger")),
		"text, blank lines first":              []byte("\n\n  " + text),
		"text, normals that are no numbers":    []byte(strings.ReplaceAll(text, "normal 0", "normal -nan(ind)")),
		"text, no normals":                     []byte(strings.ReplaceAll(text, "normal 0 0 -1", "")),
		"text, two solids":                     []byte(strings.Replace(text, "endfacet", "endfacet\nendsolid part\nsolid more", 1)),
		"text, Control-Z behind the end":       []byte(text + "\x1a"),
		"text, zeros behind the end":           append([]byte(text), make([]byte, 100)...),
		"text, packed":                         packed(t, []byte(text)),
	} {
		l, err := LoadFrom(bytes.NewReader(file), name, Options{})
		if err != nil {
			t.Errorf("%v", err)
			continue
		}
		if !l.Report.Closed || l.Triangles != 12 || len(l.Mesh.Vertices) != 8 || l.Mesh.SignedVolume() != 1 {
			t.Errorf("%s: %d triangles, %d vertices, volume %g, %+v", name, l.Triangles,
				len(l.Mesh.Vertices), l.Mesh.SignedVolume(), l.Report)
		}
		if wantsWarning := strings.Contains(name, "behind"); wantsWarning != (len(l.Warnings) > 0) {
			t.Errorf("%s: warnings %q", name, l.Warnings)
		}
		if strings.HasPrefix(name, "text") != strings.HasPrefix(l.Format, "ASCII") {
			t.Errorf("%s was taken for %s", name, l.Format)
		}
	}
}

func TestBadFilesGiveOneLineThatSaysWhatIsWrong(t *testing.T) {
	bin, text := binaryOf(t, unitCube), textOf(unitCube)
	for _, bad := range []struct {
		name, file, want string
	}{
		{"empty", "", "empty"},
		{"one byte", "\x00", "too few"},
		{"white space", " \n", "not an STL"},
		{"prose", "Dear customer, please find attached", `starts with "Dear"`},
		{"web page", "<!DOCTYPE html><html>" + strings.Repeat("<p>lost</p>", 100), "not an STL"},
		{"ZIP", "PK\x03\x04" + strings.Repeat("x", 200), "ZIP archive"},
		{"UTF-16", "\xff\xfes\x00o\x00l\x00i\x00d\x00", "UTF-16"},
		{"picture", "\x89PNG\r\n\x1a\n" + strings.Repeat("\x00\x01\x02\x03", 100), "cut short"},
		{"cut header", string(bin[:60]), "too few"},
		{"cut record", string(bin[:len(bin)-1]), "holds 11"},
		{"cut early", string(bin[:preambleSize]), "holds 0"},
		{"huge count", string(withCount(bin, 99_999_999)), "promises 99999999"},
		{"impossible count", string(withCount(bin, math.MaxUint32)), "promises 4294967295"},
		{"no triangles", string(withCount(bin[:preambleSize], 0)), "0 triangles"},
		{"NaN", string(withCoordinate(bin, 5, math.NaN())), "triangle 6 (byte 334)"},
		{"infinity", string(withCoordinate(bin, 0, math.Inf(-1))), "not a finite number"},
		{"text without facets", "solid part\nendsolid part\n", "no facet"},
		{"text with NaN", strings.Replace(text, "vertex 1", "vertex nan", 1), `"nan" is not a finite number`},
		{"text with infinity", strings.Replace(text, "vertex 1", "vertex 1e39", 1), `"1e39" is not a finite number`},
		{"text with comma", strings.Replace(text, "vertex 1", "vertex 1,0", 1), "decimal point"},
		{"text with a quad", strings.Replace(text, "    endloop", "      vertex 1 1 1\n    endloop", 1), "more than three corners"},
		{"text with two corners", strings.Replace(text, "      vertex 1 1 0\n", "", 1), `line 6: found "endloop" where vertex`},
		{"text, cut in a facet", text[:len(text)/2+30], "cut short within a facet"},
		{"text with a foreign word", strings.Replace(text, "  facet", "  facets", 2), "found \"facets\""},
		{"damaged gzip", string(packed(t, bin)[:100]), "the packed file is cut short"},
	} {
		for kind, r := range map[string]io.Reader{
			"file of known length": strings.NewReader(bad.file),
			"stream":               struct{ io.Reader }{strings.NewReader(bad.file)},
		} {
			_, err := LoadFrom(r, "part.stl", Options{room: 1 << 50}) // more than any file promises, wherever this runs
			if err == nil {
				t.Errorf("%s, %s: no error", bad.name, kind)
				continue
			}
			text := err.Error()
			if !strings.HasPrefix(text, "part.stl: ") || !strings.Contains(text, bad.want) || strings.Contains(text, "\n") {
				t.Errorf("%s, %s: %q, want one line with %q", bad.name, kind, text, bad.want)
			}
		}
	}
}

func TestASmallFileThatUnpacksToAHugeOneIsRefused(t *testing.T) {
	const triangles = 1 << 20
	file := append(withCount(make([]byte, preambleSize), triangles), make([]byte, recordSize*triangles)...)
	_, err := LoadFrom(bytes.NewReader(packed(t, file)), "bomb.stl.gz", Options{})
	if err == nil || !strings.Contains(err.Error(), "unpacks to more than") {
		t.Errorf("error %v", err)
	}
}
