package page

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

const bothShown = `document.querySelectorAll("#pair .stage canvas").length === 2 && document.querySelectorAll("#pair .number").length > 5 && document.querySelector(".number").style.left !== ""`

func TestThePageAsAPersonDrivesIt(t *testing.T) {
	if testing.Short() {
		t.Skip("drives a browser")
	}
	b := opened(t, serving(t))
	for _, step := range []struct {
		name string
		do   func(*testing.T, *tab)
	}{
		{"dropped parts appear at once and can be turned", droppedPartsAppear},
		{"clicks mark places in the words of the command line", clicksMark},
		{"the keyboard alone marks places and asks", keysMark},
		{"stress and strain energy are shown on the same view", stressIsShown},
		{"a stopped solve frees its turn", stoppedFreesTheTurn},
		{"a case file is written and fills the form again", caseFileGoesRound},
		{"a narrow screen needs no sideways scrolling", narrow},
		{"a closed page frees its turn", closedPageFreesTheTurn},
		{"several redesigns are shown, and a wrong one names itself", severalAndAWrongOne},
		{"nothing is asked for elsewhere", nothingElsewhere},
	} {
		if !t.Run(step.name, func(t *testing.T) {
			b.t = t
			step.do(t, b)
		}) {
			return // the steps build on each other
		}
	}
}

func droppedPartsAppear(t *testing.T, b *tab) {
	b.drop(plateOld, plateNew)
	b.until("both parts appear", bothShown)
	for i := range 2 {
		if share := b.drawnShare(i); share < 0.05 || share > 0.9 {
			t.Errorf("%.3f of picture %d is drawn", share, i)
		}
	}
	if n := value[int](b, `document.querySelectorAll(".part.old .number").length`); n != 7 {
		t.Errorf("the stock part has %d numbered holes, want 7", n)
	}
	b.shot("dropped")
	picture := `document.querySelector(".stage canvas").toDataURL()`
	first := value[string](b, picture)
	last := first
	turned := func(how string) {
		t.Helper()
		b.until(how+" changes the picture", fmt.Sprintf("%s !== %q", picture, last))
		last = value[string](b, picture)
	}
	x, y := b.where(".part.old .stage")
	b.do("drag", chromedp.DragAndDropXY(x, y, x+60, y+30, 4))
	turned("a drag")
	if got := b.field("fix"); got != "" {
		t.Errorf("a drag marked %q", got)
	}
	b.do("arrow", chromedp.Focus(chromedp.CSS(".part.old .stage")), chromedp.KeyEvent(kb.ArrowLeft))
	turned("an arrow key")
	b.do("plus", chromedp.KeyEvent("+"))
	turned("the plus key")
	wheel := input.DispatchMouseEventParams{Type: input.DispatchMouseEventTypeMouseWheel, X: x, Y: y, DeltaX: 1, DeltaY: 200}
	if _, err := chromedp.Call(b.ctx, input.DispatchMouseEvent, wheel); err != nil {
		t.Fatal(err)
	}
	turned("the wheel")
	b.do("home", chromedp.KeyEvent(kb.Home))
	b.until("Home goes back", picture+" === "+fmt.Sprintf("%q", first))
}

