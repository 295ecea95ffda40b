package materials

import (
	_ "embed"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"sync"

	"swapworth/internal/files"
)

// Table is a set of materials, found by name. It is safe to read from several
// goroutines at once, not to change.
type Table struct {
	families  []Family
	materials []Material
	rows      map[string]int // key of a name or alias -> index of materials
	groups    map[string]int // key of a family's name or alias -> index of families
}

// Family is a group of materials that a weight alone cannot tell apart.
// Representative is the material that stands for it where only the family is
// known. Common are others that are as likely and so different that one cannot
// stand for them, as among the plastics. Unlikely keeps a family out of what a
// part of unknown material is tried as.
type Family struct {
	Name           string
	Aliases        []string
	Kind           Kind
	Representative string
	Common         []string
	Unlikely       bool

	// What its rows have where they do not say otherwise.
	traits                 []Trait
	expansion, anodicIndex Value
}

//go:embed table.toml
var builtIn []byte

// builtInName is what Material.Table says of the rows that ship with the
// program.
const builtInName = "built in"

var readBuiltIn = sync.OnceValue(func() *Table {
	t := &Table{rows: map[string]int{}, groups: map[string]int{}}
	if err := t.add(builtIn, builtInName); err != nil {
		panic("the built-in material table does not read: " + err.Error())
	}
	return t
})

// Default returns a new copy of the built-in table.
func Default() *Table {
	t := readBuiltIn()
	return &Table{
		families:  slices.Clone(t.families),
		materials: slices.Clone(t.materials),
		rows:      maps.Clone(t.rows),
		groups:    maps.Clone(t.groups),
	}
}

// UserFile returns where a person's own table is looked for: materials.toml in
// the swapworth folder of the configuration folder.
func UserFile() (string, error) {
	dir, err := os.UserConfigDir()
	if err != nil {
		return "", err
	}
	return filepath.Join(dir, "swapworth", "materials.toml"), nil
}

// Open returns the built-in table with the person's own table, if there is one,
// and then the given files laid over it.
func Open(files ...string) (*Table, error) {
	t := Default()
	if own, err := UserFile(); err == nil {
		if err := t.addFile(own); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return nil, err
		}
	}
	for _, f := range files {
		if err := t.addFile(f); err != nil {
			return nil, err
		}
	}
	return t, nil
}

// maxFileSize bounds a material file, in bytes; the built-in table takes 60 kB.
const maxFileSize = 4 << 20

// addFile lays the rows of a TOML file over the table. A row replaces an
// earlier one of the same name; the table is unchanged on error. Errors name
// file, line and column.
func (t *Table) addFile(path string) error {
	data, err := files.Text(path, maxFileSize)
	if err != nil {
		return fmt.Errorf("material file %w", err)
	}
	return t.add(data, path)
}

// All returns the materials in the order of the table: those of one family
// together.
func (t *Table) All() []Material { return slices.Clone(t.materials) }

// Families returns the families in the order of the table.
func (t *Table) Families() []Family { return slices.Clone(t.families) }

// OfFamily returns the materials of a family.
func (t *Table) OfFamily(name string) []Material {
	var out []Material
	for _, m := range t.materials {
		if m.Family == name {
			out = append(out, m)
		}
	}
	return out
}

// Representatives returns the representative of each family of a kind, and the
// family's other common materials: what a part of that kind is plausibly made of
// when nobody has checked.
func (t *Table) Representatives(kind Kind) []Material {
	var out []Material
	for _, f := range t.families {
		if f.Kind != kind || f.Unlikely {
			continue
		}
		for _, name := range append([]string{f.Representative}, f.Common...) {
			if i, ok := t.rows[key(name)]; ok {
				out = append(out, t.materials[i])
			}
		}
	}
	return out
}
