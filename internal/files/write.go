package files

import (
	"bufio"
	"crypto/rand"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"time"
)

// prefix is how the name of a file begins that is not whole yet.
const prefix = ".swapworth-part-"

// Write makes the file at path of what write sends, whole or not at all: it is
// written beside the target under another name and moved there in one step. An
// existing file is an error unless overwrite is set; a file that was read, a
// folder and a disk never are replaced. A symbolic link is followed. What is no
// place to keep a file, such as /dev/null or a pipe, is written to as it is.
func Write(path string, overwrite bool, write func(io.Writer) error) error {
	target, info, err := find(path)
	if err != nil {
		return err
	}
	if info != nil && passesOn(info) {
		return through(path, target, write)
	}
	if err := allowed(path, info, overwrite); err != nil {
		return err
	}
	return whole(path, target, overwrite, write)
}

// Check says, before any work is done, why Write would refuse the path.
func Check(path string, overwrite bool) error {
	_, info, err := find(path)
	if err != nil || info != nil && passesOn(info) {
		return err
	}
	return allowed(path, info, overwrite)
}

// mostLinks is how many links may lead from one to the next (as Linux has it).
const mostLinks = 40

// find follows symbolic links to where a file would be written. Info is nil where
// there is none yet.
func find(path string) (target string, info os.FileInfo, err error) {
	target = path
	if stream(path) != nil {
		info, err = stream(path).Stat()
		if err == nil {
			return path, info, nil
		}
	}
	for range mostLinks {
		link, err := os.Lstat(target)
		switch {
		case errors.Is(err, fs.ErrNotExist):
			return target, nil, nil
		case err != nil:
			return "", nil, writing(path, err)
		case link.Mode()&os.ModeSymlink == 0:
			return target, link, nil
		}
		if info, err := os.Stat(target); err == nil && passesOn(info) {
			return target, info, nil // such as /dev/fd/3: its link leads to no name
		}
		to, err := os.Readlink(target)
		if err != nil {
			return "", nil, writing(path, err)
		}
		if !filepath.IsAbs(to) {
			to = filepath.Join(filepath.Dir(target), to)
		}
		target = to
	}
	return "", nil, fmt.Errorf("%s cannot be written: its links lead in a circle", Show(path))
}

// stream returns the open file that a name of the system stands for, or nil.
func stream(path string) *os.File {
	switch path {
	case "/dev/stdout", "/dev/fd/1", "/proc/self/fd/1":
		return os.Stdout
	case "/dev/stderr", "/dev/fd/2", "/proc/self/fd/2":
		return os.Stderr
	}
	return nil
}

// passesOn reports whether what is written there goes on to somewhere else: there
// is no file to replace.
func passesOn(info os.FileInfo) bool {
	const disk = os.ModeDevice | os.ModeCharDevice
	return info.Mode()&(os.ModeNamedPipe|os.ModeSocket) != 0 || info.Mode()&disk == disk
}

func allowed(path string, info os.FileInfo, overwrite bool) error {
	switch {
	case info == nil || stream(path) != nil:
		return nil
	case info.IsDir():
		return fmt.Errorf("output %s is a folder: name a file in it", Show(path))
	case !info.Mode().IsRegular():
		return fmt.Errorf("output %s is no file: give another name", Show(path))
	case wasRead(info):
		return fmt.Errorf("output %s is a file that was read: give another name", Show(path))
	case !overwrite:
		return fmt.Errorf("output %s exists: choose another name or add --overwrite", Show(path))
	}
	return nil
}

// through writes to what is there.
func through(path, target string, write func(io.Writer) error) error {
	f := stream(path)
	if f == nil {
		var err error
		if f, err = openThrough(target); err != nil {
			return writing(path, err)
		}
		defer f.Close() // what did not arrive is told by the flush
	}
	b := bufio.NewWriterSize(f, 1<<16)
	if err := write(b); err != nil {
		return err
	}
	if err := b.Flush(); err != nil {
		return writing(path, err)
	}
	return nil
}

func whole(path, target string, overwrite bool, write func(io.Writer) error) (err error) {
	if stream(path) != nil { // standard output was sent to a file
		return through(path, target, write)
	}
	name := filepath.Join(filepath.Dir(target), prefix+rand.Text())
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("output %s: there is no folder %s: make it first", Show(path), Show(filepath.Dir(target)))
	} else if err != nil {
		return writing(path, err)
	}
	keep(name)
	defer Remove(name) // nothing is left to remove once it has been moved
	b := bufio.NewWriterSize(f, 1<<16)
	if err = write(b); err != nil {
		f.Close() // the first error is the one to tell
		return err
	}
	err = b.Flush()
	if e := f.Close(); err == nil {
		err = e
	}
	if err == nil {
		err = place(name, target, overwrite)
	}
	if errors.Is(err, fs.ErrExist) {
		return fmt.Errorf("output %s exists: choose another name or add --overwrite", Show(path))
	} else if err != nil {
		return writing(path, err)
	}
	return nil
}

// place gives the finished file its name. Without overwrite a hard link is used
// because it fails, unlike a rename, when the name was taken meanwhile; a file
// system without links gets the rename.
func place(from, to string, overwrite bool) error {
	if !overwrite {
		err := os.Link(from, to)
		if err == nil || errors.Is(err, fs.ErrExist) {
			return err
		}
	}
	return os.Rename(from, to)
}

func writing(path string, err error) error {
	if errors.Is(err, fs.ErrPermission) {
		return fmt.Errorf("output %s: you may not write there", Show(path))
	}
	return fmt.Errorf("output %s cannot be written: %w", Show(path), bare(err))
}

// abandoned is after how long without a change an unfinished file is nobody's.
const abandoned = time.Minute

// Leftovers lists the unfinished files in the folder of path that a program left
// there which was ended by force. They may be removed.
func Leftovers(path string) []string {
	var list []string
	for _, pattern := range []string{prefix + "*", ".part-*.stl"} { // the second of an earlier version
		found, err := filepath.Glob(filepath.Join(globbed(filepath.Dir(path)), pattern))
		if err != nil {
			continue // the pattern is ours and right
		}
		for _, name := range found {
			if info, err := os.Lstat(name); err == nil && info.Mode().IsRegular() && time.Since(info.ModTime()) > abandoned {
				list = append(list, name)
			}
		}
	}
	return list
}

// globbed quotes what a pattern would read as more than letters.
func globbed(folder string) string {
	var out []rune
	for _, c := range folder {
		if c == '*' || c == '?' || c == '[' || c == '\\' && filepath.Separator != '\\' {
			out = append(out, '\\')
		}
		out = append(out, c)
	}
	return string(out)
}
