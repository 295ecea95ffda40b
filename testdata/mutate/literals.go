package main

import (
	"fmt"
	"go/ast"
	"go/token"
	"path/filepath"
	"slices"
	"strings"
)

// plain are numbers that say themselves what they are: none, one, both, a half.
var plain = []string{"0", "1", "2", "0.0", "1.0", "0.5", "2.0"}

// listLiterals prints every comparison, and every call of min or max, with a number in it
// that has no name and is not plain.
func (p *source) listLiterals() {
	for _, f := range p.files {
		if strings.HasSuffix(p.set.Position(f.Pos()).Filename, "_test.go") {
			continue
		}
		ast.Inspect(f, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.GenDecl:
				return n.Tok != token.CONST
			case *ast.BinaryExpr:
				if slices.Contains([]token.Token{token.LSS, token.GTR, token.LEQ, token.GEQ, token.EQL, token.NEQ}, n.Op) {
					p.tell(n)
					return false
				}
			case *ast.CallExpr:
				if id, ok := n.Fun.(*ast.Ident); ok && (id.Name == "min" || id.Name == "max") {
					p.tell(n)
					return false
				}
			}
			return true
		})
	}
}

func (p *source) tell(e ast.Expr) {
	var found []string
	ast.Inspect(e, func(n ast.Node) bool {
		if l, ok := n.(*ast.BasicLit); ok && (l.Kind == token.INT || l.Kind == token.FLOAT) && !slices.Contains(plain, l.Value) {
			found = append(found, l.Value)
		}
		_, index := n.(*ast.IndexExpr)
		return !index
	})
	if len(found) > 0 {
		at := p.set.Position(e.Pos())
		fmt.Printf("%s:%d: %s\n", filepath.Join(p.short, filepath.Base(at.Filename)), at.Line, strings.Join(found, ", "))
	}
}
