package casefile

import (
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"swapworth/quantity"
)

func parsed(t *testing.T, text string) File {
	t.Helper()
	f, err := Parse([]byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// everyKey is the template with every line in use.
func everyKey(t *testing.T) File {
	t.Helper()
	var used []string
	for _, line := range strings.Split(Template, "\n") {
		line = strings.Replace(line, "# [[", "[[", 1)
		if key, _, ok := strings.Cut(line, " = "); ok && strings.HasPrefix(key, "# ") && !strings.Contains(key[2:], " ") {
			line = line[2:]
		}
		used = append(used, line)
	}
	return parsed(t, strings.Join(used, "\n"))
}

func TestACaseIsReadBackAsItWasWritten(t *testing.T) {
	for _, want := range []File{{}, everyKey(t), parsed(t, "[old]\nmesh = 'a b.stl'\nweight = '0.14 lb'\n")} {
		text, err := want.TOML(".")
		if err != nil {
			t.Fatal(err)
		}
		got, err := Parse(text)
		if err != nil {
			t.Fatalf("%v in\n%s", err, text)
		}
		if !reflect.DeepEqual(got, want) {
			again, _ := got.TOML(".")
			t.Errorf("written as\n%s\nand read back as\n%s", text, again)
		}
	}
}

func TestPathsAreWrittenAsSeenFromTheFile(t *testing.T) {
	f := parsed(t, "materials = ['shop.toml']\n[old]\nmesh = 'parts/old.stl'\n[new]\nmesh = '-'\n")
	text, err := f.TOML(filepath.Join("cases", "here"))
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"'../../parts/old.stl'", "'../../shop.toml'", "'-'"} {
		if !strings.Contains(string(text), want) {
			t.Errorf("no %s in\n%s", want, text)
		}
	}
	if *f.Old.Mesh != "parts/old.stl" {
		t.Error("writing changed the case")
	}
}

// Of two ways to say one thing, that of the layer above leaves no room for the other.
func TestAnotherWayOfSayingItWinsToo(t *testing.T) {
	for _, c := range []struct{ base, over, want string }{
		{"machine.pulley = '20x2mm'", "machine.travel-per-turn = '8mm'", "machine.travel-per-turn = '8mm'"},
		{"machine.travel-per-turn = '8mm'", "machine.pulley = '20x2mm'", "machine.pulley = '20x2mm'"},
		{"load.support = 'propped'", "load.fix = ['hole:1']", "load.fix = ['hole:1']"},
		{"load.fix = ['hole:1']", "load.support = 'propped'", "load.support = 'propped'"},
		{"load = { force = 20, along = ['x'] }", "load.force-vector = '0,0,5 N'", "load.force-vector = '0,0,5 N'"},
		{"load.force-vector = '0,0,5 N'", "load.force = 20", "load.force = 20"},
		{"cost.attempts = 2", "cost.success-chance = '70%'", "cost.success-chance = '70%'"},
		{"old.mesh = 'a.stl'", "old = { section = 'rect 4x4mm', length = 9 }", "old = { section = 'rect 4x4mm', length = 9 }"},
		{"old = { section = 'rect 4x4mm', length = 9 }", "old.mesh = 'a.stl'", "old.mesh = 'a.stl'"},
		{"machine = { moving-mass = 900, drive-inertia = 7, pulley = '20x2mm', count = 2 }",
			"machine = { pivot = '0,0,0', moving-inertia = 1200 }", "machine = { pivot = '0,0,0', moving-inertia = 1200, count = 2 }"},
	} {
		if got := parsed(t, c.base).Over(parsed(t, c.over)); !reflect.DeepEqual(got, parsed(t, c.want)) {
			text, _ := got.TOML(".")
			t.Errorf("%s over %s is\n%s", c.over, c.base, text)
		}
	}
}

func TestWhatTheMachineIsTakenForIsWhatTheCaseLeftOpen(t *testing.T) {
	path := filepath.Join(t.TempDir(), "folder", "machine.toml")
	f := parsed(t, "[machine]\nmoving-mass = 1200\npulley = '20x2mm'\ndrive-inertia = '68 g cm2'\n[cost]\nhourly-value = 25\n")
	kept := Kept{MovingMass: f.Machine.MovingMass, Pulley: f.Machine.Pulley, DriveInertia: f.Machine.DriveInertia, HourlyValue: f.Cost.HourlyValue}
	if err := kept.Write(path); err != nil {
		t.Fatal(err)
	}
	read, err := ReadKept(path)
	if err != nil || !reflect.DeepEqual(read, kept) {
		t.Fatalf("read back as %v, %v", read.Fields(), err)
	}
	merged, used := read.Under(parsed(t, "[machine]\nmoving-mass = 900\ntravel-per-turn = '8mm'\n"))
	if *merged.Machine.MovingMass != 900 || merged.Machine.Pulley != nil || merged.Cost.HourlyValue.Middle() != 25 {
		t.Errorf("the case over the machine is %+v", merged.Machine)
	}
	if got := strings.Join(used.Fields(), "; "); got != "drive-inertia 6.8 kg mm2; hourly-value 25" {
		t.Errorf("named as the machine's: %s", got)
	}
	if _, used = read.Under(parsed(t, "machine.pivot = '0,0,0'")); strings.Contains(strings.Join(used.Fields(), " "), "moving-mass") {
		t.Error("an arm that swings took the mass of an axis")
	}
}

// The decoder stores text past types that are text themselves: metric is the empty word.
func TestWordsAreReadByTheirTypes(t *testing.T) {
	f := parsed(t, "units = 'metric'\n[[pair]]\nunits = 'IMPERIAL'\n")
	if *f.Units != quantity.Metric || *f.Pairs[0].Units != quantity.Imperial {
		t.Errorf("metric and IMPERIAL are read as %q and %q", string(*f.Units), string(*f.Pairs[0].Units))
	}
	for text, want := range map[string]string{
		"units = 'mm'": `units: "mm": expected metric or imperial`, "[[pair]]\nmachine = { drive-limited = 'fast' }": "pair.machine.drive-limited: ",
		"[criteria]\ngoal = 'faster'": `criteria.goal: "faster": expected lighter, stiffer or cheaper`,
	} {
		if _, err := Parse([]byte(text)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: error %v, want %q", text, err, want)
		}
	}
}
