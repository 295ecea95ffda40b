package casefile

import (
	"cmp"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"strings"
	"testing"

	"swapworth/mesh"
	"swapworth/quantity"
	"swapworth/swap"
)

func TestTheTemplateReadsWithEveryLineInUse(t *testing.T) {
	if _, err := Parse([]byte(Template)); err != nil {
		t.Fatal(err)
	}
	f := everyKey(t)
	if f.Load.Along[0] != mesh.Z || *f.Machine.MovingMass != 1200 || f.Old.Weight.Grams != 65 || *f.Criteria.MinGain != 0.01 {
		t.Errorf("the template's values were read as %+v", f)
	}
	if c := f.LoadCases; len(c) != 1 || c[0].Name != "pull" || c[0].Force == nil || c[0].Masses["hole:5"] != 200 {
		t.Errorf("the template's load case was read as %+v", c)
	}
}

func TestErrorsNameLineColumnAndWhatWasExpected(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"unknown key", "[old]\nmesh = \"a.stl\"\nwight = \"65 g\"\n", `line 3, column 1: unknown key "old.wight"`},
		{"wrong dimension", "[load]\nforce = \"20 mm\"\n", `line 2, column 9: load.force: `},
		{"expected unit", "[load]\nforce = \"20 mm\"\n", `expected a force such as`},
		{"broken TOML", "[old\nmesh = 1\n", "line 1, column 5: expected"},
		{"wrong axis", "[load]\nalong = [\"q\"]\n", "expected x, y or z"},
		{"a number for an axis", "[load]\nalong = [3]\n", "line 2, column 10: load.along: axis \"3\": expected x, y or z"},
		{"no number", "[criteria]\nmin-safety-factor = nan\n", "line 2, column 21: criteria.min-safety-factor: \"nan\": expected a number"},
		{"below zero", "[machine]\nmoving-mass = -5\n", "line 2, column 15: machine.moving-mass: \"-5\": a mass cannot be negative"},
		{"half a part", "[machine]\ncount = 2.5\n", "line 2, column 9: machine.count: \"2.5\": expected a whole number"},
		{"no list", "[load]\nalong = \"z\"\n", "line 2, column 9: load.along: expected a list"},
		{"no switch", "[made]\nno-chamfers = \"yes\"\n", "line 2, column 15: made.no-chamfers: expected true or false"},
	} {
		_, err := Parse([]byte(c.text))
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: error %v, want %q in it", c.name, err, c.want)
		}
		if err != nil && strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: the error has several lines: %q", c.name, err)
		}
	}
}

func TestBareNumbersAreInTheDefaultUnit(t *testing.T) {
	f, err := Parse([]byte("old.weight = 65 # not 66\ncriteria = { min-gain = 1, min-saving = 2.5 }\n" +
		"[load]\nforce = 20.5\n[machine]\nmoving-mass = 1_200\ncount = 2\npivot = [1, 2.5, \"1cm\"]\n"))
	if err != nil {
		t.Fatal(err)
	}
	if f.Old.Weight.Grams != 65 || f.Old.Weight.Step != 1 || f.Load.Force.Middle() != 20.5 {
		t.Errorf("read %+v and %v", *f.Old.Weight, *f.Load.Force)
	}
	if *f.Criteria.MinGain != 0.01 || *f.Criteria.MinSaving != 0.025 {
		t.Errorf("a gain of 1 and a saving of 2.5 per cent were read as %v and %v", *f.Criteria.MinGain, *f.Criteria.MinSaving)
	}
	if m := f.Machine; *m.MovingMass != 1200 || *m.Count != 2 || *m.Pivot != (quantity.Point{1, 2.5, 10}) {
		t.Errorf("read %v, %d and %v", *m.MovingMass, *m.Count, *m.Pivot)
	}
}

func TestWhatIsLaidOverWins(t *testing.T) {
	ten, twenty := quantity.Span[quantity.Force]{Low: 10, High: 10}, quantity.Span[quantity.Force]{Low: 20, High: 20}
	mass := quantity.Mass(500)
	base := File{Load: Load{Force: &ten, AttachedMass: &mass, Along: []mesh.Axis{mesh.Y}}}
	over := File{Load: Load{Force: &twenty}}
	got := base.Over(over)
	if got.Load.Force.Middle() != 20 || *got.Load.AttachedMass != 500 || got.Load.Along[0] != mesh.Y {
		t.Errorf("merged load %+v", got.Load)
	}
	if base.Load.Force.Middle() != 10 {
		t.Error("the base was changed")
	}
}

