package page

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// paperWidths are the widths between the margins of a note in CSS pixels: the paper
// less 14 mm a side.
var paperWidths = map[string]int64{"A4": 687, "Letter": 710}

// The page and the note go through the rules of axe-core, in light and dark, wide and
// narrow. axe-core is no part of the project: SWAPWORTH_AXE names its axe.min.js.
func TestThePageAndTheNoteAreAccessible(t *testing.T) {
	path := os.Getenv("SWAPWORTH_AXE")
	if path == "" {
		t.Skip("set SWAPWORTH_AXE to the axe.min.js of axe-core to run this")
	}
	axe, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	b := opened(t, serving(t))
	check := func(what string) {
		t.Helper()
		value[bool](b, string(axe)+`; window.axeSays = undefined;
			axe.run(document, { resultTypes: ["violations"] }).then((r) => { window.axeSays = r; }); true`)
		b.until("the rules", "window.axeSays")
		for _, v := range value[[]string](b, `axeSays.violations.map((v) => v.id + ": " + v.help + ": " + v.nodes.slice(0, 3).map((n) => n.html).join(" | "))`) {
			t.Errorf("%s: %s", what, v)
		}
		if n := value[int](b, "axeSays.passes.length"); n < 20 {
			t.Errorf("%s: only %d rules applied", what, n)
		}
		if w := b.wider(); w > 0 {
			t.Errorf("%s: %d pixels wider than the screen", what, w)
		}
	}
	golden, err := filepath.Glob(filepath.Join("..", "testdata", "golden", "*_html.html"))
	if err != nil || len(golden) == 0 {
		t.Fatalf("no golden notes: %v", err)
	}
	for _, scheme := range []string{"light", "dark"} {
		b.emulate(scheme, &emulation.MediaFeature{Name: "prefers-color-scheme", Value: scheme})
		for _, width := range []int64{1000, 360} {
			where := fmt.Sprintf(" %s %d", scheme, width)
			b.do("size", chromedp.EmulateViewport(width, 800))
			for _, note := range golden {
				b.do("note", chromedp.Navigate("file://"+full(t, note)))
				check(filepath.Base(note) + where)
			}
			b.do("form", chromedp.Navigate(b.url))
			value[bool](b, `document.querySelectorAll("details").forEach((d) => { d.open = true; }), true`)
			check("form" + where)
			b.choose("old", full(t, plateOld))
			b.choose("new", full(t, plateNew))
			b.until("both parts", bothShown)
			b.fill("fix", "hole:1 hole:2")
			check("parts" + where)
			b.fill("check", "beam")
			b.fill("fix", "")
			b.do("ask", chromedp.Click(chromedp.CSS(".ask button")))
			b.until("an answer", `document.getElementById("result")`)
			value[bool](b, `document.querySelectorAll("details").forEach((d) => { d.open = true; }), true`)
			check("answer" + where)
		}
	}
	for paper, width := range paperWidths {
		b.do("size", chromedp.EmulateViewport(width, 900))
		if _, err := chromedp.Call(b.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"}); err != nil {
			t.Fatal(err)
		}
		for _, note := range golden {
			b.do("note", chromedp.Navigate("file://"+full(t, note)))
			if w := b.wider(); w > 0 {
				t.Errorf("%s on %s: %d pixels too wide", strings.TrimSuffix(filepath.Base(note), ".html"), paper, w)
			}
		}
	}
}
