package swap

import (
	"fmt"
	"go/ast"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
)

const (
	// mostMethods bounds what one type answers: more, and it is passed everywhere.
	mostMethods = 15
	// mostUpward bounds how often somebody who reads down has to climb back.
	mostUpward = 0
	// mostBack bounds how often somebody who follows Decide has to go back to an earlier
	// step for a function that was not met there.
	mostBack = 5
)

// steps are the values that a step makes and nobody changes afterwards.
var steps = []string{"measured", "placed", "responses", "refined", "judged", "answer", "shown", "decision", "price", "shape", "part", "placedPart", "tolerance", "laid", "loadings"}

// listing is the package without its tests, with what every name in it stands for.
type listing struct {
	set   *token.FileSet
	files map[string]*ast.File
	info  *types.Info
	pkg   *types.Package
}

// typed reads the package's source; the packages it imports come compiled.
var typed = sync.OnceValues(func() (listing, error) {
	s := listing{set: token.NewFileSet(), files: map[string]*ast.File{}, info: &types.Info{Defs: map[*ast.Ident]types.Object{}, Uses: map[*ast.Ident]types.Object{}, Types: map[ast.Expr]types.TypeAndValue{}}}
	out, err := exec.Command("go", "list", "-deps", "-export", "-f", "{{if .Export}}{{.ImportPath}} {{.Export}}{{end}}", ".").Output()
	if err != nil {
		return s, fmt.Errorf("go list: %w", err)
	}
	compiled := map[string]string{}
	for line := range strings.Lines(string(out)) {
		if path, file, ok := strings.Cut(strings.TrimSpace(line), " "); ok {
			compiled[path] = file
		}
	}
	names, err := filepath.Glob("*.go")
	if err != nil {
		return s, err
	}
	for _, name := range names {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		if s.files[name], err = parser.ParseFile(s.set, name, nil, parser.ParseComments); err != nil {
			return s, err
		}
	}
	conf := types.Config{Importer: importer.ForCompiler(s.set, "gc", func(path string) (io.ReadCloser, error) { return os.Open(compiled[path]) })}
	s.pkg, err = conf.Check("swapworth/swap", s.set, slices.Collect(maps.Values(s.files)), s.info)
	return s, err
})

