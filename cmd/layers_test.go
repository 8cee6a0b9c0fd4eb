package cmd

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const module = "strandwise"

// layers says which of our own packages each package may import. Imports go one
// way: chart <- floats <- session <- cmd, and store <- cmd. A new package needs a
// row, and so a thought, here.
var layers = map[string][]string{
	"chart":          {},
	"chart/picture":  {"chart"},
	"floats":         {"chart"},
	"session":        {"chart", "floats", "session/hold"},
	"session/hold":   {"floats"},
	"store":          {},
	"examples":       {"chart"},
	"cmd/paint":      {"chart"},
	"cmd/paper":      {"chart"},
	"cmd/document":   {"chart", "cmd/paint", "cmd/paper"},
	"cmd/answer":     {"chart", "chart/picture", "floats", "session", "session/hold", "store", "cmd/draw", "cmd/document", "cmd/paint", "cmd/paper", "cmd/stored", "cmd/knitted"},
	"cmd/draw":       {"chart", "chart/picture", "floats", "session", "session/hold", "cmd/paint", "cmd/paper", "cmd/knitted"},
	"cmd/follow":     {"chart", "floats", "session", "session/hold", "cmd/paint", "cmd/document", "cmd/answer"},
	"cmd/page":       {"chart", "session", "cmd/paint", "cmd/paper", "cmd/document", "cmd/follow"},
	"cmd/frame":      {"chart", "floats", "session", "session/hold", "store", "cmd/paint", "cmd/document"},
	"cmd/stored":     {"chart", "floats", "session", "store", "cmd/frame"},
	"cmd":            {"chart", "chart/picture", "floats", "session", "session/hold", "store", "cmd/paint", "cmd/draw", "cmd/paper", "cmd/document", "cmd/answer", "cmd/follow", "cmd/page", "cmd/frame", "cmd/stored", "examples"},
	"cmd/knitted":    {"chart", "floats", "session"},
	"cmd/strandwise": {"cmd", "cmd/frame"},
	"cmd/manpages":   {"cmd"},
}

// shipped are the modules that programs may import, tested those that only tests
// may. The writer of PDF brings encoding/gob, which takes 0.3 ms of every run, used or
// not; a step may take 25, and a writer of our own is a thousand lines.
var (
	shipped = []string{
		"github.com/spf13/cobra", "github.com/spf13/pflag", "go.etcd.io/bbolt", "github.com/fatih/color",
		"golang.org/x/term", "github.com/mattn/go-runewidth", "github.com/lucasb-eyer/go-colorful",
		"golang.org/x/image", "codeberg.org/go-pdf/fpdf", "rsc.io/qr",
	}
	tested = []string{
		"github.com/stretchr/testify", "github.com/rogpeppe/go-internal", "github.com/creack/pty",
		"pgregory.net/rapid", "gonum.org/v1/gonum", "github.com/chromedp/chromedp", "github.com/chromedp/cdproto",
	}
)

// emptyNames say nothing about what is in a package.
var emptyNames = []string{"util", "utils", "common", "helper", "helpers", "model", "models", "type", "types", "misc", "shared", "base", "lib", "internal"}

// source is a Go file of the module, parsed.
type source struct {
	folder string // its package's path within the module
	name   string
	file   *ast.File
	files  *token.FileSet
}

// testPackages hold what the tests of several packages share; only tests import them.
var testPackages = []string{"cmd/knitted"}

func (s source) isTest() bool {
	return strings.HasSuffix(s.name, "_test.go") || slices.Contains(testPackages, s.folder)
}

// sources parses every Go file of the module.
func sources(t *testing.T) []source {
	t.Helper()
	var all []source
	files := token.NewFileSet()
	root, err := filepath.Abs("..")
	require.NoError(t, err)
	require.NoError(t, filepath.WalkDir(root, func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && (d.Name() == "testdata" || strings.HasPrefix(d.Name(), ".")) {
			return filepath.SkipDir
		}
		if d.IsDir() || filepath.Ext(name) != ".go" {
			return nil
		}
		file, err := parser.ParseFile(files, name, nil, parser.ParseComments|parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		folder, err := filepath.Rel(root, filepath.Dir(name))
		all = append(all, source{filepath.ToSlash(folder), d.Name(), file, files})
		return err
	}))
	require.NotEmpty(t, all)
	return all
}

