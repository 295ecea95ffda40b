package page

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"mime/multipart"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"unicode"

	"swapworth/internal/files"
)

// upload is a form as it came: the words typed, and the two files, which lie in
// a folder of their own under names of our own.
type upload struct {
	values map[string]string
	names  map[string]string // what each file was called, made harmless
	folder string
}

// Limits of a form.
const (
	maxParts = 100
	maxWord  = 200 // bytes of a typed field
	maxName  = 80  // characters of a file name shown
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
	u := upload{values: map[string]string{}, names: map[string]string{}, folder: folder}
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
		return fmt.Errorf("the two files together are larger than %d MB; make the meshes coarser, or use the command line", limit>>20)
	}
	if errors.Is(err, io.ErrUnexpectedEOF) || errors.Is(err, io.EOF) {
		return errors.New("the upload broke off before its end: send it again")
	}
	return err
}

// path is where the file of a field lies.
func (u upload) path(name string) string { return filepath.Join(u.folder, name+".stl") }

func (u upload) take(p *multipart.Part) error {
	name := p.FormName()
	switch {
	case name == "old" || name == "new":
		return u.takeFile(name, p)
	case !known(name):
		return fmt.Errorf("the form has no field %q", harmless(name, "?"))
	}
	word, err := io.ReadAll(io.LimitReader(p, maxWord+1))
	if err != nil {
		return err
	}
	if len(word) > maxWord {
		return fmt.Errorf("%s: expected at most %d letters", name, maxWord)
	}
	u.values[name] = strings.TrimSpace(string(word))
	return nil
}

func (u upload) takeFile(name string, p *multipart.Part) error {
	if p.FileName() == "" {
		return nil // the field was left empty
	}
	f, err := os.OpenFile(u.path(name), os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if errors.Is(err, fs.ErrExist) {
		return fmt.Errorf("the file of the %s part came twice: choose one", name)
	}
	if err != nil {
		return fmt.Errorf("the file of the %s part cannot be kept in the temporary folder: %w", name, errors.Unwrap(err))
	}
	_, err = io.Copy(f, p)
	if e := f.Close(); err == nil {
		err = e
	}
	u.names[name] = harmless(p.FileName(), name+".stl")
	return err
}

// harmless turns the name a browser sent into one that is safe to show and to
// put into a command: no folders, nothing that cannot be printed, no beginning
// that reads as a flag.
func harmless(name, otherwise string) string {
	name = name[strings.LastIndexAny(name, `/\`)+1:]
	name = strings.Map(func(r rune) rune {
		if unicode.IsPrint(r) && r != unicode.ReplacementChar {
			return r
		}
		return -1
	}, name)
	letters := []rune(strings.TrimLeft(strings.TrimSpace(name), "-."))
	if len(letters) > maxName {
		letters = letters[len(letters)-maxName:]
	}
	if len(letters) == 0 {
		return otherwise
	}
	return string(letters)
}
