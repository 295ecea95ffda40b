package main

import (
	"bytes"
	"context"
	"encoding/json"
	"io"
	"log"
	"mime/multipart"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/spf13/pflag"

	"swapworth/materials"
	"swapworth/note/page"
	"swapworth/swap/casefile"
)

// notOnThePage are the flags of compare and vary that the form has no field for.
var notOnThePage = map[string]string{
	"case":       "the page opens a case file by filling its form",
	"no-machine": "swapworth serve --no-machine says it for the whole page",
	"full":       "the page shows the short answer first and the whole one below it",
	"format":     "the page saves the note in every format",
	"output":     "the browser asks where to save",
	"overwrite":  "the browser asks before it replaces a file",
	"figures":    "the saved HTML and PDF hold the figures",
	"join":       "repair without it closes what rounding parted; how far to reach is a matter of looking, at the command line",
	"quiet":      "a page says nothing of files",
	"help":       "every field has its hint",
	"help-all":   "every field has its hint",
}

func TestEveryFlagOfCompareAndVaryIsOnThePage(t *testing.T) {
	there := append(page.Fields(), page.Files()...)
	for _, cmd := range []*pflag.FlagSet{newCompare().Flags(), newVary().Flags()} {
		cmd.VisitAll(func(f *pflag.Flag) {
			if f.Hidden || slices.Contains(there, f.Name) {
				return
			}
			if notOnThePage[f.Name] == "" {
				t.Errorf("--%s has no field on the page, and no reason why", f.Name)
			}
		})
	}
	for name := range notOnThePage {
		if slices.Contains(there, name) {
			t.Errorf("--%s is on the page, and said not to be", name)
		}
	}
}

// samples has something typed into every field of the page that a case file holds.
// Where two fields exclude each other the second is in others.
var samples = map[string]string{
	"old-material": "S235", "old-weight": "64.8g", "old-magnet": "yes", "old-colour": "grey",
	"new-material": "6061-T6", "new-weight": "41.5g",
	"moving-mass": "1.2kg", "drive-limited": "force", "count": "3", "load": "20N", "load-along": "x z", "span": "x", "support": "propped",
	"fix": "hole:1 hole:2", "load-at": "hole:5 face:10,20,6:0,0,1", "new-fix": "hole:2 bore:3", "new-load-at": "washer:4:12mm",
	"force": "10,0,-5 N", "moment": "0,0,2 N m", "pressure": "0.2MPa", "acceleration": "20,0,0 m/s2", "bolt": "M5",
	"bolt-class": "10.9", "bolt-hole": "2", "tapped-in": "6061-T6", "engagement": "8mm", "bolt-tension": "100N", "bolt-shear": "50N",
	"load-repeats": "true", "load-ratio": "-1",
	"hourly-value": "25", "quoted-price": "80", "old-price": "45", "currency": "EUR", "attempts": "1.5", "stock-price": "9",
	"not-faced": "+z=8mm -x=2mm", "wall-stock": "0.2mm", "floor-stock": "0.1mm", "no-chamfers": "true", "tolerance": "f", "origin-error": "0.05mm",
	"plate-thickness": "8mm", "set-ups": "2", "success-chance": "80%", "cam-time": "30min", "saw-time": "5min", "measure-time": "2min",
	"trim": "+x=5mm -y=3mm", "drill": "6x8mm 2x5mm", "buy": "thin plate, 48g, 12.50; other plate, 50g, 9",
	"goal": "stiffer", "max-cost": "100", "max-hours": "5", "max-mass": "60g", "max-deflection": "0.1mm", "min-frequency": "200Hz",
	"unit": "cm", "units": "imperial", "old-unit": "mm", "new-unit": "in", "scale-resolution": "0.1g", "scale-error": "0.5%", "hours": "2..4h", "pivot": "1,2,3", "pivot-axis": "y", "moving-inertia": "1200 kg mm2",
	"drive-inertia": "68 g cm2", "travel-per-turn": "8mm", "pulley": "20x2mm", "attached-mass": "200g", "check": "solid",
	"min-gain": "2%", "min-saving": "15%", "min-stiffness-ratio": "0.8", "min-safety-factor": "3", "same-lot": "true", "bolted-to": "6082-T6", "confidence": "80%",
	"same-frame": "true", "old-section": "rect 40x4mm", "old-length": "120mm",
}

// notInACase are fields that no case file holds.
var notInACase = []string{"repair", "try-thickness", "try-material", "thickness-axis"}

