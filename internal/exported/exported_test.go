// Package exported holds what every package shows to the others: an exported name is one
// that another package or an example uses, and says what it is.
package exported

import (
	"bytes"
	"encoding/json"
	"errors"
	"go/ast"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// room is a package of this module as the go command lists it.
type room struct {
	ImportPath, Dir, Export            string
	GoFiles, TestGoFiles, XTestGoFiles []string
	Imports, TestImports, XTestImports []string
	Module                             *struct {
		Path string
		Main bool
	}
}

// program is every package of the module with its types.
type program struct {
	set   *token.FileSet
	rooms []room // a package after what it imports
	seen  map[string]*types.Package
	other types.Importer // of packages outside the module
	uses  []use
	files map[string][]*ast.File // that are no tests
}

// use is a name that code of a package uses.
type use struct {
	of      types.Object
	by      string // import path; that of an example is of its own
	example bool
}

func TestExportedNamesAreUsedElsewhereAndSayWhatTheyAre(t *testing.T) {
	p := read(t)
	used := map[types.Object]bool{}
	for _, u := range p.uses {
		if u.example || u.of.Pkg() != nil && u.by != u.of.Pkg().Path() {
			used[origin(u.of)] = true
		}
	}
	audience := p.audience()
	shown := shownBy(used)
	faces := p.interfaces()
	for _, r := range p.rooms {
		of := p.seen[r.ImportPath]
		if of.Name() == "main" || !audience[r.ImportPath] {
			continue
		}
		documented := documentedNames(p.files[r.ImportPath])
		tell := func(o types.Object, name string) {
			if !documented[name] {
				t.Errorf("%s: %s.%s has no comment", p.at(o), r.ImportPath, name)
			}
			if !used[o] && !shown[o] && !oneOfSeveral(o, func(o types.Object) bool { return used[o] || shown[o] }) {
				t.Errorf("%s: no other package and no example uses %s.%s", p.at(o), r.ImportPath, name)
			}
		}
		for _, name := range of.Scope().Names() {
			o := of.Scope().Lookup(name)
			if !o.Exported() {
				continue
			}
			tell(o, name)
			named, ok := o.Type().(*types.Named)
			if _, isType := o.(*types.TypeName); !ok || !isType {
				continue
			}
			for i := range named.NumMethods() {
				if m := named.Method(i); m.Exported() && !owed(m, faces) {
					tell(m, name+"."+m.Name())
				}
			}
		}
	}
}

// audience are the packages that the program imports. A bench, which only tests and the
// commands of testdata import, shows what it has to its own tests.
func (p *program) audience() map[string]bool {
	needed := map[string]bool{}
	var visit func(path string)
	visit = func(path string) {
		i := slices.IndexFunc(p.rooms, func(r room) bool { return r.ImportPath == path })
		if i < 0 || needed[path] {
			return
		}
		needed[path] = true
		for _, next := range p.rooms[i].Imports {
			visit(next)
		}
	}
	for _, r := range p.rooms {
		if p.seen[r.ImportPath].Name() == "main" && !strings.Contains(r.ImportPath, "/testdata/") {
			visit(r.ImportPath)
		}
	}
	return needed
}

// shownBy are the types that the exported fields, arguments and results of what is used
// have: whoever uses the one has the other in hand.
func shownBy(used map[types.Object]bool) map[types.Object]bool {
	shown := map[types.Object]bool{}
	var visit func(types.Type)
	visit = func(t types.Type) {
		switch t := t.(type) {
		case *types.Named:
			if shown[t.Obj()] {
				return
			}
			shown[t.Obj()] = true
			for i := range t.TypeArgs().Len() {
				visit(t.TypeArgs().At(i))
			}
			visit(t.Underlying())
		case *types.Alias:
			shown[t.Obj()] = true
			visit(types.Unalias(t))
		case *types.Struct:
			for i := range t.NumFields() {
				if t.Field(i).Exported() {
					visit(t.Field(i).Type())
				}
			}
		case *types.Signature:
			visit(t.Params())
			visit(t.Results())
		case *types.Tuple:
			for i := range t.Len() {
				visit(t.At(i).Type())
			}
		case *types.Map:
			visit(t.Key())
			visit(t.Elem())
		case interface{ Elem() types.Type }: // pointer, slice, array, channel
			visit(t.Elem())
		}
	}
	for o := range used {
		if o.Exported() && o.Pkg() != nil {
			visit(o.Type())
		}
	}
	return shown
}

// oneOfSeveral reports whether a name is one value of an enumeration that is used.
func oneOfSeveral(o types.Object, used func(types.Object) bool) bool {
	named, ok := o.Type().(*types.Named)
	_, constant := o.(*types.Const)
	return ok && constant && named.Obj().Pkg() == o.Pkg() && used(named.Obj())
}

// origin is what a use of an instance or of a method of one means.
func origin(o types.Object) types.Object {
	if f, ok := o.(*types.Func); ok {
		return f.Origin()
	}
	return o
}

func (p *program) at(o types.Object) string {
	at := p.set.Position(o.Pos())
	if here, err := filepath.Abs("../.."); err == nil {
		if rel, err := filepath.Rel(here, at.Filename); err == nil {
			at.Filename = rel
		}
	}
	at.Column = 0
	return at.String()
}

// interfaces gathers every interface with a name that the program knows of: a method may be
// there for one of them.
func (p *program) interfaces() (out []*types.Interface) {
	out = append(out, types.Universe.Lookup("error").Type().Underlying().(*types.Interface))
	reached := map[*types.Package]bool{}
	var visit func(*types.Package)
	visit = func(of *types.Package) {
		if reached[of] {
			return
		}
		reached[of] = true
		for _, name := range of.Scope().Names() {
			if i, ok := of.Scope().Lookup(name).Type().Underlying().(*types.Interface); ok && i.NumMethods() > 0 {
				out = append(out, i)
			}
		}
		for _, next := range of.Imports() {
			visit(next)
		}
	}
	for _, of := range p.seen {
		visit(of)
	}
	return out
}

// owed reports whether an interface asks for a method of that name and signature: a type
// may have it so that it, or what it is part of, satisfies the interface. Unwrap is asked
// for by package errors, without a name.
func owed(method *types.Func, all []*types.Interface) bool {
	return method.Name() == "Unwrap" || slices.ContainsFunc(all, func(i *types.Interface) bool {
		for k := range i.NumMethods() {
			if m := i.Method(k); m.Name() == method.Name() && types.Identical(m.Type(), method.Type()) {
				return true
			}
		}
		return false
	})
}

// documentedNames are the names of a package that a comment stands above, or above their
// group.
func documentedNames(files []*ast.File) map[string]bool {
	out := map[string]bool{}
	for _, f := range files {
		for _, d := range f.Decls {
			switch d := d.(type) {
			case *ast.FuncDecl:
				name := d.Name.Name
				if d.Recv != nil {
					name = receiver(d.Recv.List[0].Type) + "." + name
				}
				out[name] = d.Doc != nil
			case *ast.GenDecl:
				for _, s := range d.Specs {
					switch s := s.(type) {
					case *ast.TypeSpec:
						out[s.Name.Name] = d.Doc != nil || s.Doc != nil || s.Comment != nil
					case *ast.ValueSpec:
						for _, id := range s.Names {
							out[id.Name] = d.Doc != nil || s.Doc != nil || s.Comment != nil
						}
					}
				}
			}
		}
	}
	return out
}

func receiver(e ast.Expr) string {
	switch e := e.(type) {
	case *ast.StarExpr:
		return receiver(e.X)
	case *ast.IndexExpr:
		return receiver(e.X)
	case *ast.Ident:
		return e.Name
	}
	return ""
}

// read parses every package of the module and finds what each name means.
func read(t *testing.T) *program {
	t.Helper()
	rooms, exports := list(t)
	p := &program{set: token.NewFileSet(), rooms: rooms, seen: map[string]*types.Package{}, files: map[string][]*ast.File{}}
	p.other = importer.ForCompiler(p.set, "gc", func(path string) (io.ReadCloser, error) {
		if exports[path] == "" {
			return nil, errors.New("not built: " + path)
		}
		return os.Open(exports[path])
	})
	for _, r := range rooms {
		p.files[r.ImportPath] = p.parse(t, r.Dir, r.GoFiles)
		p.check(t, r.ImportPath, r.ImportPath, p.files[r.ImportPath], false)
	}
	for _, r := range rooms { // tests after all packages: they may import any
		if len(r.TestGoFiles) > 0 { // a package of its own beside the first: of other packages it uses the same
			p.check(t, r.ImportPath, "", slices.Concat(p.files[r.ImportPath], p.parse(t, r.Dir, r.TestGoFiles)), false)
		}
		if len(r.XTestGoFiles) > 0 {
			p.check(t, r.ImportPath, "", p.parse(t, r.Dir, r.XTestGoFiles), true)
		}
	}
	return p
}

// list asks the go command for the packages of the module and for what they import, each
// after what it imports.
func list(t *testing.T) (rooms []room, exports map[string]string) {
	t.Helper()
	root := filepath.Join("..", "..")
	args := []string{"list", "-export", "-deps", "-test", "-json=ImportPath,Dir,Export,GoFiles,TestGoFiles,XTestGoFiles,Imports,TestImports,XTestImports,Module", "./..."}
	commands, err := filepath.Glob(filepath.Join(root, "testdata", "*", "main.go")) // which ./... leaves out
	if err != nil || len(commands) == 0 {
		t.Fatal("no command in testdata", err)
	}
	for _, path := range commands {
		args = append(args, "./testdata/"+filepath.Base(filepath.Dir(path)))
	}
	cmd := exec.Command("go", args...)
	cmd.Dir = root
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	exports = map[string]string{}
	for d := json.NewDecoder(bytes.NewReader(out)); ; {
		var r room
		if err := d.Decode(&r); err == io.EOF {
			return rooms, exports
		} else if err != nil {
			t.Fatal(err)
		}
		exports[r.ImportPath] = r.Export
		if r.Module != nil && r.Module.Main && !strings.Contains(r.ImportPath, " ") && !strings.HasSuffix(r.ImportPath, ".test") {
			rooms = append(rooms, r)
		}
	}
}

func (p *program) parse(t *testing.T, dir string, names []string) (files []*ast.File) {
	t.Helper()
	for _, name := range names {
		f, err := parser.ParseFile(p.set, filepath.Join(dir, name), nil, parser.ParseComments|parser.SkipObjectResolution)
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, f)
	}
	return files
}

// check finds the types of one package and keeps it under a name, where it has one.
func (p *program) check(t *testing.T, path, as string, files []*ast.File, outside bool) {
	t.Helper()
	info := &types.Info{Uses: map[*ast.Ident]types.Object{}}
	config := types.Config{Importer: p}
	if outside { // what export_test.go shows to tests alone is not there
		config.Error = func(error) {}
	}
	checked, err := config.Check(path, p.set, files, info)
	if err != nil && !outside {
		t.Fatal(err)
	}
	if as != "" {
		p.seen[as] = checked
	}
	for _, f := range files {
		for _, d := range f.Decls {
			fn, ok := d.(*ast.FuncDecl)
			example := ok && outside && strings.HasPrefix(fn.Name.Name, "Example")
			ast.Inspect(d, func(n ast.Node) bool {
				if id, ok := n.(*ast.Ident); ok && info.Uses[id] != nil {
					p.uses = append(p.uses, use{info.Uses[id], path, example})
				}
				return true
			})
		}
	}
}

// Import returns a package of the module as it was read from its source.
func (p *program) Import(path string) (*types.Package, error) {
	if of := p.seen[path]; of != nil {
		return of, nil
	}
	return p.other.Import(path)
}
