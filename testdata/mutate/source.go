package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"go/ast"
	"go/constant"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
)

// source is a package as it was read, with its own tests.
type source struct {
	path, short string // import path, and the same below the module
	dir         string
	name        string
	set         *token.FileSet
	files       []*ast.File
	info        *types.Info
	constants   []threshold
}

// threshold is a numeric constant with a name.
type threshold struct {
	name    string // room.name
	where   string // file:line
	value   float64
	whole   bool // used as a whole number alone
	uses    int
	object  *types.Const
	written ast.Expr
	number  int
}

// load reads a package and checks its types.
func load(dir string) (*source, error) {
	p := &source{dir: dir, set: token.NewFileSet()}
	exports, files, err := p.list()
	if err != nil {
		return nil, err
	}
	for _, name := range files {
		f, err := parser.ParseFile(p.set, name, nil, parser.ParseComments)
		if err != nil {
			return nil, err
		}
		p.files = append(p.files, f)
	}
	p.info = &types.Info{Types: map[ast.Expr]types.TypeAndValue{}, Defs: map[*ast.Ident]types.Object{}, Uses: map[*ast.Ident]types.Object{}}
	check := types.Config{Importer: importer.ForCompiler(p.set, "gc", func(path string) (io.ReadCloser, error) { return os.Open(exports[path]) })}
	if _, err := check.Check(p.path, p.set, p.files, p.info); err != nil {
		return nil, err
	}
	p.findConstants()
	return p, nil
}

// list asks the go command for the files of the package and for what it imports.
func (p *source) list() (exports map[string]string, files []string, err error) {
	out, err := exec.Command("go", "list", "-export", "-deps", "-test", "-json=ImportPath,Export,Dir,Name,GoFiles,TestGoFiles,ForTest,Module", p.dir).Output()
	if err != nil {
		return nil, nil, fmt.Errorf("%s: %w", p.dir, err)
	}
	here, err := filepath.Abs(p.dir)
	if err != nil {
		return nil, nil, err
	}
	exports = map[string]string{}
	for d := json.NewDecoder(bytes.NewReader(out)); ; {
		var one struct {
			ImportPath, Export, Dir, Name, ForTest string
			GoFiles, TestGoFiles                   []string
			Module                                 *struct{ Path string }
		}
		if err := d.Decode(&one); err == io.EOF {
			return exports, files, nil
		} else if err != nil {
			return nil, nil, err
		}
		exports[one.ImportPath] = one.Export
		if one.Dir != here || one.ForTest != "" || one.Name == "main" {
			continue
		}
		p.path, p.name, p.short = one.ImportPath, one.Name, strings.TrimPrefix(one.ImportPath, one.Module.Path+"/")
		for _, name := range slices.Concat(one.GoFiles, one.TestGoFiles) {
			files = append(files, filepath.Join(here, name))
		}
	}
}

// findConstants gathers the numeric constants that are written as numbers: neither those
// of an enumeration nor those of a type of their own.
func (p *source) findConstants() {
	for _, f := range p.files {
		if strings.HasSuffix(p.set.Position(f.Pos()).Filename, "_test.go") {
			continue
		}
		ast.Inspect(f, func(n ast.Node) bool {
			spec, ok := n.(*ast.ValueSpec)
			if !ok || len(spec.Values) != len(spec.Names) {
				return true
			}
			for i, id := range spec.Names {
				c, ok := p.info.Defs[id].(*types.Const)
				if !ok || mentions(spec.Values[i], "iota") {
					continue
				}
				basic, ok := c.Type().(*types.Basic)
				if !ok || basic.Info()&types.IsNumeric == 0 {
					continue
				}
				v, _ := constant.Float64Val(constant.ToFloat(c.Val()))
				at := p.set.Position(id.Pos())
				p.constants = append(p.constants, threshold{
					name: p.short + "." + id.Name, where: fmt.Sprintf("%s:%d", filepath.Join(p.short, filepath.Base(at.Filename)), at.Line),
					value: v, whole: true, object: c, written: spec.Values[i], number: len(p.constants),
				})
			}
			return true
		})
	}
}

func mentions(e ast.Expr, name string) (yes bool) {
	ast.Inspect(e, func(n ast.Node) bool {
		id, ok := n.(*ast.Ident)
		yes = yes || ok && id.Name == name
		return true
	})
	return yes
}

// variable is the name of what a constant is multiplied by.
func (c threshold) variable() string { return fmt.Sprintf("mutant%d", c.number) }

// mutated is the value that a constant has, times a factor.
func (c threshold) mutated(by float64) float64 {
	if c.whole {
		return math.Round(c.value * by)
	}
	return c.value * by
}
