package cmd

import (
	"fmt"
	"go/ast"
	"os"
	"path"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/cmd/frame"
)

// answered is what a command answers in JSON: the number of its schema, which is raised when
// a key changes its meaning or goes, and the type, a name in cmd or in the package before the
// dot. A new command is one row.
var answered = map[string]struct {
	schema int
	of     string
}{
	"cast-on": {1, "answer.CastOn"}, "pieces": {1, "answer.Pieces"}, "pieces copy": {1, "answer.CastOn"},
	"hold": {1, "answer.Hold"}, "settings": {1, "answer.Settings"},
	"show": {2, "answer.Row"}, "knit": {2, "answer.Logged"}, "correct": {2, "answer.Logged"}, "pause": {2, "answer.Placed"},
	"resume": {2, "answer.Standing"}, "locate": {1, "answer.Located"}, "rip": {2, "answer.Placed"}, "undo": {2, "answer.Placed"},
	"redo": {2, "answer.Placed"}, "note": {2, "answer.Notes"}, "bind-off": {2, "answer.Placed"},
	"review": {2, "answer.Review"}, "cards": {1, "answer.Cards"}, "history": {2, "answer.History"},
	"floats": {1, "answer.Floats"}, "chart check": {1, "answer.Check"}, "chart import": {1, "answer.Import"},
	"replan": {2, "answer.Replan"}, "motions": {1, "answer.Motions"}, "swatch": {1, "answer.Swatch"}, "yarn": {1, "answer.Yarn"},
	"store": {1, "answer.Store"}, "store check": {1, "answer.StoreCheck"}, "store backup": {1, "answer.BackedUp"},
	"store restore": {1, "answer.Restored"}, "store export": {1, "answer.Exported"}, "store import": {1, "answer.Imported"}, "store salvage": {1, "answer.Salvaged"},
}

// jsonKeys writes what the keys of answers mean from the declarations of their types, so
// that help json can say nothing else than the code.
type jsonKeys struct {
	types map[string]*ast.TypeSpec // by package and name: answer.Row
	docs  map[string]string
	texts map[string]bool // types that write themselves as a text or a number
	said  strings.Builder
}

func newJSONKeys(t *testing.T) *jsonKeys {
	k := &jsonKeys{types: map[string]*ast.TypeSpec{}, docs: map[string]string{}, texts: map[string]bool{"time.Time": true}}
	for _, s := range sources(t) {
		if s.isTest() {
			continue
		}
		for _, d := range s.file.Decls {
			k.declared(path.Base(s.folder), d)
		}
	}
	return k
}

func (k *jsonKeys) declared(folder string, d ast.Decl) {
	switch d := d.(type) {
	case *ast.GenDecl:
		for _, spec := range d.Specs {
			if of, is := spec.(*ast.TypeSpec); is {
				name := folder + "." + of.Name.Name
				k.types[name], k.docs[name] = of, flat(d.Doc.Text())
			}
		}
	case *ast.FuncDecl:
		if d.Recv != nil && slices.Contains([]string{"MarshalText", "MarshalJSON"}, d.Name.Name) {
			name, _, _ := named(folder, d.Recv.List[0].Type)
			k.texts[name] = true
		}
	}
}

func flat(text string) string { return strings.Join(strings.Fields(text), " ") }

// named is the name of a type with its package, and whether it is a list or may be null.
func named(folder string, of ast.Expr) (name string, list, null bool) {
	switch of := of.(type) {
	case *ast.Ident:
		return folder + "." + of.Name, false, false
	case *ast.SelectorExpr:
		return of.X.(*ast.Ident).Name + "." + of.Sel.Name, false, false
	case *ast.StarExpr:
		name, list, _ = named(folder, of.X)
		return name, list, true
	case *ast.ArrayType:
		name, _, _ = named(folder, of.Elt)
		return name, true, false
	case *ast.MapType:
		name, list, _ = named(folder, of.Value)
		return name, list, false
	}
	return fmt.Sprintf("%T", of), false, false
}