func packageSource(t *testing.T) listing {
	t.Helper()
	s, err := typed()
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func (s listing) fileOf(at token.Pos) string { return filepath.Base(s.set.Position(at).Filename) }

// readingOrder are the lines of the package comment that list files.
func (s listing) readingOrder() [][]string {
	_, list, _ := strings.Cut(s.files["doc.go"].Doc.Text(), "# Reading order")
	var lines [][]string
	for line := range strings.Lines(list) {
		indented := strings.HasPrefix(line, "\t")
		var files []string
		for _, word := range strings.Fields(line) {
			if strings.HasSuffix(word, ".go") {
				files = append(files, word)
			}
		}
		switch {
		case !indented || len(files) == 0:
		case strings.HasPrefix(line, "\t "): // goes on
			lines[len(lines)-1] = append(lines[len(lines)-1], files...)
		default:
			lines = append(lines, files)
		}
	}
	return lines
}

// owners are the structs of the package by their fields.
func (s listing) owners() map[types.Object]types.Object {
	out := map[types.Object]types.Object{}
	for _, name := range s.pkg.Scope().Names() {
		one, ok := s.pkg.Scope().Lookup(name).(*types.TypeName)
		if !ok {
			continue
		}
		if fields, ok := one.Type().Underlying().(*types.Struct); ok {
			for i := range fields.NumFields() {
				out[fields.Field(i)] = one
			}
		}
	}
	return out
}

// declared is what an identifier uses of the package: a name that a file declares, a
// method, or of a field the struct that has it; nil for anything else.
func (s listing) declared(used types.Object, owners map[types.Object]types.Object) types.Object {
	switch o := used.(type) {
	case *types.Func:
		if o = o.Origin(); o.Signature().Recv() != nil && o.Pkg() == s.pkg {
			return o
		}
		used = o
	case *types.Var:
		if used = o.Origin(); owners[used] != nil {
			return owners[used]
		}
	}
	if used.Pkg() != s.pkg || used.Parent() != s.pkg.Scope() {
		return nil
	}
	return used
}

// Somebody who reads from the top down meets nothing that is declared further down in an
// earlier step, or further up in the same one.
func TestNobodyClimbsBackWhileReadingDown(t *testing.T) {
	s := packageSource(t)
	type place struct{ line, in int }
	at := map[string]place{"doc.go": {}}
	for line, files := range s.readingOrder() {
		for in, file := range files {
			if _, twice := at[file]; twice || s.files[file] == nil {
				t.Errorf("%s is listed twice, or is no file", file)
			}
			at[file] = place{line + 1, in}
		}
	}
	for file := range s.files {
		if _, listed := at[file]; !listed {
			t.Errorf("doc.go does not say when to read %s", file)
		}
	}
	owners, upward, all := s.owners(), map[string]bool{}, map[string]bool{}
	for id, used := range s.info.Uses {
		o := s.declared(used, owners)
		if o == nil {
			continue
		}
		from, to := s.fileOf(id.Pos()), s.fileOf(o.Pos())
		if from == to {
			continue
		}
		use := fmt.Sprintf("%s uses %s of %s", from, o.Name(), to)
		all[use] = true
		if a, b := at[from], at[to]; b.line > a.line || b.line == a.line && b.in < a.in {
			upward[use] = true
		}
	}
	t.Logf("%d names are used across files, %d of them upward", len(all), len(upward))
	if len(all) < 500 {
		t.Errorf("%d names used across %d files: the count sees too little", len(all), len(s.files))
	}
	if len(upward) > mostUpward {
		t.Errorf("%d upward, at most %d:\n%s", len(upward), mostUpward, strings.Join(slices.Sorted(maps.Keys(upward)), "\n"))
	}
}

func TestNoTypeAnswersEverything(t *testing.T) {
	s := packageSource(t)
	for _, name := range s.pkg.Scope().Names() {
		one, ok := s.pkg.Scope().Lookup(name).(*types.TypeName)
		if !ok || one.IsAlias() {
			continue
		}
		if n := one.Type().(*types.Named).NumMethods(); n > mostMethods {
			t.Errorf("%s has %d methods, at most %d", name, n, mostMethods)
		}
	}
}

// What a step made is put together once and read from then on.
func TestNobodyChangesWhatAStepMade(t *testing.T) {
	s := packageSource(t)
	owners := s.owners()
	for _, name := range steps {
		if s.pkg.Scope().Lookup(name) == nil {
			t.Errorf("there is no %s", name)
		}
	}
	changed := func(left ast.Expr) {
		for {
			switch e := left.(type) {
			case *ast.IndexExpr:
				left = e.X
				continue
			case *ast.StarExpr:
				left = e.X
				continue
			case *ast.ParenExpr:
				left = e.X
				continue
			case *ast.SelectorExpr:
				if of := owners[s.info.Uses[e.Sel]]; of != nil && slices.Contains(steps, of.Name()) {
					t.Errorf("%s: %s of %s is changed", s.set.Position(e.Pos()), e.Sel.Name, of.Name())
				}
				if _, elsewhere := s.info.TypeOf(e.X).(*types.Pointer); elsewhere {
					return
				}
				left = e.X
				continue
			}
			return
		}
	}
	for _, file := range s.files {
		ast.Inspect(file, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.AssignStmt:
				for _, left := range n.Lhs {
					changed(left)
				}
			case *ast.IncDecStmt:
				changed(n.X)
			case *ast.UnaryExpr:
				if n.Op == token.AND {
					changed(n.X)
				}
			}
			return true
		})
	}
}

// Somebody who begins with Decide and reads every function where it is first called,
// deepest first, goes down: a function that was not read yet is hardly ever in an earlier
// step than the one that calls it.
func TestDecideIsFollowedDownwards(t *testing.T) {
	s := packageSource(t)
	step := map[string]int{}
	for line, files := range s.readingOrder() {
		for _, file := range files {
			step[file] = line
		}
	}
	const forAll = 2 // the lines of what every step uses: tools and the case
	bodies := map[types.Object]*ast.FuncDecl{}
	for _, file := range s.files {
		for _, d := range file.Decls {
			if f, ok := d.(*ast.FuncDecl); ok {
				bodies[s.info.Defs[f.Name]] = f
			}
		}
	}
	read := map[types.Object]bool{}
	var back []string
	var follow func(f types.Object)
	follow = func(f types.Object) {
		read[f] = true
		here := s.fileOf(f.Pos())
		ast.Inspect(bodies[f], func(n ast.Node) bool {
			id, ok := n.(*ast.Ident)
			if !ok {
				return true
			}
			next, ok := s.info.Uses[id].(*types.Func)
			if !ok || bodies[next.Origin()] == nil || read[next.Origin()] {
				return true
			}
			there := s.fileOf(next.Origin().Pos())
			if step[there] >= forAll && step[there] < step[here] && step[here] != step["decide.go"] {
				back = append(back, fmt.Sprintf("%s of %s, first called in %s", next.Name(), there, here))
			}
			follow(next.Origin())
			return true
		})
	}
	follow(s.pkg.Scope().Lookup("Decide"))
	t.Logf("%d functions are read, %d times back in an earlier step", len(read), len(back))
	if len(read) < 200 {
		t.Errorf("only %d functions are reached from Decide", len(read))
	}
	if len(back) > mostBack {
		t.Errorf("%d times back, at most %d:\n%s", len(back), mostBack, strings.Join(back, "\n"))
	}
}
