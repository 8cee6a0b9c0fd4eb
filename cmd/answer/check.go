package answer

import (
	"fmt"
	"math"
	"slices"

	"strandwise/chart"
	d "strandwise/cmd/document"
	"strandwise/floats"
)

// Check is what to know of a chart before casting on. Rows and columns count
// from 1; stitches are those of one repeat, floats those of all repeats; yarns are
// told by symbol. Floats longer than the limit are over it. A row's twin is an
// earlier row that begins alike; parts_at is the stitch at which they part, 0 when
// they never do. Delta_e is the CIEDE2000 difference, lightness the difference in
// L*, contrast the ratio of WCAG 2.2, made for screens and a rough scale here.
type Check struct {
	Title    string          `json:"title"`
	Columns  int             `json:"columns"`
	Rows     int             `json:"rows"`
	Stitches int             `json:"stitches"`
	Yarns    []CheckYarn     `json:"yarns"`
	Limit    int             `json:"limit"`
	Within   int             `json:"floats_within"`
	Over     int             `json:"floats_over"`
	Longest  int             `json:"longest_float"`
	Crowded  []int           `json:"rows_of_three_yarns"`
	Twins    []chart.Twins   `json:"twins"`
	Shaping  []CheckShaping  `json:"shaping"`
	Warnings []chart.Warning `json:"warnings"`
	Pairs    []CheckPair     `json:"pairs"`

	name, limitFrom string
}

// CheckYarn is one yarn of a checked chart.
type CheckYarn struct {
	Symbol     string `json:"symbol"`
	Name       string `json:"name"`
	Color      string `json:"color"`
	Background bool   `json:"background"`
	Stitches   int    `json:"stitches"`
	Rows       int    `json:"rows"` // in how many it is worked
	Runs       int    `json:"runs"`
	LongestRun int    `json:"longest_run"`
	Over       int    `json:"floats_over"`
	Longest    int    `json:"longest_float"`
}

// CheckShaping is a row with shaped stitches: the stitches it uses up and
// leaves in one repeat.
type CheckShaping struct {
	Row    int `json:"row"`
	Uses   int `json:"uses"`
	Leaves int `json:"leaves"`
}

// CheckPair compares two yarns.
type CheckPair struct {
	A         chart.Yarn `json:"a"`
	B         chart.Yarn `json:"b"`
	DeltaE    float64    `json:"delta_e"`
	Lightness float64    `json:"lightness"`
	Contrast  float64    `json:"contrast"`
	TooAlike  bool       `json:"too_alike"`
	Muddy     bool       `json:"muddy"`
}

// NewCheck is the answer about a chart laid out as a fabric; its words call it by the name, and say with limitFrom
// where the limit is from.
func NewCheck(c *chart.Chart, f *floats.Fabric, t floats.Task, name, limitFrom string) *Check {
	b := &Check{name: name, limitFrom: limitFrom, Title: c.Title, Columns: c.Width(), Rows: c.Height(), Limit: t.Limit, Crowded: c.CrowdedRows()}
	b.Yarns = CheckYarns(c, f.Flat)
	for _, y := range b.Yarns {
		b.Stitches += y.Stitches
	}
	for _, fl := range f.Floats(t.RestLimit) {
		y := &b.Yarns[fl.Yarn]
		b.Longest, y.Longest = max(b.Longest, fl.Length), max(y.Longest, fl.Length)
		if fl.Length <= b.Limit {
			b.Within++
			continue
		}
		b.Over++
		y.Over++
	}
	direction := chart.InTheRound
	if f.Flat {
		direction = chart.BackAndForth
	}
	b.Twins, b.Warnings = c.AllTwins(direction), c.Warnings()
	for row := 1; row <= c.Height(); row++ {
		if slices.ContainsFunc(c.Cells(row), func(cell chart.Cell) bool { return !cell.IsEmpty() && cell.Technique.Shaped() }) {
			uses, leaves := c.StitchSums(row)
			b.Shaping = append(b.Shaping, CheckShaping{row, uses, leaves})
		}
	}
	b.Pairs = mapped(c.Pairs(), func(p chart.Pair) CheckPair {
		return CheckPair{c.Yarns[p.A], c.Yarns[p.B], hundredths(p.DeltaE), hundredths(p.Lightness), hundredths(p.Contrast), p.TooAlike(), p.Muddy()}
	})
	return b
}

