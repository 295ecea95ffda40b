package swap

import (
	"fmt"
	"go/ast"
	"go/token"
	"go/types"
	"slices"
	"strings"
	"testing"

	"swapworth/internal/readingorder"
)

const (
	// mostMethods bounds what one type answers: more, and it is passed everywhere.
	mostMethods = 15
	// mostBack bounds how often somebody who follows Decide has to go back to an earlier
	// step for a function that was not met there.
	mostBack = 5
)

// steps are the values that a step makes and nobody changes afterwards.
var steps = []string{"measured", "placed", "responses", "refined", "judged", "answer", "shown", "decision", "price", "shape", "part", "placedPart", "tolerance", "laid", "loadings"}

func packageSource(t *testing.T) *readingorder.Source {
	t.Helper()
	s, err := readingorder.Load(".")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// owners are the structs of the package by their fields.
func owners(s *readingorder.Source) map[types.Object]types.Object {
	out := map[types.Object]types.Object{}
	for _, name := range s.Package.Scope().Names() {
		one, ok := s.Package.Scope().Lookup(name).(*types.TypeName)
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

// A step names nothing that a later one declares, and reads from the top down itself.
func TestStepsAreReadInTheirOrder(t *testing.T) { readingorder.HoldSteps(t, 0) }

func TestNoTypeAnswersEverything(t *testing.T) {
	s := packageSource(t)
	for _, name := range s.Package.Scope().Names() {
		one, ok := s.Package.Scope().Lookup(name).(*types.TypeName)
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
	structs := owners(s)
	for _, name := range steps {
		if s.Package.Scope().Lookup(name) == nil {
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
				if of := structs[s.Info.Uses[e.Sel]]; of != nil && slices.Contains(steps, of.Name()) {
					t.Errorf("%s: %s of %s is changed", s.Set.Position(e.Pos()), e.Sel.Name, of.Name())
				}
				if _, elsewhere := s.Info.TypeOf(e.X).(*types.Pointer); elsewhere {
					return
				}
				left = e.X
				continue
			}
			return
		}
	}
	for _, file := range s.Files {
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
	order, err := readingorder.Read(".")
	if err != nil {
		t.Fatal(err)
	}
	step := map[string]int{}
	for n, group := range order.Groups {
		for _, file := range group.Files {
			step[file] = n
		}
	}
	const forAll = 2 // the groups that every step uses: tools and the case
	bodies := map[types.Object]*ast.FuncDecl{}
	for _, file := range s.Files {
		for _, d := range file.Decls {
			if f, ok := d.(*ast.FuncDecl); ok {
				bodies[s.Info.Defs[f.Name]] = f
			}
		}
	}
	read := map[types.Object]bool{}
	var back []string
	var follow func(f types.Object)
	follow = func(f types.Object) {
		read[f] = true
		here := s.File(f.Pos())
		ast.Inspect(bodies[f], func(n ast.Node) bool {
			id, ok := n.(*ast.Ident)
			if !ok {
				return true
			}
			next, ok := s.Info.Uses[id].(*types.Func)
			if !ok || bodies[next.Origin()] == nil || read[next.Origin()] {
				return true
			}
			there := s.File(next.Origin().Pos())
			if step[there] >= forAll && step[there] < step[here] && step[here] != step["decide.go"] {
				back = append(back, fmt.Sprintf("%s of %s, first called in %s", next.Name(), there, here))
			}
			follow(next.Origin())
			return true
		})
	}
	follow(s.Package.Scope().Lookup("Decide"))
	t.Logf("%d functions are read, %d times back in an earlier step", len(read), len(back))
	if len(read) < 200 {
		t.Errorf("only %d functions are reached from Decide", len(read))
	}
	if len(back) > mostBack {
		t.Errorf("%d times back, at most %d:\n%s", len(back), mostBack, strings.Join(back, "\n"))
	}
}
