package page

import (
	"bytes"
	"embed"
	"html/template"
	"io"
	"net/http"
)

//go:embed form.html
var formSource string

//go:embed form.css
var formStyle string

// three/three.js is what the view uses of three.js, whole: nothing is loaded from
// elsewhere. three/entry.mjs says how it is made.
//
//go:embed page.js form.js parts.js view.js scene.js three/three.js
var scriptFiles embed.FS

// scripts are the page's own, by the address they are asked for.
var scripts = []string{"page.js", "form.js", "parts.js", "view.js", "scene.js", "three/three.js"}

func script(name string) http.HandlerFunc {
	text, err := scriptFiles.ReadFile(name)
	if err != nil {
		panic(err) // named above
	}
	return asset("text/javascript; charset=utf-8", string(text))
}

var formTemplate = template.Must(template.New("form").Funcs(template.FuncMap{"field": fieldView}).Parse(formSource))

// fieldView pairs a field with what was typed into it.
func fieldView(v view, f field) any {
	return struct {
		Field field
		Value string
		Most  int // bytes
	}{f, v.Values[f.Name], f.most()}
}

// view is what the page shows: the form with what was typed, and the answer or
// what went wrong.
type view struct {
	Values    map[string]string
	Error     string
	Short     template.HTML // what fits one screen, where there is such a form
	Answer    template.HTML
	ID        string  // of the kept answer
	Drawn     []shown // what the view can show of it
	Groups    []group
	Materials []string
	Version   string
	Limit     int64 // MB
	Formats   any

	Everything string // the words that open the whole note
}

// show writes the page. It is built whole first, so that an error is never half
// a page.
func (s *server) show(w http.ResponseWriter, status int, v view) {
	var b bytes.Buffer
	if err := s.lay(&b, "page", v); err != nil {
		s.Log.Printf("page: %v", err)
		http.Error(w, "the page cannot be shown", http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.WriteHeader(status)
	_, _ = w.Write(b.Bytes()) // a browser that has gone away needs no answer
}

// lay writes the page, or the answer alone.
func (s *server) lay(to io.Writer, name string, v view) error {
	v.Groups, v.Materials, v.Version, v.Limit, v.Formats = groups, s.Materials, s.Version, s.MaxUpload>>20, formats
	v.Everything = everything
	return formTemplate.ExecuteTemplate(to, name, v)
}

func asset(contentType, text string) http.HandlerFunc {
	return func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", contentType)
		_, _ = w.Write([]byte(text)) // a browser that has gone away needs no answer
	}
}
