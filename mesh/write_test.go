package mesh

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// onlyEntry fails when the folder holds anything but the one file.
func onlyEntry(t *testing.T, folder, name string) {
	t.Helper()
	entries, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if e.Name() != name {
			t.Errorf("%s was left behind", e.Name())
		}
	}
}

func TestAFileIsReplacedOnlyOnDemandAndWhole(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "part.stl")
	if err := WriteFile(path, unitCube, false); err != nil {
		t.Fatal(err)
	}
	first, err := os.ReadFile(path)
	if err != nil || !bytes.Equal(first, binaryOf(t, unitCube)) {
		t.Fatalf("the file differs from the mesh: %v", err)
	}
	if err := WriteFile(path, box(0, 2), false); err == nil || !strings.Contains(err.Error(), "--overwrite") {
		t.Errorf("error %v, want one that names --overwrite", err)
	}
	broken := Cuboid(r3.Vec{}, r3.Vec{X: 1, Y: 1, Z: 1e300})
	if err := WriteFile(path, broken, true); err == nil || !strings.Contains(err.Error(), "1e+300") {
		t.Errorf("error %v, want one that names the coordinate", err)
	}
	if now, err := os.ReadFile(path); err != nil || !bytes.Equal(now, first) {
		t.Errorf("a failed write changed the file: %v", err)
	}
	if err := WriteFile(path, box(0, 2), true); err != nil {
		t.Error(err)
	}
	onlyEntry(t, folder, "part.stl")
}

func TestAFolderThatIsNotThereCannotBeWrittenTo(t *testing.T) {
	err := WriteFile(filepath.Join(t.TempDir(), "no", "part.stl"), unitCube, false)
	if err == nil || !strings.Contains(err.Error(), "there is no folder") || strings.Contains(err.Error(), "-part-") {
		t.Errorf("error %v, want one that names the file and not the temporary one", err)
	}
}
