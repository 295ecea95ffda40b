package page

import (
	"bufio"
	"context"
	"encoding/json"
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
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	cdruntime "github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

// shots is where the tests in a browser leave pictures of what they see.
var shots = flag.String("shots", "", "folder to leave pictures of the page in, as the tests in a browser see it")

// program is swapworth as a person runs it, built when it is first asked for.
var program struct {
	build sync.Once
	path  string
	err   error
}

func TestMain(m *testing.M) {
	code := m.Run()
	if program.path != "" {
		_ = os.RemoveAll(filepath.Dir(program.path))
	}
	os.Exit(code)
}

func buildProgram() {
	folder, err := os.MkdirTemp("", "swapworth-browser-")
	if err != nil {
		program.err = err
		return
	}
	program.path = filepath.Join(folder, "swapworth")
	if out, err := exec.Command("go", "build", "-o", program.path, "../../cmd/swapworth").CombinedOutput(); err != nil {
		program.err = fmt.Errorf("%w: %s", err, out)
	}
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
	program.build.Do(buildProgram)
	if program.err != nil {
		t.Fatal(program.err)
	}
	cmd := exec.CommandContext(t.Context(), program.path, "serve", "--no-machine")
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

func exceptionText(d *cdruntime.ExceptionDetails) string {
	if d.Exception != nil && d.Exception.Description != "" {
		return d.Exception.Description
	}
	return d.Text
}
