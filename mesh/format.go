package mesh

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
)

// Sizes of a binary STL file, in bytes.
const (
	headerSize   = 80
	preambleSize = headerSize + 4 // the header and the count of triangles
	recordSize   = 50             // one triangle
)

// sniffSize is how much of a file is looked at to tell its format.
const sniffSize = 1024

// The formats of a file.
const (
	formatBinary = "binary STL"
	formatText   = "ASCII STL"
)

var byteOrderMark = []byte("\xef\xbb\xbf")

// formatOf tells the format of a file by how it starts. The word "solid" does
// not decide, for binary headers may start with it. What decides is that the
// last byte of a binary file's count is a control character for every count
// below 150 million, while text has none.
func formatOf(start []byte) (string, error) {
	switch {
	case len(start) == 0:
		return "", errors.New("the file is empty")
	case bytes.HasPrefix(start, []byte("\xff\xfe")) && len(start) > 3 && start[3] == 0,
		bytes.HasPrefix(start, []byte("\xfe\xff\x00")):
		return "", errors.New("the file is UTF-16 text: save it as plain text or as binary STL")
	case bytes.HasPrefix(start, []byte("PK\x03\x04")):
		return "", errors.New("not an STL file: a ZIP archive, such as a 3MF: export the part as STL")
	}
	control := bytes.IndexFunc(start, isControl)
	if control < 0 || control >= preambleSize {
		text := bytes.TrimLeft(bytes.TrimPrefix(start, byteOrderMark), whiteSpace)
		if hasWord(text, "solid") {
			return formatText, nil
		}
		return "", fmt.Errorf("not an STL file: it is text that starts with %q, not with the word solid",
			firstWord(text))
	}
	if len(start) < preambleSize {
		return "", fmt.Errorf("not an STL file: %d bytes are too few for the %d bytes that lead a binary STL",
			len(start), preambleSize)
	}
	return formatBinary, nil
}

const whiteSpace = " \t\r\n\v\f"

// isControl is true for control characters other than white space.
func isControl(c rune) bool {
	return c < ' ' && !isSpace(byte(c)) || c == 0x7f
}

// hasWord reports whether text starts with the word in either case.
func hasWord(text []byte, word string) bool {
	return len(text) >= len(word) && bytes.EqualFold(text[:len(word)], []byte(word)) &&
		(len(text) == len(word) || isSpace(text[len(word)]))
}

func isSpace(c byte) bool { return c == ' ' || c-'\t' < 5 }

// firstWord returns the first word of text, cut to a length that fits an error.
func firstWord(text []byte) string {
	if end := bytes.IndexAny(text, whiteSpace); end >= 0 {
		text = text[:end]
	}
	return string(text[:min(len(text), 20)])
}

// declaredCount returns the number of triangles that the start of a binary
// file promises.
func declaredCount(start []byte) int64 {
	return int64(binary.LittleEndian.Uint32(start[headerSize:preambleSize]))
}
