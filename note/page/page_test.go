package page

import (
	"bytes"
	"context"
	"encoding/json"
	"io"
	"log"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"net/textproto"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"swapworth/materials"
	"swapworth/mesh"
	"swapworth/note/render"
	"swapworth/quantity"
	"swapworth/swap"
)

// ask is the question of two meshes, of which the stock part is said to be S235, by beam
// theory, which is quick; asked keeps the flags it came with.
func ask(asked *[]string) func(context.Context, Asked) (Question, error) {
	return func(_ context.Context, a Asked) (q Question, err error) {
		*asked = a.Flags
		for _, path := range a.New {
			c := swap.Case{Table: materials.Default(), Limits: swap.DefaultLimits()}
			if c.Old.Loaded, err = mesh.Load(a.Old, mesh.Options{}); err != nil {
				return q, err
			}
			if c.New.Loaded, err = mesh.Load(path, mesh.Options{}); err != nil {
				return q, err
			}
			m, err := c.Table.Find("S235")
			if err != nil {
				return q, err
			}
			c.Old.Material = &m
			c.Loading.Method = swap.ByBeam
			q.Cases = append(q.Cases, c)
		}
		return q, nil
	}
}

// load reads a part in mm.
func load(_ context.Context, path string, _ bool, _ []string) (*mesh.Loaded, quantity.System, error) {
	l, err := mesh.Load(path, mesh.Options{})
	return l, quantity.Metric, err
}

// started serves a page as a browser on this machine meets it.
func started(t *testing.T, change func(*Config)) (srv *httptest.Server, asked *[]string) {
	t.Helper()
	t.Setenv("TMPDIR", t.TempDir())
	asked = new([]string)
	srv = httptest.NewUnstartedServer(nil)
	c := Config{Ask: ask(asked), Load: load, Materials: []string{"6061-T6"}, Version: "0.0.0", Log: log.New(io.Discard, "", 0)}
	if change != nil {
		change(&c)
	}
	_, port, _ := strings.Cut(srv.Listener.Addr().String(), ":")
	var number int
	for _, d := range port {
		number = 10*number + int(d-'0')
	}
	srv.Config.Handler = newHandler(c, number)
	srv.Start()
	t.Cleanup(srv.Close)
	return srv, asked
}

