package main

// This file holds the source to the sizes that a person can read: of packages, of
// lines, of functions.

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"
)

const (
	maxPackageLines  = 3500 // without tests
	maxColumns       = 140  // a tab counts 4
	maxFunctionLines = 60
	maxMedian        = 12 // lines of a function
	maxP90           = 40
	maxTinyPercent   = 15 // functions of at most tinyLines, one in ten of them for an interface
	tinyLines        = 3
)

// goFiles calls f with each file of the tree in Go, by its path from the module's folder.
func goFiles(t *testing.T, f func(path, text string)) {
	t.Helper()
	root := os.DirFS("../..")
	err := fs.WalkDir(root, ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || filepath.Ext(path) != ".go" {
			return err
		}
		text, err := fs.ReadFile(root, path)
		f(path, string(text))
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}

func TestPackagesAndLinesAreNotTooLong(t *testing.T) {
	sizes := map[string]int{}
	goFiles(t, func(path, text string) {
		if !strings.HasSuffix(path, "_test.go") {
			sizes[filepath.Dir(path)] += strings.Count(text, "\n")
		}
		number := 0
		for line := range strings.Lines(text) {
			number++
			line = strings.TrimRight(line, "\n")
			tag := strings.HasSuffix(line, "\"`") // of a struct, which cannot be broken
			if columns := utf8.RuneCountInString(line) + 3*strings.Count(line, "\t"); columns > maxColumns && !tag {
				t.Errorf("%s:%d has %d columns, more than %d", path, number, columns, maxColumns)
			}
		}
	})
	if len(sizes) < 20 {
		t.Errorf("only %d packages were found", len(sizes))
	}
	total := 0
	for name, lines := range sizes {
		total += lines
		if lines > maxPackageLines {
			t.Errorf("%s has %d lines without tests, more than %d", name, lines, maxPackageLines)
		}
	}
	t.Logf("%d lines without tests in %d packages", total, len(sizes))
}

// functionLines are the lengths of the functions of a file that have a name.
func functionLines(t *testing.T, path, text string) (lengths []int) {
	t.Helper()
	fset := token.NewFileSet()
	file, err := parser.ParseFile(fset, path, text, parser.SkipObjectResolution)
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range file.Decls {
		if f, ok := d.(*ast.FuncDecl); ok {
			n := fset.Position(f.End()).Line - fset.Position(f.Pos()).Line + 1
			if n > maxFunctionLines && !isTable(f) {
				t.Errorf("%s: %s has %d lines, more than %d", path, f.Name.Name, n, maxFunctionLines)
			}
			lengths = append(lengths, n)
		}
	}
	return lengths
}

// isTable reports whether a function does nothing but return one.
func isTable(f *ast.FuncDecl) bool {
	if len(f.Body.List) != 1 {
		return false
	}
	r, ok := f.Body.List[0].(*ast.ReturnStmt)
	if !ok || len(r.Results) != 1 {
		return false
	}
	_, ok = r.Results[0].(*ast.CompositeLit)
	return ok
}

func TestFunctionsAreShortAndNotChopped(t *testing.T) {
	var lengths []int
	goFiles(t, func(path, text string) {
		if !strings.HasSuffix(path, "_test.go") {
			lengths = append(lengths, functionLines(t, path, text)...)
		}
	})
	slices.Sort(lengths)
	n := len(lengths)
	tiny, _ := slices.BinarySearch(lengths, tinyLines+1)
	median, p90, percent := lengths[n/2], lengths[n*9/10], 100*float64(tiny)/float64(n)
	t.Logf("%d functions: median %d, p90 %d, longest %d lines; %.1f %% of at most %d", n, median, p90, lengths[n-1], percent, tinyLines)
	if median > maxMedian || p90 > maxP90 {
		t.Errorf("median %d, p90 %d: want at most %d and %d", median, p90, maxMedian, maxP90)
	}
	if percent >= maxTinyPercent {
		t.Errorf("%.1f %% of the functions have at most %d lines: want less than %d %%", percent, tinyLines, maxTinyPercent)
	}
}
