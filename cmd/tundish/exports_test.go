package main

// This file holds what is exported to what another package uses.

import (
	"fmt"
	"go/token"
	"go/types"
	"os"
	"strings"
	"testing"

	"golang.org/x/tools/go/packages"
)

// byInterface are methods that others call by an interface of a library; those of
// the tree's own interfaces are added as they are met.
var byInterface = []string{"String", "Error", "MarshalText", "UnmarshalText", "Init", "Update", "View", "Read", "Write",
	"WriteString", "Close", "Unwrap", "MarshalJSON", "Run"}

// exports are the names of the tree: where each stands, and which of them are
// used by another package or by a test of one.
type exports struct {
	names map[token.Position]string
	used  map[token.Position]bool
	types map[*types.TypeName]bool
}

// use notes a name, with the types that who uses it holds in hand by it.
func (x *exports) use(fset *token.FileSet, o types.Object) {
	if f, ok := o.(*types.Func); ok {
		o = f.Origin()
	}
	if at := fset.Position(o.Pos()); !x.used[at] {
		x.used[at] = true
		x.useType(fset, o.Type())
	}
}

func (x *exports) useType(fset *token.FileSet, t types.Type) {
	switch t := t.(type) {
	case *types.Alias:
		x.useType(fset, types.Unalias(t))
	case *types.Named:
		for arg := range t.TypeArgs().Types() {
			x.useType(fset, arg)
		}
		if !x.types[t.Obj()] {
			x.types[t.Obj()] = true
			x.use(fset, t.Obj())
			x.useType(fset, t.Underlying())
		}
	case interface{ Elem() types.Type }:
		x.useType(fset, t.Elem())
	case *types.Struct:
		for f := range t.Fields() {
			if f.Exported() {
				x.useType(fset, f.Type())
			}
		}
	case *types.Signature:
		for v := range t.Params().Variables() {
			x.useType(fset, v.Type())
		}
		for v := range t.Results().Variables() {
			x.useType(fset, v.Type())
		}
	}
}

// Each exported function, method, type and variable, and each constant that is
// not of an enumeration, is used by another package, or by a test of one.
func TestExportedNamesAreUsedOutside(t *testing.T) {
	if os.Getenv("TUNDISH_LONG") == "" {
		t.Skip("it loads the whole tree: set TUNDISH_LONG")
	}
	loaded, err := packages.Load(&packages.Config{
		Mode: packages.NeedName | packages.NeedSyntax | packages.NeedTypes | packages.NeedTypesInfo | packages.NeedImports |
			packages.NeedDeps, Tests: true,
	}, module+"...")
	if err != nil {
		t.Fatal(err)
	}
	x := exports{map[token.Position]string{}, map[token.Position]bool{}, map[*types.TypeName]bool{}}
	called := map[string]bool{}
	for _, name := range byInterface {
		called[name] = true
	}
	for _, p := range loaded {
		for _, name := range p.Types.Scope().Names() {
			if i, ok := p.Types.Scope().Lookup(name).Type().Underlying().(*types.Interface); ok {
				for m := range i.Methods() {
					called[m.Name()] = true
				}
			}
		}
	}
	for _, p := range loaded {
		home := strings.TrimSuffix(p.PkgPath, "_test")
		for _, o := range p.TypesInfo.Uses {
			if o.Pkg() != nil && o.Pkg().Path() != home && strings.HasPrefix(o.Pkg().Path(), module) {
				x.use(p.Fset, o)
			}
		}
		if p.Name == "main" || p.Name == "garage" { // which is for tests, its own first of all
			continue
		}
		for _, o := range p.TypesInfo.Defs {
			if o != nil && counts(p, o, called) {
				x.names[p.Fset.Position(o.Pos())] = home + ": " + o.Name()
			}
		}
	}
	var unused []string
	for at, name := range x.names {
		if !x.used[at] {
			unused = append(unused, fmt.Sprintf("%s: %s is used by no other package", at, name))
		}
	}
	if len(unused) > 0 {
		t.Error(strings.Join(unused, "\n"))
	}
}

// counts reports whether a name must be used outside: not so a method that is
// called by an interface.
func counts(p *packages.Package, o types.Object, called map[string]bool) bool {
	if !o.Exported() || strings.HasSuffix(p.Fset.Position(o.Pos()).Filename, "_test.go") {
		return false
	}
	switch o := o.(type) {
	case *types.Func:
		recv := o.Signature().Recv()
		return recv == nil || !called[o.Name()]
	case *types.Const:
		_, named := types.Unalias(o.Type()).(*types.Named)
		return !named
	}
	return o.Parent() == p.Types.Scope()
}
