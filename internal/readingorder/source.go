package readingorder

import (
	"go/ast"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"path/filepath"
)

// Source is a package without its tests, with what every name in it stands for.
type Source struct {
	Set     *token.FileSet
	Files   map[string]*ast.File // by name
	Ignored []string             // files for other processors
	Package *types.Package
	Info    *types.Info // Types, Defs and Uses
}

// Load reads the package in a directory; those that it imports come compiled.
func Load(dir string) (*Source, error) {
	list, err := listed(dir)
	if err != nil {
		return nil, err
	}
	s := &Source{
		Set: token.NewFileSet(), Files: map[string]*ast.File{}, Ignored: list.IgnoredGoFiles,
		Info: &types.Info{Types: map[ast.Expr]types.TypeAndValue{}, Defs: map[*ast.Ident]types.Object{}, Uses: map[*ast.Ident]types.Object{}},
	}
	var parsed []*ast.File
	for _, name := range list.GoFiles {
		f, err := parser.ParseFile(s.Set, filepath.Join(dir, name), nil, parser.ParseComments|parser.SkipObjectResolution)
		if err != nil {
			return nil, err
		}
		s.Files[name], parsed = f, append(parsed, f)
	}
	conf := types.Config{Importer: importer.ForCompiler(s.Set, "gc", list.open)}
	s.Package, err = conf.Check(list.ImportPath, s.Set, parsed, s.Info)
	return s, err
}

// File is the name of the file that a place lies in.
func (s *Source) File(at token.Pos) string { return filepath.Base(s.Set.Position(at).Filename) }
