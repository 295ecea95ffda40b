//go:build unix

package files

import (
	"io"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

func TestAPipeIsWrittenToAsItIs(t *testing.T) {
	path := filepath.Join(t.TempDir(), "pipe")
	if err := syscall.Mkfifo(path, 0o600); err != nil {
		t.Skip(err)
	}
	if err := Write(path, true, say("x")); err == nil || !strings.Contains(err.Error(), "nobody reads") {
		t.Errorf("without a reader: %v", err)
	}
	got := make(chan string)
	reader, err := os.OpenFile(path, os.O_RDONLY|syscall.O_NONBLOCK, 0)
	if err != nil {
		t.Fatal(err)
	}
	go func() {
		b, _ := io.ReadAll(reader)
		got <- string(b)
	}()
	if err := Write(path, false, say("through")); err != nil {
		t.Fatal(err)
	}
	if text := <-got; text != "through" {
		t.Errorf("read %q", text)
	}
	if info, err := os.Lstat(path); err != nil || info.Mode()&os.ModeNamedPipe == 0 {
		t.Error("the pipe is no pipe any more")
	}
}
