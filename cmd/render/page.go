package render

import (
	"embed"
	"fmt"
	"html/template"
	"io"
	"strings"
)

// Pages are single files that need no network and no script: style and drawings stand in them,
// and the page itself forbids whatever else. They follow the reader's choice of light or dark,
// drawings staying on white, and print on plain paper.

//go:embed pages
var pageFiles embed.FS

// pageCSS is the style of every page.
func pageCSS() template.CSS {
	css, err := pageFiles.ReadFile("pages/page.css")
	if err != nil {
		panic("render: the style of pages is not built in: " + err.Error())
	}
	return template.CSS(css)
}

// writePage fills a page from the folder of pages. Paper is what it is to be printed on.
func writePage(w io.Writer, name string, paper Paper, content any) error {
	printed := template.CSS(fmt.Sprintf("@page { size: %smm %smm; margin: 14mm; }\n", number(paper.Width), number(paper.Height)))
	t, err := template.New(name).Funcs(template.FuncMap{
		"style": pageCSS, "printed": func() template.CSS { return printed },
	}).ParseFS(pageFiles, "pages/page.html", "pages/"+name)
	if err != nil {
		panic("render: a page that is built in cannot be read: " + err.Error())
	}
	return t.ExecuteTemplate(w, name, content)
}

// inline is a scene as it stands in a page: as wide as drawn where there is room. Its ids begin
// with the prefix.
func inline(s *Scene, prefix string) template.HTML {
	var b strings.Builder
	_ = svg(&b, s, prefix, fmt.Sprintf(` width="%smm" height="%smm"`, number(s.Width), number(s.Height))) // a strings.Builder never fails
	return template.HTML(b.String())
}

// pagePicture is a picture of a page, in parts where it is large.
type pagePicture struct {
	ID, Title string
	Parts     []template.HTML
}

// The most columns and rows of a part of a picture on a page: at this width its numbers can be
// read across a sheet of paper.
const (
	pageColumns = 48
	pageRows    = 60
)

// newPagePicture draws a picture for a page.
func newPagePicture(k *Knitted, look PictureLook, id, title string) pagePicture {
	p := pagePicture{ID: id, Title: title}
	for i, s := range PictureParts(k, look, pageColumns, pageRows) {
		p.Parts = append(p.Parts, inline(s, fmt.Sprintf("%s%d", id, i+1)))
	}
	return p
}
