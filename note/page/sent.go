package page

import (
	"errors"
	"strings"
	"unicode"
)

// upload is a form as it came: the words typed, and the files, which lie in a folder
// of their own under names of our own.
type upload struct {
	values map[string]string
	files  []sentFile
	folder string
}

// sentFile is a file of a form.
type sentFile struct {
	field string // "old", "new", or the flag that takes such a file
	name  string // what it was called, made harmless
	path  string // where it lies
}

// of returns the files of a field.
func (u upload) of(field string) (out []sentFile) {
	for _, f := range u.files {
		if f.field == field {
			out = append(out, f)
		}
	}
	return out
}

// inOwnWords puts the names of the files as they came in place of where they are
// kept.
func (u upload) inOwnWords(err error) error {
	text := err.Error()
	for _, f := range u.files {
		text = strings.ReplaceAll(text, f.path, f.name)
	}
	return errors.New(text)
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
