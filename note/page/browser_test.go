package page

import (
	"bufio"
	"context"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	cdruntime "github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// shots is where the tests in a browser leave pictures of what they see.
var shots = flag.String("shots", "", "folder to leave pictures of the page in, as the tests in a browser see it")

// program is swapworth as a person runs it, built once.
var program = sync.OnceValues(func() (string, error) {
	folder, err := os.MkdirTemp("", "swapworth-browser-")
	if err != nil {
		return "", err
	}
	path := filepath.Join(folder, "swapworth")
	out, err := exec.Command("go", "build", "-o", path, "../../cmd/swapworth").CombinedOutput()
	if err != nil {
		return "", fmt.Errorf("%w: %s", err, out)
	}
	return path, nil
})

func TestMain(m *testing.M) {
	code := m.Run()
	if path, err := program2(); err == nil {
		_ = os.RemoveAll(filepath.Dir(path))
	}
	os.Exit(code)
}

// built notes that the program was asked for, so that only then is it removed.
var built bool

func program2() (string, error) {
	if !built {
		return "", errors.New("not built")
	}
	return program()
}

// chromium is the browser that drives the page.
func chromium(t *testing.T) string {
	t.Helper()
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	t.Skip("no chromium on the PATH: the page is not driven in a browser here; apt-get install chromium")
	return ""
}

// serving starts `swapworth serve` and returns its address.
func serving(t *testing.T) string {
	t.Helper()
	built = true
	path, err := program()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.CommandContext(t.Context(), path, "serve")
	cmd.Env = append(os.Environ(), "TMPDIR="+t.TempDir())
	cmd.Cancel = func() error { return cmd.Process.Signal(os.Interrupt) }
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = cmd.Wait() })
	line, err := bufio.NewReader(out).ReadString('\n')
	if err != nil {
		t.Fatal(err)
	}
	for _, word := range strings.Fields(line) {
		if strings.HasPrefix(word, "http://") {
			return word
		}
	}
	t.Fatalf("serve says %q, no address", line)
	return ""
}

// tab is a page in a browser.
type tab struct {
	t     *testing.T
	ctx   context.Context
	url   string
	asked func() []string // addresses of everything that was asked for
}

// opened starts a browser on the page, without a network beside it.
func opened(t *testing.T, url string, options ...chromedp.ExecAllocatorOption) *tab {
	t.Helper()
	all := append(chromedp.DefaultExecAllocatorOptions[:len(chromedp.DefaultExecAllocatorOptions):len(chromedp.DefaultExecAllocatorOptions)],
		chromedp.ExecPath(chromium(t)), chromedp.NoSandbox, chromedp.WindowSize(1200, 900),
		chromedp.Flag("use-gl", "angle"), chromedp.Flag("use-angle", "swiftshader"), chromedp.Flag("enable-unsafe-swiftshader", true))
	ctx, cancel := chromedp.NewExecAllocator(t.Context(), append(all, options...)...)
	t.Cleanup(cancel)
	ctx, cancel = chromedp.NewContext(ctx)
	t.Cleanup(cancel)
	if err := chromedp.Do(ctx); err != nil { // which starts it, whatever becomes of one step
		t.Fatal(err)
	}
	b := &tab{t: t, ctx: ctx, url: url}
	var mu sync.Mutex
	var asked []string
	if err := chromedp.Listen(ctx, func(ev any) {
		switch r := ev.(type) {
		case *cdruntime.EventExceptionThrown:
			t.Errorf("the page's script fails: %s", exceptionText(r.ExceptionDetails))
		case *log.EventEntryAdded:
			if !strings.Contains(r.Entry.Text, "422") { // the server's word for what a person got wrong
				t.Errorf("the browser says: %s %s", r.Entry.Text, r.Entry.URL)
			}
		case *network.EventRequestWillBeSent:
			mu.Lock()
			defer mu.Unlock()
			asked = append(asked, r.Request.URL)
		}
	}); err != nil {
		t.Fatal(err)
	}
	b.asked = func() []string {
		mu.Lock()
		defer mu.Unlock()
		return asked
	}
	b.do("open the page", chromedp.Navigate(url))
	return b
}

// patience is how long one step may take on a machine that is busy.
const patience = 2 * time.Minute

func (b *tab) do(what string, steps ...chromedp.Action[chromedp.Void]) {
	b.t.Helper()
	ctx, cancel := context.WithTimeout(b.ctx, patience)
	defer cancel()
	if err := chromedp.Do(ctx, steps...); err != nil {
		b.t.Fatalf("%s: %v", what, err)
	}
}

// value returns what an expression of the page's script is.
func value[T any](b *tab, expression string) T {
	b.t.Helper()
	ctx, cancel := context.WithTimeout(b.ctx, patience)
	defer cancel()
	v, err := chromedp.Run(ctx, chromedp.Evaluate[T](expression))
	if err != nil {
		b.t.Fatalf("%s: %v", expression, err)
	}
	return v
}

// until waits for an expression to be true.
func (b *tab) until(what, expression string) {
	b.t.Helper()
	for end := time.Now().Add(patience); !value[bool](b, "!!("+expression+")"); time.Sleep(50 * time.Millisecond) {
		if time.Now().After(end) {
			b.shot("late")
			b.t.Fatalf("%s: not after %v", what, patience)
		}
	}
}

// choose puts files into a field, as the dialog does.
func (b *tab) choose(field string, files ...string) {
	b.t.Helper()
	b.do("choose "+field, chromedp.SetUploadFiles(chromedp.CSS("#"+field), files))
}

