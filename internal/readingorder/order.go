// Package readingorder holds a package to the order in which its files read from
// the top down. Tests alone import it.
//
// The package comment names every file once, under a heading, in indented lines of
// a group's name and its files:
//
//	# Reading order
//
//	question  problem.go result.go
//	answer    solve.go
//
// Who reads so has met the types that a file works on, in the file or above it, and
// finds below it how the functions work that it calls. A call of a function or method
// that is declared in an earlier file makes the reader climb back: it runs upward.
package readingorder

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"go/ast"
	"go/token"
	"go/types"
	"io"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// Group is a line of the order: a name and its files.
type Group struct {
	Name  string
	Files []string
}

// Reference says that a file names something declared in another file of the
// package: Name is "name", or "Type.name" for a method.
type Reference struct {
	From, To string
	Name     string
	Call     bool // of a function or method, not of a type, field, constant or variable
}

// Order is how the files of a package read, and what they name of each other.
type Order struct {
	Groups     []Group
	References []Reference // each once, in the order of Groups
}

// Read measures the package in a directory.
func Read(dir string) (*Order, error) {
	s, err := Load(dir)
	if err != nil {
		return nil, err
	}
	o := &Order{}
	names := slices.Sorted(maps.Keys(s.Files))
	for _, name := range names {
		if f := s.Files[name]; f.Doc != nil && o.Groups == nil {
			o.Groups = groupsOf(f.Doc.Text())
		}
	}
	if err := o.names(slices.Concat(names, s.Ignored)); err != nil {
		return nil, fmt.Errorf("%s: %w", dir, err)
	}
	o.collect(s.Set, s.Package, s.Info.Uses)
	return o, nil
}

// groupsOf reads the indented lines below the heading of the order. A line that
// begins with a file goes on with the group before.
func groupsOf(doc string) (out []Group) {
	_, after, found := strings.Cut(doc, "# Reading order\n")
	if !found {
		return nil
	}
	for line := range strings.Lines(after) {
		if strings.HasPrefix(line, "# ") {
			break
		}
		if !strings.HasPrefix(line, "\t") && !strings.HasPrefix(line, "  ") {
			continue
		}
		words := strings.Fields(line)
		n := slices.IndexFunc(words, func(w string) bool { return strings.HasSuffix(w, ".go") })
		if n < 0 {
			continue
		}
		if n > 0 || out == nil {
			out = append(out, Group{Name: strings.Join(words[:n], " ")})
		}
		last := &out[len(out)-1]
		last.Files = append(last.Files, words[n:]...)
	}
	return out
}

// names tells which files the order lacks, has twice or has without their being there.
// doc.go, which has nothing but the comment, need not be named.
func (o *Order) names(files []string) error {
	seen := map[string]bool{"doc.go": true}
	var wrong []error
	for _, g := range o.Groups {
		for _, f := range g.Files {
			if seen[f] {
				wrong = append(wrong, fmt.Errorf("the reading order names %s twice", f))
			}
			if !slices.Contains(files, f) {
				wrong = append(wrong, fmt.Errorf("the reading order names %s, which is not there", f))
			}
			seen[f] = true
		}
	}
	for _, f := range files {
		if !seen[f] && !strings.HasSuffix(f, "_test.go") {
			wrong = append(wrong, fmt.Errorf("the reading order lacks %s", f))
		}
	}
	return errors.Join(wrong...)
}

// rank numbers the files from the top.
func (o *Order) rank() map[string]int {
	rank := map[string]int{}
	for _, g := range o.Groups {
		for _, f := range g.Files {
			rank[f] = len(rank) + 1
		}
	}
	return rank
}

// collect finds the references between files.
func (o *Order) collect(fset *token.FileSet, pkg *types.Package, uses map[*ast.Ident]types.Object) {
	rank := o.rank()
	seen := map[Reference]bool{}
	for id, obj := range uses {
		if obj.Pkg() != pkg || !reachable(obj, pkg) {
			continue
		}
		if f, ok := obj.(*types.Func); ok {
			obj = f.Origin()
		}
		if v, ok := obj.(*types.Var); ok {
			obj = v.Origin()
		}
		r := Reference{
			From: filepath.Base(fset.Position(id.Pos()).Filename),
			To:   filepath.Base(fset.Position(obj.Pos()).Filename),
			Name: nameOf(obj),
			Call: isCall(obj),
		}
		if r.From != r.To && !seen[r] {
			seen[r] = true
			o.References = append(o.References, r)
		}
	}
	slices.SortFunc(o.References, func(a, b Reference) int {
		if d := rank[a.From] - rank[b.From]; d != 0 {
			return d
		}
		if d := rank[a.To] - rank[b.To]; d != 0 {
			return d
		}
		return strings.Compare(a.Name, b.Name)
	})
}

