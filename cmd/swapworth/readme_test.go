package main

import (
	"bytes"
	"context"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write the demo's output into the README, its figures into docs/figures")

// The README shows what its demo command prints, to the letter.
func TestTheReadmeShowsTheRealOutputOfItsDemo(t *testing.T) {
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	_, after, _ := strings.Cut(string(text), "    go run ./cmd/swapworth ")
	command, rest, _ := strings.Cut(after, "\n")
	_, rest, _ = strings.Cut(rest, "```\n")
	shown, _, ok := strings.Cut(rest, "```")
	if !ok {
		t.Fatal("no output block after the demo command")
	}
	t.Chdir("../..")
	var stdout, stderr bytes.Buffer
	if code := run(context.Background(), strings.Fields(command), &stdout, &stderr); code != 0 {
		t.Fatalf("exit %d: %s", code, stderr.String())
	}
	if *update {
		writeFigures(t, strings.Fields(command))
	}
	if *update && stdout.String() != shown {
		changed := strings.Replace(string(text), "```\n"+shown+"```", "```\n"+stdout.String()+"```", 1)
		if err := os.WriteFile("README.md", []byte(changed), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if got := stdout.String(); got != shown {
		t.Errorf("the README shows\n%s\nbut the demo prints\n%s", shown, got)
	}
}

// writeFigures puts the demo's figures that docs/start.md shows beside it.
func writeFigures(t *testing.T, demo []string) {
	t.Helper()
	from := t.TempDir()
	var said bytes.Buffer
	if code := run(context.Background(), append(demo, "--figures", from), &said, &said); code != 0 {
		t.Fatalf("exit %d: %s", code, said.String())
	}
	for figure, name := range map[string]string{"*-three-views.svg": "three-views.svg", "*-stress-*.svg": "stress.svg"} {
		found, err := filepath.Glob(filepath.Join(from, figure))
		if err != nil || len(found) != 1 {
			t.Fatal(figure, found, err)
		}
		text, err := os.ReadFile(found[0])
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join("docs", "figures", name), text, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}
