package main

import (
	"bufio"
	"bytes"
	"context"
	"io"
	"mime/multipart"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"
	"time"

	"swapworth/internal/parallel"
)

// A page that is told to stop while an upload lies in its folder leaves nothing.
func TestTemporaryFoldersGoWhenThePageIsToldToStop(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("no SIGTERM")
	}
	folder := t.TempDir()
	cmd := exec.Command(os.Args[0])
	cmd.Args = []string{"swapworth", "serve"} // see TestMain
	cmd.Env = append(os.Environ(), "TMPDIR="+folder)
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	defer cmd.Process.Kill()
	line, err := bufio.NewReader(out).ReadString('\n')
	if err != nil {
		t.Fatal(err)
	}
	address := strings.Fields(line)[1]

	// Half a form: the page waits for the rest.
	var head bytes.Buffer
	w := multipart.NewWriter(&head)
	if p, err := w.CreateFormFile("old", "old.stl"); err == nil {
		p.Write(make([]byte, 1000))
	}
	rest, sends := io.Pipe()
	defer sends.Close()
	ctx, cancel := context.WithCancel(t.Context())
	defer cancel()
	r, err := http.NewRequestWithContext(ctx, http.MethodPost, address+"/compare", io.MultiReader(&head, rest))
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Content-Type", w.FormDataContentType())
	go http.DefaultClient.Do(r)
	if !soon(func() bool {
		left, _ := filepath.Glob(filepath.Join(folder, "swapworth-page-*"))
		return len(left) == 1
	}) {
		t.Fatal("the upload made no folder")
	}
	if err := cmd.Process.Signal(syscall.SIGTERM); err != nil {
		t.Fatal(err)
	}
	ended := make(chan bool)
	go func() { cmd.Wait(); ended <- true }()
	select {
	case <-ended:
	case <-time.After(3 * patience):
		t.Fatal("the page did not stop")
	}
	if left, _ := os.ReadDir(folder); len(left) != 0 {
		t.Errorf("left behind: %v", left)
	}
}

func soon(is func() bool) bool {
	for range 200 {
		if is() {
			return true
		}
		time.Sleep(25 * time.Millisecond)
	}
	return false
}

func TestAFaultIsOneLineAndExitOne(t *testing.T) {
	for name, broken := range map[string]func(){
		"in the command":      func() { panic("index out of range") },
		"on another core":     func() { parallel.Each(2, func(i int) { panicIf(i == 1) }) },
		"an error as a value": func() { panic(io.ErrUnexpectedEOF) },
	} {
		var stderr bytes.Buffer
		code := guarded(&stderr, func() int { broken(); return 0 })
		text := stderr.String()
		if code != 1 || strings.Count(text, "\n") != 1 || !strings.HasPrefix(text, "swapworth: a fault of this program, not of your input: ") ||
			!strings.Contains(text, "please report it") || !strings.Contains(text, " in cmd/swapworth.") {
			t.Errorf("%s: exit %d, %q", name, code, text)
		}
	}
}

func panicIf(yes bool) {
	if yes {
		panic("aside")
	}
}