// reachable reports whether another file can name an object: everything but what is
// declared inside a function.
func reachable(obj types.Object, pkg *types.Package) bool {
	if v, ok := obj.(*types.Var); ok && v.IsField() {
		return true
	}
	if f, ok := obj.(*types.Func); ok && f.Signature().Recv() != nil {
		return true
	}
	return obj.Parent() == pkg.Scope()
}

// nameOf is the name of an object, with the type before that of a method.
func nameOf(obj types.Object) string {
	f, ok := obj.(*types.Func)
	if !ok || f.Signature().Recv() == nil {
		return obj.Name()
	}
	t := f.Signature().Recv().Type()
	if p, ok := t.(*types.Pointer); ok {
		t = p.Elem()
	}
	if n, ok := t.(*types.Named); ok {
		return n.Obj().Name() + "." + f.Name()
	}
	return f.Name()
}

// isCall reports whether an object is a function or a method with a body. A method of
// an interface has none to climb back to.
func isCall(obj types.Object) bool {
	f, ok := obj.(*types.Func)
	return ok && (f.Signature().Recv() == nil || !types.IsInterface(f.Signature().Recv().Type()))
}

// Upward returns the references to something in an earlier file.
func (o *Order) Upward() (out []Reference) {
	rank := o.rank()
	for _, r := range o.References {
		if rank[r.To] < rank[r.From] {
			out = append(out, r)
		}
	}
	return out
}

// Climbs returns the calls that run upward.
func (o *Order) Climbs() []Reference {
	return slices.DeleteFunc(o.Upward(), func(r Reference) bool { return !r.Call })
}

// Arrows returns the pairs of files among references, as "from.go -> to.go".
func Arrows(of []Reference) (out []string) {
	for _, r := range of {
		if arrow := r.From + " -> " + r.To; !slices.Contains(out, arrow) {
			out = append(out, arrow)
		}
	}
	return out
}

// Hold fails a test when more than so many calls run upward in the package under test,
// or when its comment does not name every file once. With -v it tells what is called
// between the groups.
func Hold(t *testing.T, most int) {
	t.Helper()
	o, err := Read(".")
	if err != nil {
		t.Fatal(err)
	}
	climbs := o.Climbs()
	t.Logf("%d arrows between %d files with %d references; to what stands above %d arrows with %d references, %d of them calls",
		len(Arrows(o.References)), len(o.rank()), len(o.References), len(Arrows(o.Upward())), len(o.Upward()), len(climbs))
	for i, counts := range o.Between() {
		t.Logf("%-12s %4d", o.Groups[i].Name, counts)
	}
	if len(climbs) <= most {
		return
	}
	for _, r := range climbs {
		t.Logf("%s calls %s in %s, which is read before it", r.From, r.Name, r.To)
	}
	t.Errorf("%d calls run upward, %d at most are allowed: move a function below the file that calls it last", len(climbs), most)
}

// Between counts the references from each group to each other one.
func (o *Order) Between() [][]int {
	group := map[string]int{}
	for i, g := range o.Groups {
		for _, f := range g.Files {
			group[f] = i
		}
	}
	out := make([][]int, len(o.Groups))
	for i := range out {
		out[i] = make([]int, len(o.Groups))
	}
	for _, r := range o.References {
		out[group[r.From]][group[r.To]]++
	}
	return out
}

// listing is what go list says of a package and of all it imports.
type listing struct {
	ImportPath     string
	GoFiles        []string
	IgnoredGoFiles []string // those for other processors
	Export         string
	DepOnly        bool

	exports map[string]string
}

// listed asks go list for the files of a package and for the compiled types of those
// that it imports.
func listed(dir string) (*listing, error) {
	cmd := exec.Command("go", "list", "-export", "-deps", "-json=ImportPath,GoFiles,IgnoredGoFiles,Export,DepOnly", ".")
	cmd.Dir = dir
	var said bytes.Buffer
	cmd.Stderr = &said
	out, err := cmd.Output()
	if err != nil {
		return nil, fmt.Errorf("go list: %w: %s", err, said.String())
	}
	var list *listing
	exports := map[string]string{}
	for dec := json.NewDecoder(bytes.NewReader(out)); ; {
		var l listing
		if err := dec.Decode(&l); err == io.EOF {
			break
		} else if err != nil {
			return nil, err
		}
		exports[l.ImportPath] = l.Export
		if !l.DepOnly {
			list = &l
		}
	}
	list.exports = exports
	return list, nil
}

// open reads the compiled types of a package.
func (l *listing) open(path string) (io.ReadCloser, error) {
	return os.Open(l.exports[path])
}