func (s source) imports() []string {
	var paths []string
	for _, i := range s.file.Imports {
		paths = append(paths, strings.Trim(i.Path.Value, `"`))
	}
	return paths
}

func TestImportsGoOneWay(t *testing.T) {
	for _, s := range sources(t) {
		allowed, known := layers[s.folder]
		require.True(t, known, "package %s has no row in the table of layers", s.folder)
		for _, imported := range s.imports() {
			ours, is := strings.CutPrefix(imported, module+"/")
			itself := s.isTest() && ours == s.folder
			if is && !itself && !slices.Contains(allowed, ours) {
				t.Errorf("%s/%s imports %s", s.folder, s.name, ours)
			}
			if slices.Contains(testPackages, ours) && !s.isTest() {
				t.Errorf("%s/%s imports %s, which is for tests", s.folder, s.name, ours)
			}
		}
	}
}

func TestOnlyAllowedModulesAreImported(t *testing.T) {
	for _, s := range sources(t) {
		modules := shipped
		if s.isTest() {
			modules = slices.Concat(shipped, tested)
		}
		for _, imported := range s.imports() {
			first, _, _ := strings.Cut(imported, "/")
			if !strings.Contains(first, ".") {
				continue // ours or the standard library
			}
			assert.True(t, slices.ContainsFunc(modules, func(m string) bool {
				return imported == m || strings.HasPrefix(imported, m+"/")
			}), "%s/%s imports %s", s.folder, s.name, imported)
		}
	}
}

func TestOneFileImportsTheColorLibrary(t *testing.T) {
	var importers []string
	for _, s := range sources(t) {
		if slices.Contains(s.imports(), "github.com/fatih/color") {
			importers = append(importers, path.Join(s.folder, s.name))
		}
	}
	assert.Equal(t, []string{"cmd/paint/painter.go"}, importers)
}

func TestTheWriterOfManualPagesStaysOutOfTheProgram(t *testing.T) {
	for _, s := range sources(t) {
		if slices.Contains(s.imports(), "github.com/spf13/cobra/doc") {
			assert.Equal(t, "cmd/manpages", s.folder)
		}
	}
}

func TestPackagesAreNamedForWhatTheyHold(t *testing.T) {
	for _, s := range sources(t) {
		for _, part := range strings.Split(s.folder, "/") {
			assert.NotContains(t, emptyNames, part)
		}
		assert.NotContains(t, emptyNames, s.file.Name.Name)
	}
}

// quietPackages are the packages that never print, log or exit.
var quietPackages = []string{"chart", "chart/picture", "floats", "session", "session/hold", "store"}

func TestDomainPackagesNeitherPrintNorLogNorExit(t *testing.T) {
	forbidden := []string{"fmt.Print", "fmt.Println", "fmt.Printf", "os.Exit", "os.Stdin", "os.Stdout", "os.Stderr"}
	for _, s := range sources(t) {
		if s.isTest() || !slices.Contains(quietPackages, s.folder) {
			continue
		}
		assert.NotContains(t, s.imports(), "log", s.name)
		assert.NotContains(t, s.imports(), "log/slog", s.name)
		ast.Inspect(s.file, func(n ast.Node) bool {
			if name := qualified(n); slices.Contains(forbidden, name) {
				t.Errorf("%s uses %s", s.files.Position(n.Pos()), name)
			}
			return true
		})
	}
}

// qualified is a name of another package as it is written, or "".
func qualified(n ast.Node) string {
	selector, is := n.(*ast.SelectorExpr)
	if !is {
		return ""
	}
	of, is := selector.X.(*ast.Ident)
	if !is {
		return ""
	}
	return of.Name + "." + selector.Sel.Name
}

func TestNoInitFunctions(t *testing.T) {
	for _, s := range sources(t) {
		for _, d := range s.file.Decls {
			if f, is := d.(*ast.FuncDecl); is && f.Recv == nil {
				assert.NotEqual(t, "init", f.Name.Name, s.folder+"/"+s.name)
			}
		}
	}
}

func TestMainIsShort(t *testing.T) {
	for _, s := range sources(t) {
		if s.folder == "cmd/strandwise" && s.name == "main.go" {
			assert.Less(t, s.files.Position(s.file.End()).Line, 20)
			return
		}
	}
	t.Error("cmd/strandwise/main.go is gone")
}
