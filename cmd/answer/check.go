package answer

import (
	"math"

	"strandwise/chart"
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

// NewCheck gathers what to know of a chart laid out as a fabric. The name is what its words
// call it, limitFrom says where the limit is from.
func NewCheck(c *chart.Chart, f *floats.Fabric, t floats.Task, name, limitFrom string) *Check {
	b := &Check{name: name, limitFrom: limitFrom, Title: c.Title, Columns: c.Width(), Rows: c.Height(), Limit: t.Limit, Crowded: c.CrowdedRows()}
	b.Yarns = CheckYarns(c, f.Flat)
	for _, y := range b.Yarns {
		b.Stitches += y.Stitches
	}
	for _, fl := range f.Floats(t.RestLimit) {
		b.float(fl)
	}
	direction := chart.InTheRound
	if f.Flat {
		direction = chart.BackAndForth
	}
	b.Twins = c.AllTwins(direction)
	b.shaping(c)
	for _, p := range c.Pairs() {
		b.Pairs = append(b.Pairs, CheckPair{
			A: c.Yarns[p.A], B: c.Yarns[p.B], DeltaE: hundredths(p.DeltaE),
			Lightness: hundredths(p.Lightness), Contrast: hundredths(p.Contrast), TooAlike: p.TooAlike(), Muddy: p.Muddy(),
		})
	}
	return b
}

// hundredths rounds to two decimals.
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

func (b *Check) float(fl floats.Float) {
	y := &b.Yarns[fl.Yarn]
	b.Longest, y.Longest = max(b.Longest, fl.Length), max(y.Longest, fl.Length)
	if fl.Length <= b.Limit {
		b.Within++
		return
	}
	b.Over++
	y.Over++
}

func (b *Check) shaping(c *chart.Chart) {
	for row := 1; row <= c.Height(); row++ {
		for _, cell := range c.Cells(row) {
			if !cell.IsEmpty() && cell.Technique.Shaped() {
				uses, leaves := c.StitchSums(row)
				b.Shaping = append(b.Shaping, CheckShaping{row, uses, leaves})
				break
			}
		}
	}
	b.Warnings = c.Warnings()
}
