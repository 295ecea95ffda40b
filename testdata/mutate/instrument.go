package main

import (
	"encoding/json"
	"fmt"
	"go/ast"
	"go/constant"
	"go/token"
	"go/types"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
)

// edit replaces part of a file.
type edit struct {
	from, to int
	text     string
}

// instrument writes the files of the package with every use of a constant times its
// variable, and returns the overlay that puts them in place of the files.
func (p *source) instrument(folder string) (overlay string, err error) {
	replace := map[string]string{}
	write := func(instead, text string) error {
		path := filepath.Join(folder, fmt.Sprint(len(replace), ".go"))
		replace[instead] = path
		return os.WriteFile(path, []byte(text), 0o644)
	}
	dir := ""
	for _, f := range p.files {
		name := p.set.Position(f.Pos()).Filename
		dir = filepath.Dir(name)
		text, err := os.ReadFile(name)
		if err != nil {
			return "", err
		}
		if edits := p.edits(f); len(edits) > 0 {
			if err := write(name, applied(string(text), edits)); err != nil {
				return "", err
			}
		}
	}
	if err := write(filepath.Join(dir, "mutants_of_this_run.go"), p.variables()); err != nil {
		return "", err
	}
	text, err := json.Marshal(map[string]any{"Replace": replace})
	if err != nil {
		return "", err
	}
	overlay = filepath.Join(folder, "overlay.json")
	return overlay, os.WriteFile(overlay, text, 0o644)
}

// edits finds every use of a constant where a variable may stand, outside other constants
// and the lengths of arrays, with the arithmetic among constants that it is part of.
func (p *source) edits(f *ast.File) (out []edit) {
	ast.Inspect(f, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.GenDecl:
			return n.Tok != token.CONST
		case *ast.ArrayType:
			return n.Len == nil
		case ast.Expr:
			known := p.info.Types[n]
			if known.Value == nil || !p.inner(n) {
				return true
			}
			t := types.Default(known.Type)
			basic, ok := t.Underlying().(*types.Basic)
			if !ok || basic.Info()&types.IsNumeric == 0 {
				return true
			}
			whole := basic.Info()&types.IsInteger != 0
			p.count(n, whole)
			text := p.written(n)
			if whole {
				text = "mutantWhole(" + text + ")"
			}
			of := types.TypeString(t, func(of *types.Package) string { return strings.TrimPrefix(of.Name(), p.name) })
			out = append(out, edit{p.set.Position(n.Pos()).Offset, p.set.Position(n.End()).Offset, strings.TrimPrefix(of, ".") + "(" + text + ")"})
			return false
		}
		return true
	})
	return out
}

// count notes a use of every constant in an expression.
func (p *source) count(e ast.Expr, whole bool) {
	ast.Inspect(e, func(n ast.Node) bool {
		if id, ok := n.(*ast.Ident); ok {
			if c := p.threshold(p.info.Uses[id]); c != nil {
				c.uses++
				c.whole = c.whole && whole
			}
		}
		return true
	})
}

func (p *source) threshold(o types.Object) *threshold {
	for i := range p.constants {
		if o != nil && p.constants[i].object == o {
			return &p.constants[i]
		}
	}
	return nil
}

// product is a constant as it is written, as a float64, times its variable. What it is
// made of varies with it.
func (p *source) product(c *threshold) string {
	return "(" + p.written(c.written) + ")*" + c.variable()
}

func (p *source) written(e ast.Expr) string {
	switch e := e.(type) {
	case *ast.ParenExpr:
		return "(" + p.written(e.X) + ")"
	case *ast.UnaryExpr:
		return e.Op.String() + p.written(e.X)
	case *ast.CallExpr: // a conversion
		return p.written(e.Args[0])
	case *ast.BinaryExpr:
		if inner := p.inner(e); inner && e.Op.String() != "<<" {
			return "(" + p.written(e.X) + e.Op.String() + p.written(e.Y) + ")"
		}
	case *ast.Ident:
		if c := p.threshold(p.info.Uses[e]); c != nil {
			return p.product(c)
		}
	}
	v, _ := constant.Float64Val(constant.ToFloat(p.info.Types[e].Value))
	return "float64(" + strconv.FormatFloat(v, 'g', -1, 64) + ")"
}

// inner reports whether an expression is made of other constants of the package.
func (p *source) inner(e ast.Expr) (yes bool) {
	ast.Inspect(e, func(n ast.Node) bool {
		id, ok := n.(*ast.Ident)
		yes = yes || ok && p.threshold(p.info.Uses[id]) != nil
		return true
	})
	return yes
}

// variables is the file that declares what constants are multiplied by.
func (p *source) variables() string {
	var b strings.Builder
	fmt.Fprintf(&b, `package %s

import (
	"math"
	"os"
	"strconv"
	"strings"
)

func mutantWhole(v float64) int { return int(math.Round(v)) }

func mutantOf(name string) float64 {
	of, by, _ := strings.Cut(os.Getenv("MUTANT"), ":")
	if of != name {
		return 1
	}
	v, err := strconv.ParseFloat(by, 64)
	if err != nil {
		panic(err)
	}
	return v
}

`, p.name)
	for _, c := range p.constants {
		fmt.Fprintf(&b, "var %s = mutantOf(%q)\n", c.variable(), c.variable())
	}
	return b.String()
}

// applied returns a text with its edits made, last first.
func applied(text string, edits []edit) string {
	slices.SortFunc(edits, func(a, b edit) int { return b.from - a.from })
	for _, e := range edits {
		text = text[:e.from] + e.text + text[e.to:]
	}
	return text
}
