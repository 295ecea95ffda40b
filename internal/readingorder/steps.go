package readingorder

import (
	"slices"
	"testing"
)

// Unread returns the references that somebody meets who reads a package whose groups are
// steps, each working on what those before it made: in the order of the groups, and in
// each from the top down. They are to something in a later group, or in an earlier file of
// the same.
func (o *Order) Unread() []Reference {
	type place struct{ group, file int }
	at := map[string]place{}
	for i, g := range o.Groups {
		for k, f := range g.Files {
			at[f] = place{i, k}
		}
	}
	return slices.DeleteFunc(slices.Clone(o.References), func(r Reference) bool {
		from, to := at[r.From], at[r.To]
		return to.group < from.group || to.group == from.group && to.file > from.file
	})
}

// HoldSteps fails a test when more than so many references of the package under test are
// to something that was not read yet in the order of its steps, or when its comment does
// not name every file once.
func HoldSteps(t *testing.T, most int) {
	t.Helper()
	o, err := Read(".")
	if err != nil {
		t.Fatal(err)
	}
	unread := o.Unread()
	t.Logf("%d references between files, %d of them to what was not read yet", len(o.References), len(unread))
	if len(unread) <= most {
		return
	}
	for _, r := range unread {
		t.Logf("%s names %s of %s, which is read after it", r.From, r.Name, r.To)
	}
	t.Errorf("%d references to what was not read yet, %d at most are allowed", len(unread), most)
}
