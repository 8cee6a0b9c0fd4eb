package answer

import (
	"cmp"
	"fmt"
	"strings"

	d "strandwise/cmd/document"
	"strandwise/floats"
	"strandwise/session"
)

// SwatchAsked is a swatch and what is asked of it.
type SwatchAsked struct {
	Gauge    floats.Gauge
	Unwashed floats.Gauge // may be zero
	Flat     bool
	Inches   bool
	Stitches int     // 0 when not asked
	Rows     int     // 0 when not asked
	Width    float64 // mm, 0 when not asked
	Height   float64 // mm, 0 when not asked
	Repeat   int     // stitches, at least 1
}

// Swatch is what swatch answers, schema 1. Lengths are in mm; counts that were not asked
// for are 0. Unwashed_width is how wide the stitches that were asked for, or else those of
// the nearest repeat, are before washing, 0 where no gauge of that was told.
type Swatch struct {
	Gauge        string                 `json:"gauge"`
	StitchWidth  float64                `json:"stitch_width"`
	RowHeight    float64                `json:"row_height"`
	Per10cm      float64                `json:"stitches_per_10cm"`
	RowsPer10cm  float64                `json:"rows_per_10cm"`
	Per4in       float64                `json:"stitches_per_4in"`
	Stitches     int                    `json:"stitches"`
	Width        float64                `json:"width"`
	Unwashed     float64                `json:"unwashed_width"`
	Nearest      int                    `json:"nearest_stitches"`
	RepeatBelow  int                    `json:"repeat_below"`
	RepeatAbove  int                    `json:"repeat_above"`
	RepeatNearer int                    `json:"repeat_nearest"`
	Limits       []SwatchLimit          `json:"limits"`
	Categories   []session.YarnCategory `json:"categories"`

	asked SwatchAsked
}

// SwatchLimit is the limit of a kind of item in stitches.
type SwatchLimit struct {
	Item  string `json:"item"`
	Limit int    `json:"limit"`
}

// NewSwatch answers what is asked. Width and stitches answer each other.
func NewSwatch(s SwatchAsked) *Swatch {
	g := s.Gauge
	a := &Swatch{
		asked: s,
		Gauge: g.String(), StitchWidth: hundredths(g.StitchWidth()), RowHeight: hundredths(g.RowHeight()),
		Per10cm: hundredths(100 / g.StitchWidth()), Per4in: hundredths(session.StitchesIn4(g)),
		Stitches: s.Stitches, Width: hundredths(s.Width), Categories: session.CategoriesOf(g),
	}
	if g.RowHeight() > 0 {
		a.RowsPer10cm = hundredths(100 / g.RowHeight())
	}
	if s.Stitches > 0 && s.Width == 0 {
		a.Width = hundredths(session.WidthOf(g, s.Stitches))
	}
	if s.Width > 0 {
		a.Nearest = session.StitchesFor(g, s.Width)
		a.RepeatBelow, a.RepeatAbove, a.RepeatNearer = session.FitRepeat(g, s.Width, s.Repeat)
	}
	if u := s.Unwashed; !u.IsZero() {
		a.Unwashed = hundredths(session.WidthOf(u, cmp.Or(s.Stitches, a.RepeatNearer)))
	}
	for _, it := range floats.Items {
		a.Limits = append(a.Limits, SwatchLimit{it.Word, g.Limit(it)})
	}
	return a
}

// Document is all about a swatch.
func (a *Swatch) Document() d.Document {
	p := &prose{}
	a.gauge(p)
	a.counts(p)
	a.limits(p)
	a.yarn(p)
	a.advice(p)
	return d.Document{Title: "swatch", Blocks: p.blocks}
}

func (a *Swatch) gauge(p *prose) {
	g, u := a.asked.Gauge, a.asked.Unwashed
	p.heading(d.Text{{Text: "Gauge "}, gauge(a.Gauge, "row")})
	p.item("%s in 10 cm; %s in 4 in.", gaugeOver(g, 100), gaugeOver(g, 4*25.4))
	if g.RowHeight() > 0 {
		p.item("A stitch is %.1f mm wide and %.1f mm high, %.2f times as wide as high.", g.StitchWidth(), g.RowHeight(), g.StitchWidth()/g.RowHeight())
	} else {
		p.item("A stitch is %.1f mm wide. Count rows too: their height, and the yarn a stitch takes, follow from both.", g.StitchWidth())
	}
	if u.IsZero() {
		return
	}
	washing := ": washing " + grown("width", u.StitchWidth(), g.StitchWidth())
	if u.RowHeight() > 0 && g.RowHeight() > 0 {
		washing += " and " + grown("length", u.RowHeight(), g.RowHeight())
	}
	washing += ". Reckon with the washed gauge, and measure the piece on the needles with the unwashed one."
	p.add(d.Line{Text: d.Text{{Text: "Before washing it was "}, gauge(u.String(), "row"), {Text: washing}}})
}

// gaugeOver is the stitches, and the rows where they were counted, over a length in mm.
func gaugeOver(g floats.Gauge, mm float64) string {
	words := numbered(d.Tenths(mm/g.StitchWidth()), "stitch")
	if g.RowHeight() > 0 {
		words += " and " + numbered(d.Tenths(mm/g.RowHeight()), "row")
	}
	return words
}

func grown(what string, before, after float64) string {
	change := 100 * (after - before) / before
	switch {
	case change >= 0.05:
		return fmt.Sprintf("adds %.1f %% to the %s", change, what)
	case change <= -0.05:
		return fmt.Sprintf("takes %.1f %% off the %s", -change, what)
	}
	return "leaves the " + what
}

