package page

import (
	"errors"
	"fmt"
	"io"
	"mime/multipart"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"swapworth/internal/files"
)

// Limits of a form.
const (
	maxParts     = 200
	maxWord      = 200      // bytes of a typed field
	maxWords     = 2000     // bytes of one that holds several words
	maxText      = 20 << 10 // bytes of one that holds lines
	maxName      = 80       // characters of a file name shown
	maxRedesigns = 8        // compared at a time
)

// receive reads the form of a request. The caller removes the folder.
func receive(w http.ResponseWriter, r *http.Request, limit int64) (upload, error) {
	r.Body = http.MaxBytesReader(w, r.Body, limit)
	parts, err := r.MultipartReader()
	if err != nil {
		return upload{}, errors.New("the form did not arrive as a form: send it from the page")
	}
	folder, err := files.Folder("swapworth-page-")
	if err != nil {
		return upload{}, fmt.Errorf("no temporary folder: %w", err)
	}
	u := upload{values: map[string]string{}, folder: folder}
	for range maxParts {
		p, err := parts.NextPart()
		if err == io.EOF {
			return u, nil
		}
		if err == nil {
			err = u.take(p)
		}
		if err != nil {
			return u, tooLarge(err, limit)
		}
	}
	return u, fmt.Errorf("the form has more than %d fields", maxParts)
}

func tooLarge(err error, limit int64) error {
	var over *http.MaxBytesError
	if errors.As(err, &over) {
		return fmt.Errorf("all files together are larger than %d MB; make the meshes coarser, or use the command line", limit>>20)
	}
	if errors.Is(err, io.ErrUnexpectedEOF) || errors.Is(err, io.EOF) {
		return errors.New("the upload broke off before its end: send it again")
	}
	return err
}

func (u *upload) take(p *multipart.Part) error {
	name := p.FormName()
	f, typed := fieldOf(name)
	switch {
	case name == "old" || name == "new" || isFileField(name):
		return u.takeFile(name, p)
	case !typed:
		return fmt.Errorf("the form has no field %q", harmless(name, "?"))
	}
	most := f.most()
	word, err := io.ReadAll(io.LimitReader(p, int64(most)+1))
	if err != nil {
		return err
	}
	if len(word) > most {
		return fmt.Errorf("%s: expected at most %d letters", name, most)
	}
	u.values[name] = strings.TrimSpace(string(word))
	return nil
}

func (u *upload) takeFile(field string, p *multipart.Part) error {
	if p.FileName() == "" {
		return nil // the field was left empty
	}
	before := len(u.of(field))
	switch {
	case field != "new" && before > 0:
		return fmt.Errorf("the file of \u201c%s\u201d came twice: choose one", labelOf(field))
	case before == maxRedesigns:
		return fmt.Errorf("more than %d redesigns: compare some of them at a time", maxRedesigns)
	}
	end := ".stl" // a compressed mesh is known by its content
	if field != "old" && field != "new" {
		end = ".txt"
	}
	path := filepath.Join(u.folder, fmt.Sprintf("%s-%d%s", field, before+1, end))
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return fmt.Errorf("the file of \u201c%s\u201d cannot be kept in the temporary folder: %w", labelOf(field), errors.Unwrap(err))
	}
	_, err = io.Copy(f, p)
	if e := f.Close(); err == nil {
		err = e
	}
	u.files = append(u.files, sentFile{field, u.unique(harmless(p.FileName(), field+end)), path})
	return err
}

// unique tells two files of one name apart.
func (u *upload) unique(name string) string {
	out := name
	for i := 2; slices.ContainsFunc(u.files, func(f sentFile) bool { return f.field == "new" && f.name == out }); i++ {
		ext := filepath.Ext(name)
		out = fmt.Sprintf("%s (%d)%s", strings.TrimSuffix(name, ext), i, ext)
	}
	return out
}

// send answers a form at once with what is made of it, or with what is wrong with it.
func (s *server) send(w http.ResponseWriter, r *http.Request, mediaType string, from func(upload) ([]byte, error)) {
	u, err := receive(w, r, s.MaxUpload)
	if u.folder != "" {
		defer files.Remove(u.folder)
	}
	var body []byte
	if err == nil {
		body, err = from(u)
	}
	if err != nil {
		http.Error(w, inFormWords(oneLine(err)), http.StatusUnprocessableEntity)
		return
	}
	w.Header().Set("Content-Type", mediaType)
	_, _ = w.Write(body) // a browser that has gone away needs no answer
}
