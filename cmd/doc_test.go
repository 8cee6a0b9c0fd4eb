package cmd

import (
	"go/ast"
	"go/token"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
)

// TestEveryExportedNameIsExplained wants a comment on every exported name of the
// module: on it, on its group, or beside it, and one on every package.
func TestEveryExportedNameIsExplained(t *testing.T) {
	explained := map[string]bool{}
	for _, s := range sources(t) {
		if s.isTest() {
			continue
		}
		explained[s.folder] = explained[s.folder] || s.file.Doc != nil
		for _, d := range s.file.Decls {
			switch d := d.(type) {
			case *ast.FuncDecl:
				if d.Name.IsExported() && !carriesInterface(d) && onExported(d) {
					wantComment(t, s, d.Name, d.Doc)
				}
			case *ast.GenDecl:
				checkGroup(t, s, d)
			}
		}
	}
	for folder, is := range explained {
		assert.True(t, is, "package %s has no comment", folder)
	}
}

// carriesInterface reports whether a method is there for an interface of the
// standard library whose documentation says all.
func carriesInterface(f *ast.FuncDecl) bool {
	return f.Recv != nil && slices.Contains([]string{"Error", "Unwrap", "Len", "Less", "Swap"}, f.Name.Name)
}

// onExported reports whether f is a function or a method of an exported type.
func onExported(f *ast.FuncDecl) bool {
	if f.Recv == nil {
		return true
	}
	of := f.Recv.List[0].Type
	if pointer, is := of.(*ast.StarExpr); is {
		of = pointer.X
	}
	if generic, is := of.(*ast.IndexExpr); is {
		of = generic.X
	}
	name, is := of.(*ast.Ident)
	return is && name.IsExported()
}

func checkGroup(t *testing.T, s source, d *ast.GenDecl) {
	t.Helper()
	for _, each := range d.Specs {
		switch each := each.(type) {
		case *ast.TypeSpec:
			if each.Name.IsExported() {
				wantComment(t, s, each.Name, d.Doc, each.Doc, each.Comment)
			}
		case *ast.ValueSpec:
			for _, name := range each.Names {
				if name.IsExported() {
					wantComment(t, s, name, d.Doc, each.Doc, each.Comment)
				}
			}
		}
	}
}

func wantComment(t *testing.T, s source, name *ast.Ident, comments ...*ast.CommentGroup) {
	t.Helper()
	if !slices.ContainsFunc(comments, func(c *ast.CommentGroup) bool { return c != nil }) {
		t.Errorf("%s: %s has no comment", position(s, name.Pos()), name.Name)
	}
}

func position(s source, at token.Pos) token.Position { return s.files.Position(at) }
