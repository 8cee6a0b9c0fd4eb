package render

import (
	"fmt"
	"io"

	"strandwise/chart"
)

// WriteCheck tells what to know of a chart before casting on.
func WriteCheck(w io.Writer, name, limitFrom string, b CheckJSON, look Look) error {
	p := &checkPage{newProse(w, look), b}
	p.heading(fmt.Sprintf("%s: %s by %s, %s", name, counted(b.Columns, "column", "columns"), counted(b.Rows, "row", "rows"), stitches(b.Stitches)))
	for _, y := range b.Yarns {
		p.yarn(y)
	}
	p.heading("Floats")
	p.item("Limit %s, %s.", stitches(b.Limit), limitFrom)
	p.item("%s within it, %d over it; the longest is %s.", counted(b.Within, "float", "floats"), b.Over, stitches(b.Longest))
	if b.Over > 0 {
		p.item("strandwise floats tells where to catch them.")
	}
	p.rowsSection()
	p.shapingSection()
	p.colors()
	return p.err
}

type checkPage struct {
	*prose
	b CheckJSON
}

func (p *checkPage) yarn(y CheckYarnJSON) {
	role := "pattern"
	if y.Background {
		role = "background"
	}
	if y.Stitches == 0 {
		p.item("%s %s %s, %s: declared, never worked.", y.Symbol, y.Name, y.Color, role)
		return
	}
	p.item("%s %s %s, %s: %s in %s, %s up to %d, %s over the limit.", y.Symbol, y.Name, y.Color, role, stitches(y.Stitches),
		counted(y.Rows, "row", "rows"), counted(y.Runs, "run", "runs"), y.LongestRun, counted(y.Over, "float", "floats"))
}

func (p *checkPage) rowsSection() {
	if len(p.b.Crowded) > 0 {
		p.heading("Rows of three yarns or more")
		p.list("", Ranges(p.b.Crowded))
	}
	if len(p.b.Twins) == 0 {
		return
	}
	p.heading("Rows that begin like an earlier one")
	var alike, part []string
	for _, t := range p.b.Twins {
		if t.PartsAt == 0 {
			alike = append(alike, fmt.Sprintf("%d as %d", t.Row, t.Twin))
			continue
		}
		part = append(part, fmt.Sprintf("%d as %d, up to stitch %d", t.Row, t.Twin, t.PartsAt-1))
	}
	if len(alike) > 0 {
		p.list("throughout:", alike)
	}
	for i, words := range part {
		if i == rowsListed {
			p.item("and %d more", len(part)-i)
			break
		}
		p.item("row %s", words)
	}
}

func (p *checkPage) shapingSection() {
	if len(p.b.Shaping) == 0 && len(p.b.Warnings) == 0 {
		return
	}
	p.heading("Shaping, in one repeat")
	for _, s := range p.b.Shaping {
		p.item("row %d uses up %s and leaves %d", s.Row, stitches(s.Uses), s.Leaves)
	}
	for _, w := range p.b.Warnings {
		p.item("Warning: %s.", chart.Warning{Row: w.Row, Uses: w.Uses, Left: w.Left})
	}
}

func (p *checkPage) colors() {
	if len(p.b.Pairs) == 0 {
		return
	}
	p.heading("Colors, pair by pair")
	for _, c := range p.b.Pairs {
		p.item("%s and %s: difference %.1f, lightness apart by %.1f, contrast %.1f.%s", p.name(c.A), p.name(c.B), c.DeltaE, c.Lightness, c.Contrast, alikeWords(c))
	}
	p.aside("Difference is CIEDE2000: under %d is hard to tell apart in the fabric. Lightness is L*, what a gray photo shows: under %d the pattern is lost in one. "+
		"Both bounds are choices of this program. Contrast is the ratio of WCAG 2.2, made for screens, a rough scale here.", chart.AlikeDeltaE, chart.AlikeLightness)
}

func alikeWords(c CheckPairJSON) string {
	switch {
	case c.TooAlike:
		return " Too alike: choose another shade for one of them."
	case c.Muddy:
		return " Too near in lightness: the pattern is lost in a gray photo."
	}
	return ""
}

func (p *checkPage) name(symbol string) string {
	for _, y := range p.b.Yarns {
		if y.Symbol == symbol {
			return y.Name
		}
	}
	return symbol
}
