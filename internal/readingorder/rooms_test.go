package readingorder

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// larger is how many files a room has that needs to say where to begin.
const larger = 8

func TestEveryLargerRoomTellsItsOrder(t *testing.T) {
	root := filepath.Join("..", "..")
	rooms := 0
	err := filepath.WalkDir(root, func(dir string, d fs.DirEntry, err error) error {
		if err != nil || !d.IsDir() {
			return err
		}
		if name := d.Name(); dir != root && (strings.HasPrefix(name, ".") || name == "testdata" || name == "node_modules") {
			return filepath.SkipDir
		}
		files, told, held := 0, false, false
		names, err := filepath.Glob(filepath.Join(dir, "*.go"))
		if err != nil {
			return err
		}
		for _, name := range names {
			text, err := os.ReadFile(name)
			if err != nil {
				return err
			}
			if strings.HasSuffix(name, "_test.go") {
				held = held || strings.Contains(string(text), "readingorder.")
				continue
			}
			files++
			f, err := parser.ParseFile(token.NewFileSet(), name, text, parser.PackageClauseOnly|parser.ParseComments)
			if err != nil {
				return err
			}
			told = told || f.Doc != nil && groupsOf(f.Doc.Text()) != nil
		}
		if files < larger {
			return nil
		}
		rooms++
		if !told || !held {
			t.Errorf("%s has %d files; an order in the package comment: %t, held by a test: %t", dir, files, told, held)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if rooms < 10 {
		t.Errorf("%d larger rooms found", rooms)
	}
}
