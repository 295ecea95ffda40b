// Package files reads and writes the files of a person so that none is lost: what
// is read is never replaced, what is written appears whole or not at all, and what
// lies about for a while goes away however the program ends.
//
// Its errors name the file and what to do. It keeps, for as long as the program
// runs, which files were read and which temporary ones there are.
package files

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
)

// seen holds the names of the files that were opened for reading.
var seen struct {
	sync.Mutex
	paths map[string]bool
}

// Open opens a file to read and remembers it: Write replaces it under none of its
// names. A folder is an error.
func Open(path string) (*os.File, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, reading(path, err)
	}
	info, err := f.Stat()
	if err != nil || info.IsDir() {
		f.Close() // only read from
		if err != nil {
			return nil, reading(path, err)
		}
		return nil, fmt.Errorf("%s is a directory: name a file in it", Show(path))
	}
	if info.Mode().IsRegular() {
		remember(path)
	}
	return f, nil
}

// Spare keeps Write from replacing a file that is about to be read.
func Spare(path string) {
	if info, err := os.Stat(path); err == nil && info.Mode().IsRegular() {
		remember(path)
	}
}

func remember(path string) {
	path, err := filepath.Abs(path)
	if err != nil {
		return // there is no folder to be in; nothing is written there either
	}
	seen.Lock()
	defer seen.Unlock()
	if seen.paths == nil {
		seen.paths = map[string]bool{}
	}
	seen.paths[path] = true
}

// wasRead reports whether a file is, under whatever name, one that was read.
func wasRead(info os.FileInfo) bool {
	seen.Lock()
	defer seen.Unlock()
	for path := range seen.paths {
		if read, err := os.Stat(path); err == nil && os.SameFile(read, info) {
			return true
		}
	}
	return false
}

// forgetRead forgets the files that were read in a folder that is gone.
func forgetRead(folder string) {
	seen.Lock()
	defer seen.Unlock()
	for path := range seen.paths {
		if strings.HasPrefix(path, folder+string(filepath.Separator)) {
			delete(seen.paths, path)
		}
	}
}

// Text reads a text file that a person writes, without a byte-order mark. A file
// longer than limit bytes is an error, and so is what ends only when it likes to,
// such as a device.
func Text(path string, limit int64) ([]byte, error) {
	f, err := Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close() // only read from
	if info, err := f.Stat(); err == nil && info.Mode()&os.ModeDevice != 0 {
		return nil, fmt.Errorf("%s is a device: name a text file", Show(path))
	}
	text, err := io.ReadAll(io.LimitReader(f, limit+1))
	switch {
	case err != nil:
		return nil, reading(path, err)
	case int64(len(text)) > limit:
		return nil, fmt.Errorf("%s: expected a text file below %d MB", Show(path), limit>>20)
	}
	return bytes.TrimPrefix(text, []byte("\xef\xbb\xbf")), nil
}

// TextToReplace is Text of a file that the same run may write again: one that the
// program keeps for the person.
func TextToReplace(path string, limit int64) ([]byte, error) {
	text, err := Text(path, limit)
	if full, absErr := filepath.Abs(path); absErr == nil {
		seen.Lock()
		delete(seen.paths, full)
		seen.Unlock()
	}
	return text, err
}

// readError says what is wrong in words of our own and unwraps to the system's.
type readError struct {
	text string
	why  error
}

func (e readError) Error() string { return e.text }
func (e readError) Unwrap() error { return e.why }

func reading(path string, err error) error {
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return readError{Show(path) + ": there is no such file: check the name and the folder", err}
	case errors.Is(err, fs.ErrPermission):
		return readError{Show(path) + ": you may not read this file", err}
	}
	return fmt.Errorf("%s: %w", Show(path), bare(err))
}

// bare strips the name that an error of the system carries: it may be that of a
// temporary file.
func bare(err error) error {
	var path *fs.PathError
	var link *os.LinkError
	switch {
	case errors.As(err, &path):
		return path.Err
	case errors.As(err, &link):
		return link.Err
	}
	return err
}

// Show returns a file name as it is, in quotes when it holds what does not show or
// would break a line.
func Show(name string) string {
	for _, c := range name {
		if c != ' ' && !strconv.IsGraphic(c) {
			return strconv.Quote(name)
		}
	}
	return name
}
