package casefile

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"

	"github.com/pelletier/go-toml/v2"

	"swapworth/internal/files"
	"swapworth/materials"
	"swapworth/mesh"
	"swapworth/quantity"
	"swapworth/swap"
)

// Kept is what stays the same from part to part of one machine and one shop. It lies
// below every case: what a case or a flag says wins. Its keys are the names of flags.
// A nil field is not kept.
type Kept struct {
	MovingMass    *quantity.Mass                  `toml:"moving-mass"`
	DriveInertia  *quantity.Inertia               `toml:"drive-inertia"`
	TravelPerTurn *quantity.Length                `toml:"travel-per-turn"`
	Pulley        *Pulley                         `toml:"pulley"`
	DriveLimited  *swap.Limited                   `toml:"drive-limited"`
	MillProfile   *string                         `toml:"mill-profile"`
	HourlyValue   *quantity.Span[quantity.Scalar] `toml:"hourly-value"`
	Currency      *string                         `toml:"currency"`
	Unit          *mesh.Unit                      `toml:"unit"`  // of STL files
	Units         *quantity.System                `toml:"units"` // that answers are written in
	Materials     []string                        `toml:"materials,omitempty"`
}

// KeptFile returns where the machine is kept: machine.toml in the swapworth folder of
// the configuration folder.
func KeptFile() (string, error) {
	own, err := materials.UserFile()
	return filepath.Join(filepath.Dir(own), "machine.toml"), err
}

// ReadKept reads the machine from a file; one that is not there keeps nothing. Unknown
// keys and values of the wrong dimension are errors that name line and column.
func ReadKept(path string) (Kept, error) {
	text, err := files.TextToReplace(path, maxBytes)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return Kept{}, nil
	case err != nil:
		return Kept{}, fmt.Errorf("machine file %w; --no-machine leaves it out", err)
	}
	var k Kept
	if err := toml.NewDecoder(bytes.NewReader(quoted(text))).DisallowUnknownFields().Decode(&k); err != nil {
		return Kept{}, fmt.Errorf("machine file %s: %w; swapworth machine --remove begins anew, --no-machine leaves it out", files.Show(path), materials.Located(err))
	}
	if err := readWords(reflect.ValueOf(&k).Elem(), ""); err != nil {
		return Kept{}, fmt.Errorf("machine file %s: %w", files.Show(path), err)
	}
	f := k.file()
	f.resolve(filepath.Dir(path))
	k.Materials, k.MillProfile = f.Materials, f.Cost.MillProfile
	return k, nil
}

// Write keeps the machine in a file, in a folder that it makes.
func (k Kept) Write(path string) error {
	text, err := encoded(k)
	if err != nil {
		return err
	}
	if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
		return fmt.Errorf("the folder of the machine file: %w", err)
	}
	head := "# What swapworth takes where neither a case nor a flag says otherwise; the keys are\n# the names of flags. swapworth machine shows and changes it.\n"
	return files.Write(path, true, func(w io.Writer) error {
		_, err := io.WriteString(w, head+string(text))
		return err
	})
}

// Over returns the machine with every field that over gives in place of k's.
func (k Kept) Over(over Kept) Kept {
	if over.TravelPerTurn != nil || over.Pulley != nil {
		k.TravelPerTurn, k.Pulley = nil, nil
	}
	lay(reflect.ValueOf(&k).Elem(), reflect.ValueOf(over))
	return k
}

// file returns the machine as a case that says nothing else.
func (k Kept) file() File {
	f := File{Unit: k.Unit, Units: k.Units, Materials: slices.Clone(k.Materials)}
	f.Machine = Machine{MovingMass: k.MovingMass, DriveInertia: k.DriveInertia,
		TravelPerTurn: k.TravelPerTurn, Pulley: k.Pulley, DriveLimited: k.DriveLimited}
	f.Cost = Cost{MillProfile: k.MillProfile, HourlyValue: k.HourlyValue, Currency: k.Currency}
	return f.clone()
}

// Check refuses what no case could hold.
func (k Kept) Check() error {
	_, err := k.file().Machine.machine()
	if err != nil {
		return err
	}
	if err := spanNotBelowZero("hourly-value", k.HourlyValue); err != nil {
		return err
	}
	var m swap.Making
	if err := k.file().Cost.into(&m); err != nil {
		return err
	}
	_, err = materials.Open(k.Materials...)
	return err
}

// Under returns a case with the machine below it, and the fields of the machine that
// the case left room for. Tables of materials add up, a case's rows over the
// machine's.
func (k Kept) Under(f File) (File, Kept) {
	merged := k.file().Over(f)
	merged.Materials = slices.Concat(k.Materials, f.Materials)
	used := Kept{Materials: k.Materials}
	used.Unit, used.Units = left(merged.Unit, f.Unit), left(merged.Units, f.Units)
	m, over := merged.Machine, f.Machine
	used.MovingMass = left(m.MovingMass, over.MovingMass)
	used.DriveInertia = left(m.DriveInertia, over.DriveInertia)
	used.TravelPerTurn = left(m.TravelPerTurn, over.TravelPerTurn)
	used.Pulley = left(m.Pulley, over.Pulley)
	used.DriveLimited = left(m.DriveLimited, over.DriveLimited)
	used.MillProfile = left(merged.Cost.MillProfile, f.Cost.MillProfile)
	used.HourlyValue = left(merged.Cost.HourlyValue, f.Cost.HourlyValue)
	used.Currency = left(merged.Cost.Currency, f.Cost.Currency)
	return merged, used
}

// left is what is in force unless a case gave it.
func left[T any](inForce, given *T) *T {
	if given != nil {
		return nil
	}
	return inForce
}

// Fields lists what is kept, each with its value, such as "moving-mass 1200g".
func (k Kept) Fields() []string {
	var out []string
	v := reflect.ValueOf(k)
	for i, name := range KeptNames() {
		switch field := v.Field(i); {
		case field.IsNil():
		case field.Kind() == reflect.Slice:
			out = append(out, name+" "+strings.Join(k.Materials, ", "))
		default:
			out = append(out, fmt.Sprintf("%s %v", name, field.Elem().Interface()))
		}
	}
	return out
}

// Without returns the machine without the named fields.
func (k Kept) Without(names ...string) (Kept, error) {
	known := KeptNames()
	for _, name := range names {
		i := slices.Index(known, strings.TrimPrefix(name, "--"))
		if i < 0 {
			return k, fmt.Errorf("%q: nothing of that name is kept: expected %s", name, strings.Join(known, ", "))
		}
		reflect.ValueOf(&k).Elem().Field(i).SetZero()
	}
	return k, nil
}

// KeptNames lists the names of the fields of Kept, in their order.
func KeptNames() []string {
	var out []string
	for t, i := reflect.TypeFor[Kept](), 0; i < t.NumField(); i++ {
		name, _, _ := strings.Cut(t.Field(i).Tag.Get("toml"), ",")
		out = append(out, name)
	}
	return out
}