func slab(t *testing.T) []byte {
	t.Helper()
	b, err := os.ReadFile(filepath.Join("..", "..", "testdata", "reference", "slab.stl"))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

type formFile struct {
	field, name string
	content     []byte
}

// send posts a form and returns the answer with its text.
func send(t *testing.T, url string, files []formFile, words map[string]string) (*http.Response, string) {
	t.Helper()
	var b bytes.Buffer
	w := multipart.NewWriter(&b)
	for _, f := range files {
		h := textproto.MIMEHeader{}
		h.Set("Content-Disposition", `form-data; name="`+f.field+`"; filename="`+strings.ReplaceAll(f.name, `"`, `\"`)+`"`)
		p, err := w.CreatePart(h)
		if err != nil {
			t.Fatal(err)
		}
		_, _ = p.Write(f.content)
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
	return res, string(text)
}

func both(t *testing.T) []formFile {
	return []formFile{{"old", "arm old.stl", slab(t)}, {"new", "arm_new.stl", slab(t)}}
}

var saveLink = regexp.MustCompile(`href="(/note/[A-Z0-9]+/note\.[a-z]+)"`)

func TestTwoFilesGiveTheVerdictAndTheNoteInEveryFormat(t *testing.T) {
	srv, asked := started(t, nil)
	res, text := send(t, srv.URL+"/compare", both(t), map[string]string{"load": "20N", "old-material": "S235", "span": ""})
	if res.StatusCode != http.StatusOK {
		t.Fatalf("status %d: %s", res.StatusCode, text)
	}
	if want := []string{"--old-material=S235", "--load=20N"}; !slices.Equal(*asked, want) {
		t.Errorf("asked with %q, want %q", *asked, want)
	}
	for _, want := range []string{"Verdict: ", "arm_new.stl against arm old.stl", `value="20N"`} {
		if !strings.Contains(text, want) {
			t.Errorf("the page does not say %q", want)
		}
	}
	links := saveLink.FindAllStringSubmatch(text, -1)
	if len(links) != len(formats) {
		t.Fatalf("found %d links to save the note, want %d", len(links), len(formats))
	}
	for _, l := range links {
		res, err := http.Get(srv.URL + l[1])
		if err != nil {
			t.Fatal(err)
		}
		body, _ := io.ReadAll(res.Body)
		_ = res.Body.Close()
		if res.StatusCode != http.StatusOK || len(body) < 500 {
			t.Errorf("%s: status %d, %d bytes", l[1], res.StatusCode, len(body))
		}
		if !strings.HasPrefix(res.Header.Get("Content-Disposition"), "attachment") {
			t.Errorf("%s would be shown instead of saved", l[1])
		}
	}
}

func TestTheSavedNoteIsTheOneOfTheCommandLine(t *testing.T) {
	srv, _ := started(t, nil)
	_, text := send(t, srv.URL+"/compare", both(t), nil)
	link := saveLink.FindStringSubmatch(text)[1]
	res, err := http.Get(srv.URL + strings.Replace(link, "note.html", "note.json", 1))
	if err != nil {
		t.Fatal(err)
	}
	defer res.Body.Close()
	got, _ := io.ReadAll(res.Body)

	path := filepath.Join("..", "..", "testdata", "reference", "slab.stl")
	q, err := ask(new([]string))(t.Context(), Asked{Old: path, New: []string{path}})
	if err != nil {
		t.Fatal(err)
	}
	c := q.Cases[0]
	c.Old.Loaded.Path, c.New.Loaded.Path, c.Figures = "arm old.stl", "arm_new.stl", true // as for a note with pictures
	r, err := swap.Decide(t.Context(), c)
	if err != nil {
		t.Fatal(err)
	}
	var want bytes.Buffer
	if err := render.Render(&want, render.JSON, false, r, render.Document{}); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want.Bytes()) {
		t.Errorf("the page's JSON differs from that of the same case:\n%s\n%s", got, want.Bytes())
	}
}

func TestNothingIsLeftOfAnUpload(t *testing.T) {
	srv, _ := started(t, nil)
	send(t, srv.URL+"/compare", both(t), nil)
	send(t, srv.URL+"/compare", []formFile{{"old", "x.stl", []byte("no mesh")}, {"new", "y.stl", nil}}, nil)
	send(t, srv.URL+"/compare", both(t)[:1], nil)
	left, err := os.ReadDir(os.Getenv("TMPDIR"))
	if err != nil {
		t.Fatal(err)
	}
	if len(left) != 0 {
		t.Errorf("left behind: %v", left)
	}
}

func TestWhatIsWrongIsSaidOnOneLineAndTheWordsStay(t *testing.T) {
	srv, _ := started(t, func(c *Config) { c.MaxUpload = 200_000 })
	for name, c := range map[string]struct {
		files []formFile
		words map[string]string
		want  string
	}{
		"no files":      {nil, map[string]string{"load": "20N"}, "no file of the stock part"},
		"one file":      {both(t)[:1], map[string]string{"load": "20N"}, "no file of the redesign"},
		"no mesh":       {[]formFile{{"old", "a.stl", []byte("hello")}, both(t)[1]}, map[string]string{"load": "20N"}, "a.stl"},
		"twice":         {append(both(t), both(t)[0]), nil, "came twice"},
		"unknown field": {both(t), map[string]string{"case": "/etc/passwd"}, "no field"},
		"long word":     {both(t), map[string]string{"load": strings.Repeat("9", 300)}, "at most 200"},
		"too large":     {[]formFile{{"old", "a.stl", make([]byte, 300_000)}}, nil, "larger than"},
	} {
		res, text := send(t, srv.URL+"/compare", c.files, c.words)
		if res.StatusCode != http.StatusUnprocessableEntity || !strings.Contains(text, c.want) {
			t.Errorf("%s: status %d, and no %q in\n%s", name, res.StatusCode, c.want, text)
		}
		if c.words["load"] == "20N" && !strings.Contains(text, `value="20N"`) {
			t.Errorf("%s: the load has to be typed again", name)
		}
		if strings.Contains(text, os.Getenv("TMPDIR")) {
			t.Errorf("%s: the page shows where files are kept", name)
		}
	}
}

func TestHostileFileNamesAreHarmless(t *testing.T) {
	for in, want := range map[string]string{
		"../../etc/passwd":         "passwd",
		`C:\parts\arm.stl`:         "arm.stl",
		"--overwrite":              "overwrite",
		"a\x00b\x1b[31m\u202e.stl": "ab[31m.stl",
		"...":                      "new.stl",
		"":                         "new.stl",
		"\xff\xfe":                 "new.stl",
		strings.Repeat("x", 500):   strings.Repeat("x", maxName),
		"Träger 60 % 漢字.stl":       "Träger 60 % 漢字.stl",
	} {
		if got := harmless(in, "new.stl"); got != want {
			t.Errorf("harmless(%q) = %q, want %q", in, got, want)
		}
	}
	srv, _ := started(t, nil)
	files := both(t)
	files[0].name = `../<img src=x onerror=alert(1)>'$(id)'.stl`
	res, text := send(t, srv.URL+"/compare", files, nil)
	if res.StatusCode != http.StatusOK {
		t.Fatalf("status %d: %s", res.StatusCode, text)
	}
	if strings.Contains(text, "<img src=x") {
		t.Error("the name of a file became part of the page")
	}
	if !strings.Contains(text, `&#39;\&#39;&#39;$(id)&#39;\&#39;&#39;`) {
		t.Error("the command does not quote the name for a shell")
	}
}

func TestOnlyThisMachineMayAsk(t *testing.T) {
	srv, _ := started(t, nil)
	for name, c := range map[string]struct {
		method string
		change func(*http.Request)
		want   int
	}{
		"as it is":            {"GET", func(*http.Request) {}, http.StatusOK},
		"localhost":           {"GET", func(r *http.Request) { r.Host = strings.Replace(r.Host, "127.0.0.1", "localhost", 1) }, http.StatusOK},
		"another name":        {"GET", func(r *http.Request) { r.Host = "example.org" }, http.StatusMisdirectedRequest},
		"another port":        {"GET", func(r *http.Request) { r.Host = "127.0.0.1:1" }, http.StatusMisdirectedRequest},
		"a form of elsewhere": {"POST", func(r *http.Request) { r.Header.Set("Origin", "https://example.org") }, http.StatusForbidden},
		"fetched cross-site":  {"POST", func(r *http.Request) { r.Header.Set("Sec-Fetch-Site", "cross-site") }, http.StatusForbidden},
	} {
		path := "/"
		if c.method == "POST" {
			path = "/compare"
		}
		r, err := http.NewRequest(c.method, srv.URL+path, nil)
		if err != nil {
			t.Fatal(err)
		}
		r.Host = r.URL.Host
		c.change(r)
		res, err := http.DefaultClient.Do(r)
		if err != nil {
			t.Fatal(err)
		}
		_ = res.Body.Close()
		if res.StatusCode != c.want {
			t.Errorf("%s: status %d, want %d", name, res.StatusCode, c.want)
		}
		csp := res.Header.Get("Content-Security-Policy")
		if !strings.Contains(csp, "default-src 'none'") || strings.Contains(csp, "unsafe") {
			t.Errorf("%s: the policy is %q", name, csp)
		}
	}
}

func TestNothingButThePageIsServed(t *testing.T) {
	srv, _ := started(t, nil)
	for _, path := range []string{"/etc/passwd", "/../go.mod", "/note/AAAA/note.html", "/note/AAAA/../../x", "/page.html", "/debug/pprof/"} {
		r, err := http.NewRequest("GET", srv.URL, nil)
		if err != nil {
			t.Fatal(err)
		}
		r.URL.Opaque = path // past the client's own cleaning
		res, err := http.DefaultTransport.RoundTrip(r)
		if err != nil {
			t.Fatal(err)
		}
		_ = res.Body.Close()
		if res.StatusCode == http.StatusOK {
			t.Errorf("%s is served", path)
		}
	}
}

func TestOnlyTheLastAnswersAreKept(t *testing.T) {
	s := newShelf(2)
	ids := []string{s.put(answer{}), s.put(answer{}), s.put(answer{})}
	if _, ok := s.get(ids[0]); ok {
		t.Error("the oldest answer is still kept")
	}
	if _, ok := s.get(ids[2]); !ok || ids[1] == ids[2] {
		t.Error("the newest answer is not kept")
	}
}

func TestTheFormHasNoFieldTwiceAndLabelsAll(t *testing.T) {
	srv, _ := started(t, nil)
	res, err := http.Get(srv.URL)
	if err != nil {
		t.Fatal(err)
	}
	defer res.Body.Close()
	text, _ := io.ReadAll(res.Body)
	for _, m := range regexp.MustCompile(`<(?:input|select)[^>]* id="([^"]*)"`).FindAllSubmatch(text, -1) {
		if n := bytes.Count(text, []byte(`<label for="`+string(m[1])+`"`)); n != 1 {
			t.Errorf("%s has %d labels", m[1], n)
		}
	}
}

func TestTheFormMayAskForOtherThicknesses(t *testing.T) {
	srv, asked := started(t, nil)
	words := map[string]string{"try-thickness": "4mm,6mm", "old-material": "S235"}
	res, text := send(t, srv.URL+"/vary", both(t), words)
	if res.StatusCode != http.StatusOK || !strings.Contains(text, "Thickness and material of arm_new.stl") {
		t.Fatalf("status %d: %s", res.StatusCode, text)
	}
	if want := []string{"--old-material=S235", "--try-thickness=4mm,6mm"}; !slices.Equal(*asked, want) {
		t.Errorf("asked with %q, want %q", *asked, want)
	}
	if want := "swapworth vary &#39;arm old.stl&#39; arm_new.stl --old-material=S235 --try-thickness=4mm,6mm"; !strings.Contains(text, want) {
		t.Errorf("the note does not name the command %s", want)
	}
	// compare has no such flags, so they are left out there.
	send(t, srv.URL+"/compare", both(t), words)
	if want := []string{"--old-material=S235"}; !slices.Equal(*asked, want) {
		t.Errorf("compare was asked with %q, want %q", *asked, want)
	}
}

func TestThePageNamesFieldsNotFlags(t *testing.T) {
	for text, want := range map[string]string{
		"give --old-weight, or --load":            "give \u201cStock part: Weight of one piece\u201d, or \u201cLoad\u201d",
		"--repair may close it":                   "\u201cClose small gaps in the meshes\u201d may close it",
		"swapworth compare a b --load=20N":        "swapworth compare a b --load=20N",
		"--position-tolerance is no field; -- is": "--position-tolerance is no field; -- is",
	} {
		if got := inFormWords(text); got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}

// The view draws holds of the redesign where the comparison will find them.
func TestPlacesOfTheRedesignAreThoseOfTheFit(t *testing.T) {
	srv, _ := started(t, nil)
	var files []formFile
	for field, path := range map[string]string{"old": plateOld, "new": plateNew} {
		b, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, formFile{field, filepath.Base(path), b})
	}
	res, text := send(t, srv.URL+"/match", files, nil)
	var found []partner
	if err := json.Unmarshal([]byte(text), &found); err != nil || res.StatusCode != http.StatusOK {
		t.Fatalf("%s: %s", res.Status, text)
	}
	var got []int
	for _, p := range found {
		got = append(got, p.Index)
	}
	// Holes 3 and 7 of the redesign are new; 9 holes come before its faces, of which the
	// two largest look down and up in both parts.
	if want := []int{0, 1, 3, 4, 5, 7, 8, 9, 10}; !slices.Equal(got[:9], want) {
		t.Errorf("got %v, want %v first", got, want)
	}
}

// A file that a flag names is kept for one answer, and the command names it as the
// person does.
func TestAFileThatAFlagNamesIsSentAlong(t *testing.T) {
	read := map[string]string{}
	srv, asked := started(t, func(c *Config) {
		usual := c.Ask
		c.Ask = func(ctx context.Context, a Asked) (Question, error) {
			for _, f := range a.Flags {
				name, path, _ := strings.Cut(strings.TrimPrefix(f, "--"), "=")
				if slices.Contains(Files(), name) {
					content, err := os.ReadFile(path)
					if err != nil {
						return Question{}, err
					}
					read[name] = string(content)
				}
			}
			return usual(ctx, a)
		}
	})
	files := append(both(t), formFile{"accept", "meant so.json", []byte(`{"blocking":[]}`)}, formFile{"mill-profile", "mine.toml", []byte("x")})
	res, text := send(t, srv.URL+"/compare", files, nil)
	if res.StatusCode != http.StatusOK {
		t.Fatalf("%s: %s", res.Status, text)
	}
	if read["accept"] != `{"blocking":[]}` || read["mill-profile"] != "x" || len(*asked) != 2 {
		t.Errorf("asked with %q, which read %q", *asked, read)
	}
	if !strings.Contains(text, "--mill-profile=mine.toml") || strings.Contains(text, os.Getenv("TMPDIR")) {
		t.Error("the command does not name the file as it came")
	}
}

func TestSeveralRedesignsAreRankedAndToldApart(t *testing.T) {
	srv, _ := started(t, nil)
	files := append(both(t), formFile{"new", "arm_new.stl", slab(t)})
	res, text := send(t, srv.URL+"/compare", files, nil)
	if res.StatusCode != http.StatusOK || !strings.Contains(text, "Best of 2: ") || !strings.Contains(text, "arm_new (2).stl") {
		t.Errorf("%s: %.400s", res.Status, text)
	}
	res, text = send(t, srv.URL+"/vary", files, nil)
	if res.StatusCode != http.StatusUnprocessableEntity || !strings.Contains(text, "varied of one redesign") {
		t.Errorf("%s: %.400s", res.Status, text)
	}
	for range maxRedesigns {
		files = append(files, formFile{"new", "more.stl", slab(t)})
	}
	res, text = send(t, srv.URL+"/compare", files, nil)
	if res.StatusCode != http.StatusUnprocessableEntity || !strings.Contains(text, "more than 8 redesigns") {
		t.Errorf("%s: %.400s", res.Status, text)
	}
}