func TestPathsAreRelativeToTheFile(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "case.toml")
	if err := os.WriteFile(path, []byte("[old]\nmesh = \"a.stl\"\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	f, err := Read(path)
	if err != nil {
		t.Fatal(err)
	}
	if *f.Old.Mesh != filepath.Join(dir, "a.stl") {
		t.Errorf("mesh %q", *f.Old.Mesh)
	}
}

func TestFilesThatCannotBeReadAreOneLineEach(t *testing.T) {
	dir := t.TempDir()
	for _, path := range []string{filepath.Join(dir, "missing.toml"), dir} {
		if _, err := Read(path); err == nil || strings.Contains(err.Error(), "\n") || !strings.Contains(err.Error(), path) {
			t.Errorf("%s: error %v", path, err)
		}
	}
}

func FuzzParse(f *testing.F) {
	f.Add([]byte(Template))
	f.Add([]byte("[old]\nweight = 65\n"))
	f.Add([]byte("[load]\nalong = [\"x\", 3]\n"))
	f.Add([]byte("machine.pivot = \"1,2,3in\""))
	f.Fuzz(func(t *testing.T, text []byte) {
		if _, err := Parse(text); err != nil && strings.ContainsAny(err.Error(), "\n\r") {
			t.Errorf("an error of several lines: %q", err)
		}
	})
}

func TestWhatIsKnownWithinBoundsIsTypedAsASpan(t *testing.T) {
	f := parsed(t, "scale-error = '0.5%'\n[load]\nforce = '15..25 N'\n[cost]\nhours = '2..4h'\nhourly-value = '20..30'\nquoted-price = 80\n")
	l, err := f.loading()
	if err != nil || l.Force != 20 || l.ForceRange == nil || l.ForceRange.Low != 15 || l.ForceRange.High != 25 {
		t.Errorf("load %g N, %v, %v", l.Force, l.ForceRange, err)
	}
	var m swap.Making
	if err := f.Cost.into(&m); err != nil || *m.Pricing.Hours != (swap.Range{Low: 2, Nominal: 3, High: 4}) ||
		m.Pricing.HourlyValue.High != 30 || *m.Pricing.Quoted != (swap.Range{Low: 80, Nominal: 80, High: 80}) {
		t.Errorf("pricing %+v, %v", m.Pricing, err)
	}
	if w, _, err := f.weighing(quantity.Weight{Grams: 200, Step: 1}); err != nil || math.Abs(w.Range().High-200.5*1.005) > 1e-9 {
		t.Errorf("weighed %v, %v", w.Range(), err)
	}
	for text, want := range map[string]string{
		"[load]\nforce = '-5..5N'\n":                 "--load -5N..5N: expected a force other than zero",
		"[cost]\nhours = '0..2h'\n":                  "--hours 0..2h: expected more than nothing",
		"[cost]\nquoted-price = '-1..2'\n":           "--quoted-price -1..2: expected 0 or more",
		"scale-error = '120%'\n[old]\nweight='5g'\n": "--scale-error 120%",
	} {
		f := parsed(t, text)
		_, first := f.loading()
		second := f.Cost.into(&m)
		var third error
		if f.Old.Weight != nil {
			_, _, third = f.weighing(*f.Old.Weight)
		}
		if err := cmp.Or(first, second, third); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %q", text, err, want)
		}
	}
}

// What swapworth init writes shows every key that a case file may hold.
func TestTheTemplateNamesEveryKey(t *testing.T) {
	var walk func(of reflect.Type, at string)
	walk = func(of reflect.Type, at string) {
		if at == "pair." {
			return // it has the keys of a file again
		}
		for of.Kind() == reflect.Pointer || of.Kind() == reflect.Slice {
			of = of.Elem()
		}
		if of.Kind() != reflect.Struct || of.PkgPath() != reflect.TypeFor[File]().PkgPath() {
			return
		}
		for i := range of.NumField() {
			key, _, _ := strings.Cut(of.Field(i).Tag.Get("toml"), ",")
			if key == "" {
				walk(of.Field(i).Type, at)
				continue
			}
			if !regexp.MustCompile(`(?m)^#? *(?:\[\[?)?` + key + `(?:\]\]?| =)|[{,.] ?` + key + ` =`).MatchString(Template) {
				t.Errorf("the template has no %s%s", at, key)
			}
			walk(of.Field(i).Type, at+key+".")
		}
	}
	walk(reflect.TypeFor[File](), "")
}
