package mesh

import (
	"bytes"
	"context"
	"crypto/sha256"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"testing"

	"github.com/hschendel/stl"
)

// readCorners reads a file with this package's reader alone.
func readCorners(t testing.TB, file []byte) []stl.Vec3 {
	t.Helper()
	c := &contents{}
	if _, err := c.read(watched(context.Background(), bytes.NewReader(file), Options{}), sha256.New(), defaultMaxTriangles); err != nil {
		t.Fatal(err)
	}
	return c.corners
}

// libraryCorners reads a file with the STL library.
func libraryCorners(t testing.TB, file []byte) []stl.Vec3 {
	t.Helper()
	solid, err := stl.ReadAll(bytes.NewReader(file))
	if err != nil {
		t.Fatal(err)
	}
	var corners []stl.Vec3
	for _, triangle := range solid.Triangles {
		corners = append(corners, triangle.Vertices[:]...)
	}
	return corners
}

// sameBits tells -0 from 0 too.
func sameBits(a, b stl.Vec3) bool {
	for k := range a {
		if math.Float32bits(a[k]) != math.Float32bits(b[k]) {
			return false
		}
	}
	return true
}

func TestBothReadersAgreeWithTheLibraryTriangleForTriangle(t *testing.T) {
	paths, err := filepath.Glob("../testdata/reference/*.stl")
	if err != nil || len(paths) == 0 {
		t.Fatal("no reference parts")
	}
	ring := filepath.Join(t.TempDir(), "ring.stl")
	writeRing(t, ring, 120, false) // more than one block
	for _, path := range append(paths, ring) {
		file, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		want := libraryCorners(t, file)
		if got := readCorners(t, file); !slices.EqualFunc(got, want, sameBits) {
			t.Errorf("%s, binary: the corners differ", path)
		}
		solid, err := stl.ReadAll(bytes.NewReader(file))
		if err != nil {
			t.Fatal(err)
		}
		solid.SetASCII(true)
		var text bytes.Buffer
		if err := solid.WriteAll(&text); err != nil {
			t.Fatal(err)
		}
		want = libraryCorners(t, text.Bytes())
		if got := readCorners(t, text.Bytes()); !slices.EqualFunc(got, want, sameBits) {
			t.Errorf("%s, text: the corners differ", path)
		}
	}
}

func TestWrittenFilesAreReadByTheLibrary(t *testing.T) {
	l, err := Load("../testdata/reference/ribbed.stl", Options{})
	if err != nil {
		t.Fatal(err)
	}
	original, err := os.ReadFile("../testdata/reference/ribbed.stl")
	if err != nil {
		t.Fatal(err)
	}
	written := binaryOf(t, l.Mesh)
	if !slices.EqualFunc(libraryCorners(t, written), libraryCorners(t, original), sameBits) {
		t.Error("the corners changed on the way through")
	}
	solid, err := stl.ReadAll(bytes.NewReader(written))
	if err != nil {
		t.Fatal(err)
	}
	for i, triangle := range solid.Triangles {
		length := 0.0
		for _, x := range triangle.Normal {
			length += float64(x) * float64(x)
		}
		if math.Abs(length-1) > 1e-6 {
			t.Fatalf("triangle %d has the normal %v", i, triangle.Normal)
		}
	}
}

func TestNumbersRoundAsTheStandardLibraryRoundsThem(t *testing.T) {
	check := func(text string) {
		t.Helper()
		got, ok := parseFloat32([]byte(text))
		want, err := strconv.ParseFloat(text, 32)
		finite := err == nil && !math.IsInf(want, 0) && !math.IsNaN(want)
		if ok != finite || ok && math.Float32bits(got) != math.Float32bits(float32(want)) {
			t.Errorf("%q: %v %v, want %v %v", text, got, ok, float32(want), finite)
		}
	}
	for _, text := range []string{
		"", "-", "+", ".", "e", "0", "-0", "+0.0", "00001", "1.", ".5", "-.5e1", "1e", "1e+", "1e-", "1e5", "1E05",
		"1e0005", "1..2", "1.2.3", "1e1e1", "inf", "nan", "1,5", "3.4028235e38", "3.4028236e38",
		"1e39", "1e-45", "1e-46", "1.1754944e-38", "16777217", "16777219", "33554435", "0.1", "123456789012345",
		"1234567890123456", "12345678901234567890123", "0.00000000000000000000000000000000000001",
		"1.00000005960464477539062500000001", "9007199254740993",
	} {
		check(text)
	}
	for _, text := range []string{"0x1p-2", "0x10", "1_000", "1_0", "0X1P3"} {
		if got, ok := parseFloat32([]byte(text)); ok {
			t.Errorf("%q: Go's own way to write a number was read as %v", text, got)
		}
	}
	random := rand.New(rand.NewPCG(3, 4))
	for range 50_000 {
		x := math.Float32frombits(random.Uint32())
		precision := random.IntN(12)
		check(strconv.FormatFloat(float64(x), "efg"[random.IntN(3)], precision, 32))
		// Half-way between two float32 numbers and just beside it.
		half := (float64(x) + float64(math.Nextafter32(x, 1e38))) / 2
		check(strconv.FormatFloat(half, 'e', 8+random.IntN(10), 64))
	}
}