func hundredths(x float64) float64 { return math.Round(x*100) / 100 }

// CheckYarns tells of each yarn of a chart all but its floats.
func CheckYarns(c *chart.Chart, flat bool) []CheckYarn {
	yarns := make([]CheckYarn, len(c.Yarns))
	for i, y := range c.Yarns {
		yarns[i] = CheckYarn{Symbol: string(y.Symbol), Name: y.Name, Color: y.Color.String(), Stitches: c.StitchCounts()[i]}
	}
	for _, i := range c.BackgroundYarns() {
		yarns[i].Background = true
	}
	for row := 1; row <= c.Height(); row++ {
		for _, i := range c.YarnsIn(row) {
			yarns[i].Rows++
		}
		for _, run := range c.Runs(row, flat && row%2 == 0) {
			y := &yarns[run.Yarn]
			y.Runs++
			y.LongestRun = max(y.LongestRun, run.Length)
		}
	}
	return yarns
}

// Document is the check in words.
func (c *Check) Document() d.Document {
	p := &prose{}
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
	p.rows("Rows of three yarns or more", c.Crowded)
	c.twins(p)
	c.shaped(p)
	c.colors(p)
	return d.Document{Title: c.name, Blocks: p.blocks}
}

// text tells a yarn; its color is not said aloud.
func (y *CheckYarn) text() d.Text {
	role := map[bool]string{true: "background", false: "pattern"}[y.Background]
	words := "declared, never worked."
	if y.Stitches > 0 {
		words = fmt.Sprintf("%s in %s, %s up to %d, %s over the limit.", stitches(y.Stitches), d.Counted(y.Rows, "row"),
			d.Counted(y.Runs, "run"), y.LongestRun, d.Counted(y.Over, "float"))
	}
	return d.Text{symbol(y.Symbol), {Text: " ", Aloud: ", "}, {Text: y.Name, Name: true}, {Text: " " + y.Color + ", ", Aloud: ", "}, {Text: role + ": " + words}}
}

func (c *Check) twins(p *prose) {
	if len(c.Twins) == 0 {
		return
	}
	p.heading(d.Words("Rows that begin like an earlier one"))
	var alike []string
	var part []d.Text
	for _, t := range c.Twins {
		words := fmt.Sprintf("%d as %d", t.Row, t.Other)
		if t.PartsAt == 0 {
			alike = append(alike, words)
		} else {
			part = append(part, d.Words(fmt.Sprintf("row %s, up to stitch %d", words, t.PartsAt-1)))
		}
	}
	if len(alike) > 0 {
		p.list("throughout:", alike)
	}
	p.some("", part, andMore)
}

func (c *Check) shaped(p *prose) {
	if len(c.Shaping) == 0 && len(c.Warnings) == 0 {
		return
	}
	p.heading(d.Words("Shaping, in one repeat"))
	for _, s := range c.Shaping {
		p.item("row %d uses up %s and leaves %d", s.Row, stitches(s.Uses), s.Leaves)
	}
	for _, w := range c.Warnings {
		p.item("Warning: %s.", w)
	}
}

func (c *Check) colors(p *prose) {
	if len(c.Pairs) == 0 {
		return
	}
	p.heading(d.Words("Colors, pair by pair"))
	for _, pair := range c.Pairs {
		p.named(pair.A.Name, " and %s: difference %.1f, lightness apart by %.1f, contrast %.1f.%s", pair.B.Name, pair.DeltaE, pair.Lightness, pair.Contrast, alikeWords(pair))
	}
	p.aside("Difference is CIEDE2000: under %d is hard to tell apart in the fabric. Lightness is L*, what a gray photo shows: under %d the pattern is lost in one. "+
		"Both bounds are choices of this program. Contrast is the ratio of WCAG 2.2, made for screens, a rough scale here.", chart.AlikeDeltaE, chart.AlikeLightness)
}

func alikeWords(c CheckPair) string {
	switch {
	case c.TooAlike:
		return " Too alike: choose another shade for one of them."
	case c.Muddy:
		return " Too near in lightness: the pattern is lost in a gray photo."
	}
	return ""
}