// keys tells the fields of a struct, and of the structs in it, set in by depth. A struct that
// was told in the answer before is only named.
func (k *jsonKeys) keys(name string, depth int, above []string) {
	of, is := k.types[name].Type.(*ast.StructType)
	if !is || slices.Contains(above, name) {
		return
	}
	folder, _, _ := strings.Cut(name, ".")
	for _, f := range of.Fields.List {
		inner, list, null := named(folder, f.Type)
		key := ""
		if f.Tag != nil {
			key, _, _ = strings.Cut(reflect.StructTag(strings.Trim(f.Tag.Value, "`")).Get("json"), ",")
		}
		switch {
		case len(f.Names) == 0 && key == "":
			k.keys(inner, depth, append(above, name))
			continue
		case key == "" || key == "-":
			continue
		}
		line := key + ": " + k.kind(inner, list, null)
		if says := flat(f.Comment.Text()); says != "" {
			line += "; " + says
		}
		fmt.Fprintln(&k.said, strings.Repeat("  ", depth)+line)
		if k.isObject(inner) {
			k.keys(inner, depth+1, append(above, name))
		}
	}
}

func (k *jsonKeys) isObject(name string) bool {
	of := k.types[name]
	if of == nil {
		return false
	}
	_, is := of.Type.(*ast.StructType)
	return is && !k.isText(name)
}

// isText tells whether a type writes itself, or by what is embedded in it.
func (k *jsonKeys) isText(name string) bool {
	of := k.types[name]
	if of == nil || k.texts[name] {
		return k.texts[name]
	}
	folder, _, _ := strings.Cut(name, ".")
	fields, is := of.Type.(*ast.StructType)
	return is && slices.ContainsFunc(fields.Fields.List, func(f *ast.Field) bool {
		inner, _, _ := named(folder, f.Type)
		return len(f.Names) == 0 && k.isText(inner)
	})
}

// basics are what JSON makes of Go's types.
var basics = map[string]string{"string": "text", "bool": "true or false", "Time": "time", "Duration": "nanoseconds", "Seconds": "seconds", "rune": "number"}

func (k *jsonKeys) kind(name string, list, null bool) string {
	word, short := "number", name[strings.LastIndex(name, ".")+1:]
	switch {
	case basics[short] != "":
		word = basics[short]
	case k.isObject(name):
		word = "object"
	case k.isText(name):
		word = "text"
	case k.types[name] != nil:
		if inner, _, _ := named(path.Base(name), k.types[name].Type); strings.HasSuffix(inner, ".string") {
			word = "text"
		}
	}
	if list {
		word = "list of " + word
	}
	if null {
		word += " or null"
	}
	return word
}

// help json is written from the types of the answers; -update writes it anew.
func TestHelpJSONTellsEveryKey(t *testing.T) {
	k := newJSONKeys(t)
	k.said.WriteString("Each answer is one JSON document on one line. Its first key is schema, a number that is raised when a key goes or changes its meaning. Times are RFC 3339, yarns their symbols, rows, stitches and repeats count from 1. A fault is {\"schema\":1,\"error\":{...}} with the exit status, what happened and what to try.\n")
	for _, c := range everyCommand(t) {
		if !frame.AnswersJSON(c) || c.Hidden {
			continue
		}
		name := frame.UnderRoot(c)
		a, there := answered[name]
		if !assert.True(t, there, "%s --json has no row in the table of answers", c.CommandPath()) {
			continue
		}
		of := a.of
		if !strings.Contains(of, ".") {
			of = "cmd." + of
		}
		require.NotNil(t, k.types[of], "%s: there is no type %s", name, of)
		fmt.Fprintf(&k.said, "\n%s, schema %d\n", name, a.schema)
		if _, says, _ := strings.Cut(k.docs[of], ". "); says != "" {
			fmt.Fprintln(&k.said, "  "+says)
		}
		from := k.said.Len()
		k.keys(of, 1, nil)
		if !*update {
			assertAsAnswered(t, commandName(c), a.schema, k.said.String()[from:])
		}
	}
	compareGolden(t, "json.txt", k.said.String())
}

var (
	goldenSchema = regexp.MustCompile(`(?m)^  "schema": (\d+)`)
	goldenKey    = regexp.MustCompile(`(?m)^  "(\w+)":`)
)

// assertAsAnswered holds what is told against what the command really answered.
func assertAsAnswered(t *testing.T, name string, schema int, told string) {
	t.Helper()
	golden, err := os.ReadFile(filepath.Join(testdata, "json", name+".golden"))
	require.NoError(t, err)
	for _, m := range goldenSchema.FindAllSubmatch(golden, -1) {
		assert.Equal(t, fmt.Sprint(schema), string(m[1]), "the schema of %s", name)
	}
	for _, m := range goldenKey.FindAllSubmatch(golden, -1) {
		if key := string(m[1]); key != "schema" {
			assert.Contains(t, "\n"+told, "\n  "+key+": ", name)
		}
	}
}