func clicksMark(t *testing.T, b *tab) {
	b.do("click hole 1", chromedp.Click(chromedp.CSS(".part.old .number:nth-of-type(1)")))
	b.do("click hole 2", chromedp.Click(chromedp.CSS(".part.old .number:nth-of-type(2)")))
	if got := b.field("fix"); got != "hole:1 hole:2" {
		t.Errorf("held at %q, want holes 1 and 2", got)
	}
	b.do("loads", chromedp.Click(chromedp.CSS("input[name=mark][value=load-at]")))
	b.do("click hole 6", chromedp.Click(chromedp.CSS(".part.old .number:nth-of-type(6)")))
	if got := b.field("load-at"); got != "hole:6" {
		t.Errorf("loaded at %q, want hole 6", got)
	}
	// A click into the picture, between the holes, is one on the top face.
	x, y := b.where(".part.old .stage")
	b.do("click a face", chromedp.MouseClickXY(x-60, y))
	if got := b.field("load-at"); !strings.HasPrefix(got, "hole:6 face:") || !strings.HasSuffix(got, ":0,0,1") {
		t.Errorf("loaded at %q, want hole 6 and the face that looks up", got)
	}
	b.until("the matching holes of the redesign", `[1, 2].every((n) => document.querySelector(".part.new .number:nth-of-type(" + n + ")").classList.contains("held"))`)
	if !value[bool](b, `document.querySelector(".part.new .number:nth-of-type(8)").classList.contains("loaded")`) {
		t.Error("hole 6 of the stock part is hole 8 of the redesign, which is not shown as loaded")
	}
	b.shot("marked")
	b.do("click it again", chromedp.MouseClickXY(x-60, y))
	if got := b.field("load-at"); got != "hole:6" {
		t.Errorf("loaded at %q after the second click", got)
	}
	b.do("tap it", chromedp.TapXY(x-60, y))
	b.until("a tap marks as a click does", `document.getElementById("load-at").value.startsWith("hole:6 face:")`)
	b.do("and again", chromedp.TapXY(x-60, y))
	b.until("and takes it off", `document.getElementById("load-at").value === "hole:6"`)
	if !value[bool](b, `[...document.querySelectorAll(".part.old input[type=checkbox]")].filter((c) => c.checked).length === 3`) {
		t.Error("the list does not show what was clicked")
	}
	if got := value[string](b, `document.getElementById("picked").textContent`); got != "stock part held at hole:1, hole:2; stock part loaded at hole:6." {
		t.Errorf("the page says %q", got)
	}
}

func keysMark(t *testing.T, b *tab) {
	b.fill("fix", "")
	b.fill("load-at", "")
	b.do("to the list", chromedp.Focus(chromedp.CSS(".part.old .places summary")))
	if !value[bool](b, `document.querySelector(".part.old .places").open`) {
		b.do("open it", chromedp.KeyEvent(kb.Enter))
	}
	press := func(key string, times int) {
		t.Helper()
		for range times {
			b.do("press", chromedp.KeyEvent(key))
			if !value[bool](b, `document.getElementById("work").hidden`) {
				t.Fatal("a key in the list sent the form")
			}
		}
	}
	press(kb.Tab, 1) // hole 1 held
	press(kb.Enter, 1)
	press(kb.Tab, 2) // hole 2 held
	press(" ", 1)
	press(kb.Tab, 3) // hole 3 loaded
	press(kb.Enter, 1)
	if fix, at := b.field("fix"), b.field("load-at"); fix != "hole:1 hole:2" || at != "hole:3" {
		t.Fatalf("held at %q and loaded at %q", fix, at)
	}
	b.fill("fix", "") // a bolted part takes longest to solve, and has tests of its own
	b.fill("load-at", "")
	b.fill("load", "20N")
	b.do("send by Enter", chromedp.Focus(chromedp.CSS("#load")), chromedp.KeyEvent(kb.Enter))
	b.until("an answer", `document.getElementById("result")`)
	if !value[bool](b, `document.activeElement.id === "result"`) {
		t.Error("the answer does not get the focus")
	}
	if got := value[string](b, `document.querySelector("#short .lead.first").textContent`); !strings.HasPrefix(got, "Verdict: ") {
		t.Errorf("the short answer begins with %q", got)
	}
	if value[bool](b, `document.getElementById("everything").open`) {
		t.Error("the whole note is open at once")
	}
}