// drop lets files fall on the page's heading.
func (b *tab) drop(files ...string) {
	b.t.Helper()
	type sent struct {
		Name string `json:"name"`
		Data []byte `json:"data"` // base64
	}
	var all []sent
	for _, f := range files {
		content, err := os.ReadFile(f)
		if err != nil {
			b.t.Fatal(err)
		}
		all = append(all, sent{filepath.Base(f), content})
	}
	text, err := json.Marshal(all)
	if err != nil {
		b.t.Fatal(err)
	}
	value[bool](b, `(() => {
		const all = new DataTransfer();
		for (const f of `+string(text)+`) {
			all.items.add(new File([Uint8Array.from(atob(f.data), (c) => c.charCodeAt(0))], f.name));
		}
		document.querySelector("h1").dispatchEvent(new DragEvent("drop", { dataTransfer: all, bubbles: true, cancelable: true }));
		return true;
	})()`)
}

func (b *tab) shot(name string) {
	b.t.Helper()
	if *shots == "" {
		return
	}
	png, err := chromedp.Run(b.ctx, chromedp.FullScreenshot(100))
	if err == nil {
		err = os.WriteFile(filepath.Join(*shots, name+".png"), png, 0o600)
	}
	if err != nil {
		b.t.Error(err)
	}
}

// drawnShare is the share of a stage's picture that is not empty.
func (b *tab) drawnShare(stage int) float64 {
	b.t.Helper()
	return value[float64](b, fmt.Sprintf(`(() => {
		const c = document.querySelectorAll(".stage canvas")[%d];
		const d = c.getContext("2d").getImageData(0, 0, c.width, c.height).data;
		let n = 0;
		for (let i = 3; i < d.length; i += 4) n += d[i] > 0;
		return 4 * n / d.length;
	})()`, stage))
}

var (
	plateOld = filepath.Join("..", "..", "testdata", "plate_old.stl")
	plateNew = filepath.Join("..", "..", "testdata", "plate_new.stl")
)

func full(t *testing.T, path string) string {
	t.Helper()
	p, err := filepath.Abs(path)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

const bothShown = `document.querySelectorAll("#pair .stage canvas").length === 2 && document.querySelectorAll("#pair .number").length > 5 && document.querySelector(".number").style.left !== ""`

// field is what stands in a field of the form.
func (b *tab) field(name string) string {
	b.t.Helper()
	return value[string](b, fmt.Sprintf("document.getElementById(%q).value", name))
}

// fill types into a field of the form.
func (b *tab) fill(name, text string) {
	b.t.Helper()
	value[bool](b, fmt.Sprintf(`(() => {
		const f = document.getElementById(%q);
		f.value = %q;
		f.dispatchEvent(new Event("input", { bubbles: true }));
		f.dispatchEvent(new Event("change", { bubbles: true }));
		return true;
	})()`, name, text))
}

// where returns the middle of an element on the screen.
func (b *tab) where(selector string) (x, y float64) {
	b.t.Helper()
	at := value[[]float64](b, fmt.Sprintf(`(() => {
		const e = document.querySelector(%q);
		e.scrollIntoView({ block: "center" });
		const r = e.getBoundingClientRect();
		return [r.left + r.width / 2, r.top + r.height / 2];
	})()`, selector))
	return at[0], at[1]
}

// wider is by how many pixels the page is wider than the screen.
func (b *tab) wider() int {
	b.t.Helper()
	return value[int](b, "document.documentElement.scrollWidth - window.innerWidth")
}

func (b *tab) emulate(what string, features ...*emulation.MediaFeature) {
	b.t.Helper()
	if _, err := chromedp.Call(b.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: features}); err != nil {
		b.t.Fatalf("%s: %v", what, err)
	}
}

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
		{"a narrow screen needs no sideways scrolling", narrow},
		{"a wrong file names itself", wrongFile},
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
	b.shot("marked")
	b.do("click it again", chromedp.MouseClickXY(x-60, y))
	if got := b.field("load-at"); got != "hole:6" {
		t.Errorf("loaded at %q after the second click", got)
	}
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
	if *shots != "" {
		pdf, err := chromedp.Run(b.ctx, chromedp.PrintToPDF(chromedp.PDFPreferCSSPageSize()))
		if err == nil {
			err = os.WriteFile(filepath.Join(*shots, "printed.pdf"), pdf, 0o600)
		}
		if err != nil {
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
	b.fill("fix", "")
	b.fill("load-at", "")
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
	if w := value[float64](b, `Math.max(0, ...[...document.querySelectorAll("figure img")].map((i) => i.getBoundingClientRect().width))`); w > 390 {
		t.Errorf("a figure is %.0f pixels wide", w)
	}
	b.shot("narrow-everything")
	b.do("wide again", chromedp.EmulateViewport(1200, 900))
}

func wrongFile(t *testing.T, b *tab) {
	path := filepath.Join(t.TempDir(), "drawing.stl")
	if err := os.WriteFile(path, []byte("no mesh"), 0o600); err != nil {
		t.Fatal(err)
	}
	b.choose("new", path)
	b.until("the error beside the part", `document.querySelector("#pair .part.new .bad")?.textContent.startsWith("drawing.stl: ")`)
	b.shot("wrong")
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

func exceptionText(d *cdruntime.ExceptionDetails) string {
	if d.Exception != nil && d.Exception.Description != "" {
		return d.Exception.Description
	}
	return d.Text
}
