package main

import (
	"bytes"
	"context"
	"io"
	"net/http"
	"os"
	"regexp"
	"strings"
	"testing"
)

// docs/page.md shows a form sent by hand and the command that asks the same: the note
// that the page saves as JSON is what that command prints, but for the folder of the
// files, which a browser does not tell.
func TestTheFormInTheDocsIsAnsweredLikeItsCommand(t *testing.T) {
	t.Chdir("../..")
	text, err := os.ReadFile("docs/page.md")
	if err != nil {
		t.Fatal(err)
	}
	command := workedExample.FindStringSubmatch(string(text))
	if command == nil || !strings.Contains(string(text), "/compare\n") {
		t.Fatal("docs/page.md shows no form sent to /compare, or no command")
	}
	var files [][2]string
	words := map[string]string{}
	for _, m := range regexp.MustCompile(`-F ([a-z-]+)=(@?)(\S+)`).FindAllStringSubmatch(string(text), -1) {
		if m[2] == "@" {
			files = append(files, [2]string{m[1], m[3]})
		} else {
			words[m[1]] = m[3]
		}
	}
	url := local(t)
	answer := sent(t, url+"/compare", files, words)
	link := regexp.MustCompile(`/note/[A-Z0-9]+/note\.json`).FindString(answer)
	res, err := http.Get(url + link)
	if err != nil {
		t.Fatal(err)
	}
	defer res.Body.Close()
	saved, err := io.ReadAll(res.Body)
	if err != nil {
		t.Fatal(err)
	}
	var printed, said bytes.Buffer
	if code := run(context.Background(), append(strings.Fields(command[1]), "--format", "json"), &printed, &said); code != 0 {
		t.Fatalf("%s: exit %d: %s", command[1], code, said.String())
	}
	want := strings.ReplaceAll(printed.String(), "testdata/reference/", "")
	if string(saved) != want {
		t.Errorf("the page answers\n%s\n%s prints\n%s", saved, command[1], want)
	}
}