func stressIsShown(t *testing.T, b *tab) {
	b.until("stress of both parts", `document.querySelectorAll("#view-here .legend:not([hidden]) .ticks span").length === 6`)
	b.do("see it", chromedp.ScrollIntoView(chromedp.CSS("#view-here")))
	b.shot("stress")
	last := value[string](b, `document.querySelector("#view-here .ticks .last").textContent`)
	if !strings.HasSuffix(last, " MPa") {
		t.Errorf("the scale ends at %q, want MPa", last)
	}
	stress := value[string](b, `document.querySelector(".stage canvas").toDataURL()`)
	b.do("strain energy", chromedp.Click(chromedp.CSS("input[name=shade][value='1']")))
	b.until("its scale", `document.querySelector("#view-here .ticks .last").textContent === "10"`)
	b.until("its picture", `document.querySelector(".stage canvas").toDataURL() !== `+fmt.Sprintf("%q", stress))
	if !strings.Contains(value[string](b, `document.querySelector("#view-here .legend").textContent`), "movement enlarged") {
		t.Error("the scale of the movement is not named")
	}
	b.shot("energy")
	b.emulate("dark", &emulation.MediaFeature{Name: "prefers-color-scheme", Value: "dark"})
	b.shot("dark")
	b.emulate("light")
	pdf, err := chromedp.Run(b.ctx, chromedp.PrintToPDF(chromedp.PDFPreferCSSPageSize()))
	if err != nil {
		t.Fatal(err)
	}
	if n := bytes.Count(pdf, []byte("/Type /Page\n")); n < 1 || n > 2 { // one today; the form would be more
		t.Errorf("the short answer with both parts prints on %d pages", n)
	}
	if *shots != "" {
		if err := os.WriteFile(filepath.Join(*shots, "printed.pdf"), pdf, 0o600); err != nil {
			t.Error(err)
		}
	}
}

func stoppedFreesTheTurn(t *testing.T, b *tab) {
	b.fill("check", "solid")
	b.do("ask", chromedp.Click(chromedp.CSS(".ask button")))
	b.until("progress", `document.getElementById("done").value > 0`)
	if !value[bool](b, `document.getElementById("work").checkVisibility()`) {
		t.Error("nothing shows that it works")
	}
	b.do("stop", chromedp.Click(chromedp.CSS("#stop")))
	b.until("stopped", `document.getElementById("error")?.textContent.startsWith("Stopped")`)
	b.fill("check", "beam") // which is quick; it would wait for a turn that is taken
	b.do("ask again", chromedp.Click(chromedp.CSS(".ask button")))
	b.until("the next answer", `document.getElementById("result")`)
}

func narrow(t *testing.T, b *tab) {
	b.do("390 pixels", chromedp.EmulateViewport(390, 844))
	b.until("drawn again", `document.querySelector(".stage").clientWidth < 390`)
	if w := b.wider(); w > 0 {
		t.Errorf("with the short answer %d pixels too wide", w)
	}
	b.shot("narrow")
	value[bool](b, `document.querySelectorAll("details").forEach((d) => { d.open = true; }), true`)
	if w := b.wider(); w > 0 {
		t.Errorf("with everything open %d pixels too wide", w)
	}
	widths := value[[]float64](b, `[...document.querySelectorAll("#result figure svg.figure")].map((i) => i.getBoundingClientRect().width)`)
	if len(widths) < 3 || slices.Max(widths) > 390 {
		t.Errorf("figures are %.0f pixels wide", widths)
	}
	b.shot("narrow-everything")
	b.do("wide again", chromedp.EmulateViewport(1200, 900))
}

