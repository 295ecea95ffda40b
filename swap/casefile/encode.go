package casefile

import (
	"bytes"
	"path/filepath"

	"github.com/pelletier/go-toml/v2"
)

// TOML writes the case as Read reads it from a file in folder: what is nil is left
// out, and paths that are relative to the working folder become relative to that one.
func (f File) TOML(folder string) ([]byte, error) {
	f = f.clone()
	f.each(func(path string) string { return seenFrom(folder, path) })
	return encoded(f)
}

// encoded writes a structure of pointers in the form that people type.
func encoded(v any) ([]byte, error) {
	var b bytes.Buffer
	err := toml.NewEncoder(&b).SetIndentTables(false).Encode(v)
	return b.Bytes(), err
}

// seenFrom returns a path relative to folder, or the absolute one where there is no
// way from one to the other, as between drives.
func seenFrom(folder, path string) string {
	if path == "-" {
		return path
	}
	from, err := filepath.Abs(folder)
	to, err2 := filepath.Abs(path)
	if err != nil || err2 != nil {
		return path
	}
	if filepath.IsAbs(path) {
		return path
	}
	near, err := filepath.Rel(from, to)
	if err != nil {
		return to
	}
	return filepath.ToSlash(near)
}
