package main

import (
	"bytes"
	"context"
	"flag"
	"os"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write the demo's output into the README")

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