// caseFileGoesRound saves what the form holds, changes it, and opens the file again.
func caseFileGoesRound(t *testing.T, b *tab) {
	b.fill("fix", "hole:1 hole:2")
	b.fill("load-along", "x z")
	b.fill("load-case", "[[load-case]]\nname = \"side\"\nforce = \"0,5,0 N\"\n")
	value[bool](b, `(() => { // what a click on the link would save
		const make = URL.createObjectURL;
		URL.createObjectURL = (blob) => { blob.text().then((text) => { window.saved = text; }); return make(blob); };
		return true;
	})()`)
	b.do("save", chromedp.Click(chromedp.CSS("button[formaction='/case']")))
	b.until("it is saved", `window.saved`)
	text := value[string](b, `window.saved`)
	for _, want := range []string{"plate_old.stl", "plate_new.stl", "'hole:1', 'hole:2'", "20", "side"} {
		if !strings.Contains(text, want) {
			t.Errorf("the case file does not say %s:\n%s", want, text)
		}
	}
	path := filepath.Join(t.TempDir(), "mine.toml")
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	b.fill("fix", "")
	b.fill("load", "")
	b.fill("count", "7")
	b.choose("case-file", path)
	b.until("it fills the form", `document.getElementById("case-said").textContent.startsWith("mine.toml fills the form")`)
	for name, want := range map[string]string{"fix": "hole:1 hole:2", "load": "20N", "load-along": "x z", "count": ""} {
		if got := b.field(name); got != want {
			t.Errorf("%s is %q after the case file, want %q", name, got, want)
		}
	}
	if got := b.field("load-case"); !strings.Contains(got, "[[load-case]]") || !strings.Contains(got, "side") {
		t.Errorf("load cases are %q", got)
	}
	b.fill("load-case", "")
}

func closedPageFreesTheTurn(t *testing.T, b *tab) {
	b.fill("check", "solid")
	b.do("ask", chromedp.Click(chromedp.CSS(".ask button")))
	b.until("it works", `document.getElementById("done").value > 0`)
	b.do("leave", chromedp.Navigate("about:blank"), chromedp.Navigate(b.url))
	b.choose("old", full(t, plateOld))
	b.choose("new", full(t, plateNew))
	b.fill("check", "beam")
	b.do("ask", chromedp.Click(chromedp.CSS(".ask button")))
	b.until("the next answer", `document.getElementById("result")`)
}

func severalAndAWrongOne(t *testing.T, b *tab) {
	path := filepath.Join(t.TempDir(), "drawing.stl")
	if err := os.WriteFile(path, []byte("no mesh"), 0o600); err != nil {
		t.Fatal(err)
	}
	b.choose("new", full(t, plateNew), path)
	b.until("the error beside the part", `document.querySelector("#pair .part.new .bad")?.textContent.startsWith("drawing.stl: ")`)
	if n := value[int](b, `document.querySelectorAll("#pair .stage").length`); n != 2 {
		t.Errorf("%d parts are shown, want the two that can be read", n)
	}
	b.shot("several")
	b.do("ask", chromedp.Click(chromedp.CSS(".ask button")))
	b.until("the error", `document.getElementById("error")?.textContent.includes("drawing.stl: ")`)
}

func nothingElsewhere(t *testing.T, b *tab) {
	all := b.asked()
	if len(all) < 8 {
		t.Errorf("only %d requests were seen", len(all))
	}
	for _, address := range all {
		if !strings.HasPrefix(address, b.url+"/") && !strings.HasPrefix(address, "data:") && !strings.HasPrefix(address, "blob:"+b.url) {
			t.Errorf("asked for %s", address)
		}
	}
}

func TestThreeViewsStandInWhereThereIsNoWebGL(t *testing.T) {
	if testing.Short() {
		t.Skip("drives a browser")
	}
	b := opened(t, serving(t), chromedp.Flag("disable-3d-apis", true))
	b.choose("old", full(t, plateOld))
	b.choose("new", full(t, plateNew))
	b.until("both views", `[...document.querySelectorAll("#pair img")].filter((i) => i.complete && i.naturalWidth > 100).length === 2`)
	b.do("open the list", chromedp.Click(chromedp.CSS(".part.old .places summary")))
	b.do("hold hole 1", chromedp.Click(chromedp.CSS(".part.old .places input")))
	if got := b.field("fix"); got != "hole:1" {
		t.Errorf("held at %q", got)
	}
	b.shot("views")
}
