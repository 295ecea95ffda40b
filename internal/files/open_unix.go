//go:build unix

package files

import (
	"errors"
	"os"
	"syscall"
)

// openThrough opens a pipe or a device to write to. A pipe that nobody reads is an
// error and not a wait without end.
func openThrough(path string) (*os.File, error) {
	f, err := os.OpenFile(path, os.O_WRONLY|syscall.O_NONBLOCK, 0)
	if errors.Is(err, syscall.ENXIO) {
		return nil, errors.New("nobody reads from this pipe")
	}
	return f, err
}
