package page

import (
	"bytes"
	_ "embed"
	"html/template"
	"net/http"
)

//go:embed form.html
var formSource string

//go:embed form.css
var formStyle string

//go:embed page.js
var pageScript string

var formTemplate = template.Must(template.New("form").Funcs(template.FuncMap{"field": fieldView}).Parse(formSource))

// fieldView pairs a field with what was typed into it.
func fieldView(v view, f field) any {
	return struct {
		Field field
		Value string
	}{f, v.Values[f.Name]}
}

// view is what the page shows: the form with what was typed, and the answer or
// what went wrong.
type view struct {
	Values    map[string]string
	Error     string
	Answer    template.HTML
	ID        string // of the kept answer
	Alone     bool   // without the form
	Groups    []group
	Materials []string
	Version   string
	Limit     int64 // MB
	Formats   any
}

// show writes the page. It is built whole first, so that an error is never half
// a page.
func (s *server) show(w http.ResponseWriter, status int, v view) {
	v.Groups, v.Materials, v.Version, v.Limit, v.Formats = groups, s.Materials, s.Version, s.MaxUpload>>20, formats
	name := "page"
	if v.Alone {
		name = "answer"
	}
	var b bytes.Buffer
	if err := formTemplate.ExecuteTemplate(&b, name, v); err != nil {
		s.Log.Printf("page: %v", err)
		http.Error(w, "the page cannot be shown", http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.WriteHeader(status)
	_, _ = w.Write(b.Bytes()) // a browser that has gone away needs no answer
}
