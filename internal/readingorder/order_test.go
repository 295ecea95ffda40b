package readingorder

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// small is a package of three files: ask.go calls answer.go, which works on the type
// of ask.go and calls a method in ask.go and one in words.go.
var small = map[string]string{
	"go.mod": "module small\n\ngo 1.24\n",
	"ask.go": `// Package small answers.
//
// # Reading order
//
//	question  ask.go
//	answer    answer.go
//	          words.go
package small

import "strings"

type Question struct{ text string }

func Ask(q Question) string { return q.answer() }

func (q Question) long() bool { return len(strings.TrimSpace(q.text)) > 10 }
`,
	"answer.go": `package small

func (q Question) answer() string {
	var s sayer = word(q.text)
	if q.long() {
		return s.say()
	}
	return q.text
}
`,
	"words.go": `package small

type sayer interface{ say() string }

type word string

func (w word) say() string { return list[string]{{string(w)}}[0].of }

type list[T any] []struct{ of T }
`,
}

// written puts a package into a folder, with files replaced or added.
func written(t *testing.T, changed map[string]string) string {
	t.Helper()
	dir := t.TempDir()
	for _, files := range []map[string]string{small, changed} {
		for name, text := range files {
			if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
	return dir
}

func TestACallOfWhatStandsAboveClimbs(t *testing.T) {
	o, err := Read(written(t, nil))
	if err != nil {
		t.Fatal(err)
	}
	if want := []Reference{{"answer.go", "ask.go", "Question.long", true}}; !slices.Equal(o.Climbs(), want) {
		t.Errorf("climbs %v, expected %v", o.Climbs(), want)
	}
	var up []string
	for _, r := range o.Upward() {
		up = append(up, r.Name)
	}
	if want := []string{"Question", "Question.long", "text"}; !slices.Equal(up, want) {
		t.Errorf("upward %v, expected %v", up, want)
	}
	if want := []string{"ask.go -> answer.go", "answer.go -> ask.go", "answer.go -> words.go"}; !slices.Equal(Arrows(o.References), want) {
		t.Errorf("arrows %v, expected %v", Arrows(o.References), want)
	}
	if b := o.Between(); b[0][1] != 1 || b[1][0] != 3 {
		t.Errorf("between the groups %v", b)
	}
}

func TestEveryFileIsNamedOnce(t *testing.T) {
	for want, changed := range map[string]map[string]string{
		"lacks more.go":                         {"more.go": "package small\n"},
		"lacks far.go":                          {"far.go": "//go:build never\n\npackage small\n"},
		"names answer.go twice":                 {"ask.go": strings.Replace(small["ask.go"], "words.go", "answer.go words.go", 1)},
		"names gone.go, which is not there":     {"ask.go": strings.Replace(small["ask.go"], "words.go", "words.go gone.go", 1)},
		"the reading order lacks ask.go\nthe r": {"ask.go": strings.Replace(small["ask.go"], "# Reading", "# Other", 1)},
	} {
		if _, err := Read(written(t, changed)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("expected an error with %q, have %v", want, err)
		}
	}
	if _, err := Read(written(t, map[string]string{"more_test.go": "package small\n"})); err != nil {
		t.Errorf("a test need not be named: %v", err)
	}
}

// Where the groups are steps, a step may use what those before it made, and ask.go calls
// what is declared in a later one.
func TestStepsUseWhatWasReadBefore(t *testing.T) {
	o, err := Read(written(t, nil))
	if err != nil {
		t.Fatal(err)
	}
	unread := o.Unread()
	if len(unread) != 1 || unread[0] != (Reference{From: "ask.go", To: "answer.go", Name: "Question.answer", Call: true}) {
		t.Errorf("%v, want the call of answer alone", unread)
	}
}
