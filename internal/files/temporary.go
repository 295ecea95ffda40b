package files

import (
	"os"
	"sync"
)

// temporary holds the files and folders that are to go when the program ends.
var temporary struct {
	sync.Mutex
	paths map[string]bool
}

func keep(path string) {
	temporary.Lock()
	defer temporary.Unlock()
	if temporary.paths == nil {
		temporary.paths = map[string]bool{}
	}
	temporary.paths[path] = true
}

// Remove removes a temporary file, or a folder with all that is in it. It is no
// error if it is gone already.
func Remove(path string) {
	forget(path)
	forgetRead(path)
	os.RemoveAll(path) // there is nobody to tell that a temporary file stays
}

func forget(path string) {
	temporary.Lock()
	defer temporary.Unlock()
	delete(temporary.paths, path)
}

// Folder makes a temporary folder, which Remove and RemoveAll take away.
func Folder(pattern string) (string, error) {
	path, err := os.MkdirTemp("", pattern)
	if err == nil {
		keep(path)
	}
	return path, err
}

// RemoveAll removes every temporary file and folder that is left. The program
// calls it last, also when it is told to stop at once.
func RemoveAll() {
	temporary.Lock()
	defer temporary.Unlock()
	for path := range temporary.paths {
		os.RemoveAll(path) // there is nobody to tell
	}
	temporary.paths = nil
}