func (a *Swatch) counts(p *prose) {
	of, wide, high := a.asked, a.asked.Gauge.StitchWidth(), a.asked.Gauge.RowHeight()
	if of.Stitches > 0 || of.Rows > 0 || of.Width > 0 || of.Height > 0 {
		p.heading(d.Words("Counts and lengths"))
	}
	if n := of.Stitches; n > 0 {
		p.item("%s %s wide%s.", are(n, "stitch"), a.measure(n, wide), a.before(n, of.Unwashed.StitchWidth))
	}
	if of.Width > 0 {
		p.item("%s of width are %s: %s%s.", d.Length(of.Width, of.Inches), stitches(a.Nearest), a.measure(a.Nearest, wide), a.before(a.Nearest, of.Unwashed.StitchWidth))
		a.repeats(p)
	}
	if n := of.Rows; n > 0 {
		p.item("%s %s high%s.", are(n, "row"), a.measure(n, high), a.before(n, of.Unwashed.RowHeight))
	}
	if of.Height > 0 {
		rows := int(of.Height/high + 0.5)
		p.item("%s of height are %s%s.", d.Length(of.Height, of.Inches), d.Counted(rows, "row"), a.before(rows, of.Unwashed.RowHeight))
	}
}

// measure is the length of a number of stitches or rows, each of a size in mm.
func (a *Swatch) measure(n int, each float64) string {
	return d.Length(float64(n)*each, a.asked.Inches)
}

// before is how much they measured before washing, each of them as told, where that is known.
func (a *Swatch) before(n int, each func() float64) string {
	if a.asked.Unwashed.IsZero() || each() == 0 {
		return ""
	}
	return ", " + a.measure(n, each()) + " unwashed, on the needles"
}

func (a *Swatch) repeats(p *prose) {
	if a.asked.Repeat < 2 {
		return
	}
	var ways []string
	for _, n := range []int{a.RepeatBelow, a.RepeatAbove} {
		if n > 0 {
			ways = append(ways, fmt.Sprintf("%s (%s) %s wide", stitches(n), d.Counted(n/a.asked.Repeat, "repeat"), a.measure(n, a.asked.Gauge.StitchWidth())))
		}
	}
	p.item("In repeats of %s: %s. The nearest is %d%s.", stitches(a.asked.Repeat), strings.Join(ways, ", or "),
		a.RepeatNearer, a.before(a.RepeatNearer, a.asked.Unwashed.StitchWidth))
}

// itemNames name the kinds of item, in the order of floats.Items.
var itemNames = []string{"general (hat, body, cowl)", "sleeve", "hands and feet", "baby"}

func (a *Swatch) limits(p *prose) {
	p.heading(d.Words("How far a yarn may pass uncaught, at this gauge"))
	for i, l := range a.Limits {
		p.item("%s: %s (%s)", itemNames[i], stitches(l.Limit), a.measure(l.Limit, a.asked.Gauge.StitchWidth()))
	}
	p.aside("About an inch is the knitters' rule; the shorter lengths are choices of this program, not a standard.")
	p.item("Hands, feet, baby: %s", session.Baby.Cautions()[0])
}

func (a *Swatch) yarn(p *prose) {
	p.heading(d.Words("Yarn"))
	if len(a.Categories) == 0 {
		p.item("The gauge is finer than the table of the Craft Yarn Council.")
	}
	for _, c := range a.Categories {
		count := fmt.Sprintf("%d to %d stitches", c.From, c.To)
		if c.From == 0 {
			count = fmt.Sprintf("%d stitches or fewer", c.To)
		}
		p.item("Category %d, %s: %s in 4 in, needles %s.", c.Number, c.Name, count, needleBand(c.NeedleFrom, c.NeedleTo))
	}
	p.aside("Source: Craft Yarn Council, Standard Yarn Weight System. Its table is for stockinette (stocking stitch in the UK). " +
		"Stranded knitting runs tighter: the yarn may be one category heavier than its stranded gauge says, and many go up a needle size for it.")
	p.item("Sticky yarn (wool with some tooth) holds its floats and its catches. Slippery yarn (superwash, cotton, silk, bamboo) lets both slide: " +
		"keep the floats shorter, and look at the swatch from the wrong side after washing.")
}

// needleBand tells needles from one size to another, in mm and in US and UK sizes; 0 is no upper end.
func needleBand(from, to float64) string {
	us, uk := session.NeedleNames(from)
	if to == 0 {
		return fmt.Sprintf("%g mm and larger (US %s and larger)", from, us)
	}
	us2, uk2 := session.NeedleNames(to)
	band := fmt.Sprintf("%g to %g mm (US %s to %s", from, to, us, us2)
	if uk != "" && uk2 != "" {
		band += fmt.Sprintf(", UK %s to %s", uk, uk2)
	}
	return band + ")"
}

func (a *Swatch) advice(p *prose) {
	p.heading(d.Words("The swatch"))
	how := "in the round as the piece will be, or on two needles with every row a right-side row and the yarns laid loosely across the back"
	if a.asked.Flat {
		how = "flat, right and wrong side, as the piece will be"
	}
	p.item("Measure over stranded knitting, never over plain: the floats draw it in. Work it %s. Make it at least 15 cm (6 in) wide, wash and dry it as the piece will be, "+
		"count over the middle, half stitches too.", how)
}
