package files

import (
	"io"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"
)

func say(text string) func(io.Writer) error {
	return func(w io.Writer) error {
		_, err := io.WriteString(w, text)
		return err
	}
}

func put(t *testing.T, path, text string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

func holds(t *testing.T, path, want string) {
	t.Helper()
	if b, err := os.ReadFile(path); err != nil || string(b) != want {
		t.Errorf("%s holds %q, %v; want %q", path, b, err, want)
	}
}

func TestAFileThatWasReadIsReplacedUnderNoName(t *testing.T) {
	folder := t.TempDir()
	in := func(name string) string { return filepath.Join(folder, name) }
	put(t, in("part.stl"), "part")
	if err := os.Link(in("part.stl"), in("hard.stl")); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink("part.stl", in("soft.stl")); err != nil {
		t.Fatal(err)
	}
	f, err := Open(in("part.stl"))
	if err != nil {
		t.Fatal(err)
	}
	f.Close()
	for _, name := range []string{"part.stl", "hard.stl", "soft.stl", filepath.Join("..", filepath.Base(folder), "part.stl")} {
		err := Write(in(name), true, say("other"))
		if err == nil || !strings.Contains(err.Error(), "was read") {
			t.Errorf("%s: %v, want an error that says it was read", name, err)
		}
		if Check(in(name), true) == nil {
			t.Errorf("%s: the check lets it through", name)
		}
	}
	holds(t, in("part.stl"), "part")
	put(t, in("other.stl"), "old")
	if err := Write(in("other.stl"), true, say("new")); err != nil {
		t.Error(err)
	}
	holds(t, in("other.stl"), "new")
}

func TestASymbolicLinkIsFollowed(t *testing.T) {
	folder := t.TempDir()
	in := func(name string) string { return filepath.Join(folder, name) }
	put(t, in("note.md"), "old")
	for link, to := range map[string]string{"link.md": "note.md", "far.md": "link.md", "empty.md": "not-yet.md", "circle.md": "circle.md"} {
		if err := os.Symlink(to, in(link)); err != nil {
			t.Fatal(err)
		}
	}
	if err := Write(in("far.md"), false, say("new")); err == nil || !strings.Contains(err.Error(), "--overwrite") {
		t.Errorf("%v, want an error that names --overwrite", err)
	}
	if err := Write(in("far.md"), true, say("new")); err != nil {
		t.Error(err)
	}
	if err := Write(in("empty.md"), false, say("new")); err != nil {
		t.Error(err)
	}
	holds(t, in("note.md"), "new")
	holds(t, in("not-yet.md"), "new")
	for _, link := range []string{"link.md", "far.md", "empty.md"} {
		if info, err := os.Lstat(in(link)); err != nil || info.Mode()&os.ModeSymlink == 0 {
			t.Errorf("%s is no link any more", link)
		}
	}
	if err := Write(in("circle.md"), true, say("new")); err == nil || !strings.Contains(err.Error(), "circle") {
		t.Errorf("%v, want an error that names the circle", err)
	}
}

func TestWhatIsNoFileIsNeverReplaced(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("no devices under a name")
	}
	if err := Write(os.DevNull, false, say("gone")); err != nil {
		t.Errorf("%s: %v", os.DevNull, err)
	}
	if info, err := os.Stat(os.DevNull); err != nil || info.Mode()&os.ModeCharDevice == 0 {
		t.Fatalf("%s is no device any more", os.DevNull)
	}
	folder := t.TempDir()
	if err := Write(folder, true, say("x")); err == nil || !strings.Contains(err.Error(), "is a folder") {
		t.Errorf("a folder: %v", err)
	}
}

func TestAFailedWriteLeavesTheOldFileAndNothingElse(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "note.md")
	put(t, path, "old")
	if err := Write(path, true, func(w io.Writer) error { say("half")(w); return io.ErrClosedPipe }); err != io.ErrClosedPipe {
		t.Errorf("%v", err)
	}
	holds(t, path, "old")
	if left, _ := os.ReadDir(folder); len(left) != 1 {
		t.Errorf("left behind: %v", left)
	}
}

func TestTemporaryFilesGoAtTheEnd(t *testing.T) {
	folder, err := Folder("files-test-")
	if err != nil {
		t.Fatal(err)
	}
	put(t, filepath.Join(folder, "x"), "x")
	path := filepath.Join(t.TempDir(), "note.md")
	// The program is told to stop while it writes.
	Write(path, false, func(w io.Writer) error {
		say("half")(w)
		RemoveAll()
		return io.ErrClosedPipe
	})
	if _, err := os.Stat(folder); !os.IsNotExist(err) {
		t.Errorf("the folder is left: %v", err)
	}
	if left, _ := os.ReadDir(filepath.Dir(path)); len(left) != 0 {
		t.Errorf("left behind: %v", left)
	}
}

func TestOldUnfinishedFilesAreNamed(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "a [b] folder")
	if err := os.Mkdir(folder, 0o777); err != nil {
		t.Fatal(err)
	}
	in := func(name string) string { return filepath.Join(folder, name) }
	for _, name := range []string{prefix + "OLD", ".part-123.stl", prefix + "NEW", "part.stl"} {
		put(t, in(name), "x")
	}
	for _, name := range []string{prefix + "OLD", ".part-123.stl", "part.stl"} {
		before := time.Now().Add(-time.Hour)
		if err := os.Chtimes(in(name), before, before); err != nil {
			t.Fatal(err)
		}
	}
	want := []string{in(prefix + "OLD"), in(".part-123.stl")}
	if got := Leftovers(in("note.md")); !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

func TestATextIsBoundedAndHasNoMark(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "case.toml")
	put(t, path, "\xef\xbb\xbfunit = \"mm\"")
	if text, err := Text(path, 100); err != nil || string(text) != `unit = "mm"` {
		t.Errorf("%q, %v", text, err)
	}
	if _, err := Text(path, 10); err == nil || !strings.Contains(err.Error(), "expected a text file below") {
		t.Errorf("too long: %v", err)
	}
	if runtime.GOOS == "windows" {
		return
	}
	if _, err := Text("/dev/zero", 100); err == nil || !strings.Contains(err.Error(), "is a device") {
		t.Errorf("a device: %v", err)
	}
}
