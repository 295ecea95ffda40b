//go:build !unix

package files

import "os"

// openThrough opens a device to write to.
func openThrough(path string) (*os.File, error) { return os.OpenFile(path, os.O_WRONLY, 0) }
