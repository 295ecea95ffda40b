//go:build unix

package main

import (
	"bytes"
	"errors"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/creack/pty"
)

// terminal is a pseudo-terminal of 80 columns with the program in it.
type terminal struct {
	t    *testing.T
	file *os.File
	done chan error

	lock sync.Mutex
	text bytes.Buffer // everything shown, without control sequences
	read int          // of text, up to what was waited for last
}

// control matches what steers a terminal and is no text.
var control = regexp.MustCompile(`\x1b\[[0-9;?]*[ -/]*[@-~]|\x1b\][^\x07\x1b]*(\x07|\x1b\\)|\x1b[=>]`)

// sit starts the program in a terminal.
func sit(t *testing.T, env []string, args ...string) *terminal {
	t.Helper()
	cmd := exec.Command("swapworth", args...)
	cmd.Env = append(os.Environ(), append([]string{"TERM=xterm", "XDG_CONFIG_HOME=" + t.TempDir()}, env...)...)
	file, err := pty.StartWithSize(cmd, &pty.Winsize{Rows: 45, Cols: 80})
	if err != nil {
		t.Skipf("no pseudo-terminal: %v", err)
	}
	s := &terminal{t: t, file: file, done: make(chan error, 1)}
	go s.watch(cmd)
	t.Cleanup(func() { cmd.Process.Kill(); file.Close() })
	return s
}

// watch gathers what is shown, and says where the cursor is when that is asked, as
// every terminal does.
func (s *terminal) watch(cmd *exec.Cmd) {
	b := make([]byte, 1<<16)
	for {
		n, err := s.file.Read(b)
		if bytes.Contains(b[:n], []byte("\x1b[6n")) {
			io.WriteString(s.file, "\x1b[1;1R")
		}
		s.lock.Lock()
		s.text.Write(control.ReplaceAll(b[:n], nil))
		s.lock.Unlock()
		if err != nil {
			break
		}
	}
	s.done <- cmd.Wait()
}

// patience of a person at the terminal, on a busy machine.
const sitting = 30 * time.Second

// wait waits until a text is shown after what was waited for before.
func (s *terminal) wait(text string) {
	s.t.Helper()
	for end := time.Now().Add(sitting); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		s.lock.Lock()
		shown := s.text.String()[s.read:]
		if i := strings.Index(shown, text); i >= 0 {
			s.read += i + len(text)
			s.lock.Unlock()
			return
		}
		s.lock.Unlock()
	}
	s.t.Fatalf("no %q is shown after\n%s", text, s.shown())
}

// shown is everything that was shown, each line once where it was painted again.
func (s *terminal) shown() string {
	s.lock.Lock()
	defer s.lock.Unlock()
	lines := strings.FieldsFunc(s.text.String(), func(c rune) bool { return c == '\n' || c == '\r' })
	for i := range lines {
		lines[i] = strings.TrimRight(lines[i], " ")
	}
	return strings.Join(slices.Compact(lines), "\n")
}

func (s *terminal) send(keys string) { io.WriteString(s.file, keys) }

// left waits for the end and returns the exit code.
func (s *terminal) left() int {
	s.t.Helper()
	select {
	case err := <-s.done:
		var exit *exec.ExitError
		if errors.As(err, &exit) {
			return exit.ExitCode()
		}
		return 0
	case <-time.After(sitting):
		s.t.Fatalf("the program goes on after\n%s", s.shown())
	}
	return -1
}

// A person at a terminal: weighs the part after a slip of the unit, does not know what
// limits it, and gets an answer and a case file that compare reads.
func TestAPersonIsAskedAndGetsACaseFile(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "slab.toml")
	s := sit(t, nil, "ask", "../../testdata/reference/slab.stl", "../../testdata/reference/slab.stl",
		"--check", "beam", "--new-material", "6061-T6", "--min-stiffness-ratio", "0.3", "-o", path)
	s.wait("So far: check first")
	s.wait("1. What does one stock part weigh, with all hardware off?")
	s.wait("Such as")
	s.send("78,5 mm\r")
	s.wait("expected a mass such as")
	s.send(strings.Repeat("\x7f", 7) + "78,5 g\r")
	s.wait("Answered: 78,5 g")
	s.wait("That turns check first into swap")
	s.wait("2. ")
	for range 12 { // the rest is not known: the enter key takes what is chosen
		s.send("\r")
		if strings.Contains(s.shown(), "was asked; ") {
			break
		}
		time.Sleep(300 * time.Millisecond)
	}
	s.wait("Everything that could turn the verdict was asked; ")
	s.wait("Verdict: swap")
	s.wait("Next step")
	s.wait("wrote ")
	if code := s.left(); code != 0 {
		t.Errorf("exit %d", code)
	}
	out, err := exec.Command("swapworth", "compare", "--case", path, "--no-machine").CombinedOutput()
	if err != nil || !strings.Contains(string(out), "Verdict: swap") {
		t.Errorf("the case file does not say what was answered: %v\n%s", err, out)
	}
	text, err := os.ReadFile(path)
	if err != nil || !strings.Contains(string(text), "weight = '78.5g'") {
		t.Errorf("the case file is %v\n%s", err, text)
	}
}

// The same without drawing, as a screen reader needs it: a drive whose controller sets the
// acceleration gains nothing from a lighter part.
func TestAPersonMayBeAskedInPlainLines(t *testing.T) {
	folder := t.TempDir()
	s := sit(t, []string{"ACCESSIBLE=1"}, "ask", "../../testdata/reference/slab.stl", "../../testdata/reference/slab.stl",
		"--check", "beam", "--old-weight", "78.5g", "--scale-resolution", "0.1g", "--new-material", "6061-T6",
		"--min-stiffness-ratio", "0.3", "--load-along", "z", "--support", "cantilever", "--load", "5N", "--moving-mass", "1kg", "--count", "1", "--max-hours", "20h")
	s.wait("1. What can the drive not go beyond")
	s.wait("1. force")
	s.wait("2. speed")
	s.wait("3. I do not know")
	s.wait("Enter a number")
	s.send("9\n")
	s.wait("Invalid")
	s.send("2\n")
	s.wait("Answered: speed")
	s.wait("Nothing is left that could turn the verdict.")
	s.wait("Verdict: keep")
	s.wait("Write the case to which file?")
	s.send(filepath.Join(folder, "note.pdf") + "\n")
	s.wait("expected a name that ends in .toml")
	s.send(filepath.Join(folder, "plain.toml") + "\n")
	s.wait("wrote ")
	if code := s.left(); code != 0 {
		t.Errorf("exit %d", code)
	}
	if text, err := os.ReadFile(filepath.Join(folder, "plain.toml")); err != nil || !strings.Contains(string(text), "drive-limited = 'speed'") {
		t.Errorf("the case file is %v\n%s", err, text)
	}
}

func TestWhoLeavesTheQuestionsLeavesNothingBehind(t *testing.T) {
	path := filepath.Join(t.TempDir(), "slab.toml")
	s := sit(t, nil, "ask", "../../testdata/reference/slab.stl", "../../testdata/reference/slab.stl", "--check", "beam",
		"--new-material", "6061-T6", "--min-stiffness-ratio", "0.3", "-o", path)
	s.wait("Such as")
	s.send("\x03")
	s.wait("stopped before the end; nothing was written")
	if code := s.left(); code != 1 {
		t.Errorf("exit %d", code)
	}
	if _, err := os.Stat(path); err == nil {
		t.Error("a case file was written")
	}
}