// local is a page on this machine, as swapworth serve starts it.
func local(t *testing.T) (url string) {
	t.Helper()
	t.Setenv("TMPDIR", t.TempDir())
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(t.Context())
	over := make(chan error, 1)
	go func() {
		over <- page.Serve(ctx, l, pageConfig(materials.Default(), nil, true, log.New(io.Discard, "", 0)))
	}()
	t.Cleanup(func() {
		stop()
		if err := <-over; err != nil {
			t.Error(err)
		}
	})
	return "http://" + l.Addr().String()
}

// sent posts a form with files, by field, and words.
func sent(t *testing.T, url string, files [][2]string, words map[string]string) string {
	t.Helper()
	var b bytes.Buffer
	w := multipart.NewWriter(&b)
	for _, f := range files {
		p, err := w.CreateFormFile(f[0], filepath.Base(f[1]))
		if err != nil {
			t.Fatal(err)
		}
		content, err := os.ReadFile(f[1])
		if err != nil {
			t.Fatal(err)
		}
		_, _ = p.Write(content)
	}
	for k, v := range words {
		_ = w.WriteField(k, v)
	}
	_ = w.Close()
	res, err := http.Post(url, w.FormDataContentType(), &b)
	if err != nil {
		t.Fatal(err)
	}
	defer res.Body.Close()
	text, _ := io.ReadAll(res.Body)
	if res.StatusCode != http.StatusOK {
		t.Fatalf("%s: %s: %s", url, res.Status, text)
	}
	return string(text)
}

// A case file that the page writes says what its form says, and fills the form again
// with words that mean the same.
func TestACaseFileOfThePageGoesRound(t *testing.T) {
	url := local(t)
	for _, name := range page.Fields() {
		if samples[name] == "" && !slices.Contains(notInACase, name) {
			t.Errorf("no sample of %q", name)
		}
	}
	words := map[string]string{"load-case": "[[load-case]]\nname = \"side\"\nload-at = [\"hole:3\"]\nforce = \"0,5,0 N\"\n"}
	var flags []string
	for name, v := range samples {
		words[name] = v
		for _, w := range typedWords(name, v) {
			flags = append(flags, "--"+name+"="+w)
		}
	}
	want, err := askedFile(page.Asked{Old: "plate_old.stl", New: []string{"plate_new.stl"}, Flags: flags, LoadCases: words["load-case"]})
	if err != nil {
		t.Fatal(err)
	}
	meshes := [][2]string{{"old", "../../testdata/plate_old.stl"}, {"new", "../../testdata/plate_new.stl"}, {"new", "../../testdata/arm_new.stl"}}
	text := sent(t, url+"/case", meshes, words)
	got, err := casefile.Parse([]byte(text))
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("the saved case differs from the flags':\n%s", text)
	}
	if !strings.Contains(text, "# further redesigns: arm_new.stl") {
		t.Errorf("the second redesign is lost:\n%s", text)
	}

	path := filepath.Join(t.TempDir(), "case.toml")
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	var again struct {
		Values map[string]string
		Says   string
	}
	if err := json.Unmarshal([]byte(sent(t, url+"/case/open", [][2]string{{"case", path}}, nil)), &again); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(again.Says, "choose or drop plate_new.stl, plate_old.stl") {
		t.Errorf("the page says %q", again.Says)
	}
	second := sent(t, url+"/case", meshes, again.Values)
	if second != text {
		t.Errorf("opened and saved again the case differs:\n%s\n%s", text, second)
	}
}

// typedWords parts what the page's fields for several words hold.
func typedWords(name, v string) []string {
	switch name {
	case "fix", "load-at", "new-fix", "new-load-at", "not-faced", "trim", "drill", "load-along":
		return strings.Fields(v)
	case "buy":
		return strings.Split(v, ";")
	}
	return []string{v}
}

func TestAWrongCaseFileNamesItselfAndTheLine(t *testing.T) {
	url := local(t)
	for content, want := range map[string]string{
		"[old]\nweight = \"5 mm\"\n":                       `^arm\.toml: .*line 2`,
		"[[pair]]\nname = \"a\"\n[[pair]]\nname = \"b\"\n": `^arm\.toml: the page holds one stock part`,
	} {
		var b bytes.Buffer
		w := multipart.NewWriter(&b)
		p, _ := w.CreateFormFile("case", "arm.toml")
		_, _ = p.Write([]byte(content))
		_ = w.Close()
		res, err := http.Post(url+"/case/open", w.FormDataContentType(), &b)
		if err != nil {
			t.Fatal(err)
		}
		text, _ := io.ReadAll(res.Body)
		_ = res.Body.Close()
		if res.StatusCode != http.StatusUnprocessableEntity || !regexp.MustCompile(want).Match(text) {
			t.Errorf("%s: %s", res.Status, text)
		}
	}
}
