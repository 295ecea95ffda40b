package mesh

import (
	"bufio"
	"compress/gzip"
	"context"
	"errors"
	"fmt"
	"hash"
	"io"
	"os"
)

// read reads the triangles of an STL file into c, hashes its bytes as stored
// and returns its format.
func (c *contents) read(r *watch, h hash.Hash, limit int) (format string, err error) {
	s, err := open(r, h)
	if err != nil {
		return "", err
	}
	start, err := s.Peek(sniffSize)
	if err != nil && err != io.EOF {
		return "", readError(err)
	}
	format, err = formatOf(start)
	if err != nil {
		return "", err
	}
	if format == formatBinary {
		err = c.readBinary(s, s.size, limit)
	} else {
		err = c.readText(s, s.size, limit)
	}
	if err != nil {
		return "", readError(err)
	}
	return format + s.packed, s.finish()
}

// source is the STL in a file, unpacked, and the bytes of the file on the way.
type source struct {
	*bufio.Reader
	raw    io.Reader // the file as stored, hashed
	size   int64     // of the STL, or -1 when not known before its end
	packed string    // ", gzip" or ""
}

func open(r *watch, h hash.Hash) (*source, error) {
	raw := bufio.NewReaderSize(io.TeeReader(r, h), sniffSize)
	s := &source{raw: raw, size: r.size}
	if magic, _ := raw.Peek(2); string(magic) != "\x1f\x8b" {
		s.Reader = raw
		return s, nil
	}
	unpacked, err := gzip.NewReader(bufio.NewReaderSize(raw, 1<<16))
	if err != nil {
		return nil, fmt.Errorf("the gzip data are damaged: %w", err)
	}
	s.Reader, s.size, s.packed = bufio.NewReaderSize(&unpacking{r: unpacked, file: r}, 1<<16), -1, ", gzip"
	return s, nil
}

// unpacking ends reading where a small file unpacks to far more than an STL
// file can.
type unpacking struct {
	r    io.Reader
	file *watch
	read int64
}

// maxUnpacking is how many times its size a packed file may come to, beyond
// the first unpackingFree bytes; triangles come to about ten times.
const (
	maxUnpacking  = 100
	unpackingFree = 1 << 24
)

func (u *unpacking) Read(b []byte) (int, error) {
	n, err := u.r.Read(b)
	if err == io.ErrUnexpectedEOF {
		return n, errors.New("the packed file is cut short")
	}
	if u.read += int64(n); u.read > unpackingFree+maxUnpacking*u.file.read {
		return 0, fmt.Errorf("the file unpacks to more than %d times its size: it is no packed STL file", maxUnpacking)
	}
	return n, err
}

// finish reads what is left of the file, for its hash.
func (s *source) finish() error {
	_, err := io.Copy(io.Discard, s.raw)
	return readError(err)
}

// sizeOf returns the number of bytes that are left in r, or -1 when that
// shows only at the end.
func sizeOf(r io.Reader) int64 {
	switch r := r.(type) {
	case *os.File:
		if info, err := r.Stat(); err == nil && info.Mode().IsRegular() {
			at, err := r.Seek(0, io.SeekCurrent)
			if err == nil {
				return info.Size() - at
			}
		}
	case interface{ Len() int }:
		return int64(r.Len())
	}
	return -1
}

// watch reads a file until ctx is done, and tells how far it has come.
type watch struct {
	ctx        context.Context
	r          io.Reader
	size, read int64
	progress   func(share float64)
}

func watched(ctx context.Context, r io.Reader, opt Options) *watch {
	return &watch{ctx: ctx, r: r, size: sizeOf(r), progress: opt.Progress}
}

func (w *watch) Read(b []byte) (int, error) {
	if err := w.ctx.Err(); err != nil {
		return 0, err
	}
	n, err := w.r.Read(b)
	w.read += int64(n)
	if w.progress != nil && w.size > 0 {
		w.progress(min(1, float64(w.read)/float64(w.size)))
	}
	return n, err
}

// readError tells damage of a packed file from an error of the STL in it.
func readError(err error) error {
	switch {
	case err == nil:
		return nil
	case err == gzip.ErrChecksum, err == gzip.ErrHeader:
		return fmt.Errorf("the gzip data are damaged: %w", err)
	}
	return err
}
