package pdf

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/image/font/gofont/goregular"
)

// drawn is what was added to a page, without its first line.
func drawn(draw func(p *Page)) string {
	p := New(100, 50, About{}).AddPage()
	draw(p)
	_, content, _ := strings.Cut(string(p.content), "\n")
	return content
}

// The operators are those of ISO 32000-1, Tables 57, 59, 60, 61 and 74.
func TestOperators(t *testing.T) {
	for want, draw := range map[string]func(p *Page){
		"1 2 m\n3 4 l\nS\n":    func(p *Page) { p.MoveTo(1, 2); p.LineTo(3, 4); p.Paint(false, true) },
		"1 2 3 4 re\nf\n":      func(p *Page) { p.Rectangle(1, 2, 3, 4); p.Paint(true, false) },
		"1 2 3 4 re\nB\n":      func(p *Page) { p.Rectangle(1, 2, 3, 4); p.Paint(true, true) },
		"1 2 3 4 re\nn\n":      func(p *Page) { p.Rectangle(1, 2, 3, 4); p.Paint(false, false) },
		"1 2 3 4 re\nW n\n":    func(p *Page) { p.Rectangle(1, 2, 3, 4); p.Clip() },
		"q\n1 0 0 1 5 6 cm\n":  func(p *Page) { p.Save(); p.Translate(5, 6) },
		"1 0 0.2 rg\n":         func(p *Page) { p.SetFill(255, 0, 51) },
		"0.8 0.6 1 RG\n":       func(p *Page) { p.SetStroke(204, 153, 255) },
		"0.25 w\n1 J\n1 j\n":   func(p *Page) { p.SetWidth(0.25); p.SetEnds(RoundEnds); p.SetCorners(RoundCorners) },
		"[1.5] 0 d\n[] 0 d\n":  func(p *Page) { p.SetDash(1.5); p.SetDash(0) },
		"0.5 0 0 0.5 0 0 cm\n": func(p *Page) { p.Scale(0.5) },
	} {
		got := drawn(draw)
		assert.Equal(t, want, strings.ReplaceAll(got, "0.5000000", "0.5"))
	}
}

// The first values are in force by themselves (Table 52), and so is what is set already, until
// it is restored.
func TestOnlyChangesAreWritten(t *testing.T) {
	assert.Empty(t, drawn(func(p *Page) {
		p.SetFill(0, 0, 0)
		p.SetStroke(0, 0, 0)
		p.SetWidth(1)
		p.SetDash(0)
		p.SetEnds(ButtEnds)
		p.SetCorners(MiterCorners)
	}))
	assert.Equal(t, "2 w\nq\n3 w\nQ\n3 w\n", drawn(func(p *Page) {
		p.SetWidth(2)
		p.Save()
		p.SetWidth(2)
		p.SetWidth(3)
		p.SetWidth(3)
		p.Restore()
		p.SetWidth(2)
		p.SetWidth(3)
	}))
}

// numbers are those of a line of content.
func numbers(line string) []float64 {
	var all []float64
	for _, field := range strings.Fields(line) {
		if v, err := strconv.ParseFloat(field, 64); err == nil {
			all = append(all, v)
		}
	}
	return all
}

// cubic is a place on a curve of third degree (8.5.2.2).
func cubic(t float64, c []float64) (x, y float64) {
	u := 1 - t
	at := func(i int) float64 {
		return u*u*u*c[i] + 3*u*u*t*c[i+2] + 3*u*t*t*c[i+4] + t*t*t*c[i+6]
	}
	return at(0), at(1)
}

// A curve of second degree from (0, 0) over (30, 60) to (90, 0) goes through
// (2·30·u·t + 90·t², 2·60·u·t).
func TestQuadraticCurvesAreExact(t *testing.T) {
	lines := strings.Split(drawn(func(p *Page) { p.MoveTo(0, 0); p.QuadTo(30, 60, 90, 0) }), "\n")
	assert.Equal(t, "20 40 50 40 90 0 c", lines[1])
	curve := append([]float64{0, 0}, numbers(lines[1])...)
	for at := 0.0; at <= 1; at += 0.125 {
		x, y := cubic(at, curve)
		assert.InDelta(t, 60*(1-at)*at+90*at*at, x, 1e-9)
		assert.InDelta(t, 120*(1-at)*at, y, 1e-9)
	}
}

func TestCurvesGoOnFromTheLast(t *testing.T) {
	content := drawn(func(p *Page) { p.MoveTo(0, 0); p.LineTo(3, 0); p.QuadTo(6, 3, 9, 0); p.QuadTo(12, 3, 15, 0) })
	assert.Equal(t, "0 0 m\n3 0 l\n5 2 7 2 9 0 c\n11 2 13 2 15 0 c\n", content)
}

// A circle in four curves is off by less than 3 in 10000 (and the digits kept).
func TestCirclesAreRound(t *testing.T) {
	lines := strings.Split(strings.TrimSpace(drawn(func(p *Page) { p.Circle(40, 20, 10) })), "\n")
	require.Len(t, lines, 6)
	assert.Equal(t, "h", lines[5])
	from := numbers(lines[0])
	for _, line := range lines[1:5] {
		curve := append(from, numbers(line)...)
		for at := 0.0; at <= 1; at += 0.05 {
			x, y := cubic(at, curve)
			assert.InDelta(t, 10, math.Hypot(x-40, y-20), 10*0.0003+0.001)
		}
		from = curve[6:8:8]
	}
	assert.Equal(t, numbers(lines[0]), from, "it closes")
}

// Codes count from 1 by first use.
func TestText(t *testing.T) {
	d := New(100, 50, About{})
	f, err := d.AddFont(goregular.TTF)
	require.NoError(t, err)
	p := d.AddPage()
	begun := len(p.content)
	p.Text(f, 4, 10, 20, "abba")
	p.Text(f, 4, 10, 25, "")
	p.Text(f, 4, 10, 30.5, "bc")
	assert.Equal(t, "BT /F1 4 Tf 1 0 0 -1 10 20 Tm (\x00\x01\x00\x02\x00\x02\x00\x01) Tj ET\n"+
		"BT 1 0 0 -1 10 30.5 Tm (\x00\x02\x00\x03) Tj ET\n", string(p.content[begun:]))
}
