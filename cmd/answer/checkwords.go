package answer

import (
	"fmt"

	"strandwise/chart"
	"strandwise/session"

	d "strandwise/cmd/document"
)

// Document is the check in words.
func (c *Check) Document() d.Document {
	p := &checkProse{b: c}
	p.heading(d.Named(c.name, fmt.Sprintf(": %s by %s, %s", d.Counted(c.Columns, "column"), d.Counted(c.Rows, "row"), stitches(c.Stitches))))
	for _, y := range c.Yarns {
		p.add(d.Line{Text: y.text()})
	}
	p.heading(d.Words("Floats"))
	p.add(d.Line{Text: measured(fmt.Sprintf("Limit %s, %s.", stitches(c.Limit), c.limitFrom), "row")})
	p.item("%s within it, %d over it; the longest is %s.", d.Counted(c.Within, "float"), c.Over, stitches(c.Longest))
	if c.Over > 0 {
		p.item("strandwise floats tells where to catch them.")
	}
	p.rowsSection()
	p.shapingSection()
	p.colors()
	return d.Document{Title: c.name, Blocks: p.blocks}
}

type checkProse struct {
	prose
	b *Check
}

// text tells a yarn; its color is not said aloud.
func (y *CheckYarn) text() d.Text {
	role := "pattern"
	if y.Background {
		role = "background"
	}
	words := "declared, never worked."
	if y.Stitches > 0 {
		words = fmt.Sprintf("%s in %s, %s up to %d, %s over the limit.", stitches(y.Stitches), d.Counted(y.Rows, "row"),
			d.Counted(y.Runs, "run"), y.LongestRun, d.Counted(y.Over, "float"))
	}
	return d.Text{symbol(y.Symbol), {Text: " ", Aloud: ", "}, {Text: y.Name, Name: true}, {Text: " " + y.Color + ", ", Aloud: ", "}, {Text: role + ": " + words}}
}

func (p *checkProse) rowsSection() {
	if len(p.b.Crowded) > 0 {
		p.heading(d.Words("Rows of three yarns or more"))
		p.list("", session.Ranges(p.b.Crowded))
	}
	if len(p.b.Twins) == 0 {
		return
	}
	p.heading(d.Words("Rows that begin like an earlier one"))
	var alike, part []string
	for _, t := range p.b.Twins {
		if t.PartsAt == 0 {
			alike = append(alike, fmt.Sprintf("%d as %d", t.Row, t.Other))
			continue
		}
		part = append(part, fmt.Sprintf("%d as %d, up to stitch %d", t.Row, t.Other, t.PartsAt-1))
	}
	if len(alike) > 0 {
		p.list("throughout:", alike)
	}
	p.each(len(part), func(i int) { p.item("row %s", part[i]) }, andMore)
}

func (p *checkProse) shapingSection() {
	if len(p.b.Shaping) == 0 && len(p.b.Warnings) == 0 {
		return
	}
	p.heading(d.Words("Shaping, in one repeat"))
	for _, s := range p.b.Shaping {
		p.item("row %d uses up %s and leaves %d", s.Row, stitches(s.Uses), s.Leaves)
	}
	for _, w := range p.b.Warnings {
		p.item("Warning: %s.", w)
	}
}

func (p *checkProse) colors() {
	if len(p.b.Pairs) == 0 {
		return
	}
	p.heading(d.Words("Colors, pair by pair"))
	for _, c := range p.b.Pairs {
		words := fmt.Sprintf(" and %s: difference %.1f, lightness apart by %.1f, contrast %.1f.%s", c.B.Name, c.DeltaE, c.Lightness, c.Contrast, alikeWords(c))
		p.add(d.Line{Text: d.Named(c.A.Name, words)})
	}
	p.aside("Difference is CIEDE2000: under %d is hard to tell apart in the fabric. Lightness is L*, what a gray photo shows: under %d the pattern is lost in one. "+
		"Both bounds are choices of this program. Contrast is the ratio of WCAG 2.2, made for screens, a rough scale here.", chart.AlikeDeltaE, chart.AlikeLightness)
}

// alikeWords says what comes of two yarns that are alike.
func alikeWords(c CheckPair) string {
	switch {
	case c.TooAlike:
		return " Too alike: choose another shade for one of them."
	case c.Muddy:
		return " Too near in lightness: the pattern is lost in a gray photo."
	}
	return ""
}
