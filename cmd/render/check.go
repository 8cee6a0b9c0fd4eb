package render

import (
	"math"

	"strandwise/chart"
	"strandwise/floats"
)

// CheckJSON is what to know of a chart before casting on. Rows and columns count
// from 1; stitches are those of one repeat, floats those of all repeats; yarns are
// told by symbol. Floats longer than the limit are over it. A row's twin is an
// earlier row that begins alike; parts_at is the stitch at which they part, 0 when
// they never do. Delta_e is the CIEDE2000 difference, lightness the difference in
// L*, contrast the ratio of WCAG 2.2, made for screens and a rough scale here.
type CheckJSON struct {
	Title    string             `json:"title"`
	Columns  int                `json:"columns"`
	Rows     int                `json:"rows"`
	Stitches int                `json:"stitches"`
	Yarns    []CheckYarnJSON    `json:"yarns"`
	Limit    int                `json:"limit"`
	Within   int                `json:"floats_within"`
	Over     int                `json:"floats_over"`
	Longest  int                `json:"longest_float"`
	Crowded  []int              `json:"rows_of_three_yarns"`
	Twins    []CheckTwinJSON    `json:"twins"`
	Shaping  []CheckShapingJSON `json:"shaping"`
	Warnings []CheckWarningJSON `json:"warnings"`
	Pairs    []CheckPairJSON    `json:"pairs"`
}

// CheckYarnJSON is one yarn of a checked chart.
type CheckYarnJSON struct {
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

// CheckTwinJSON is a row and its twin.
type CheckTwinJSON struct {
	Row     int `json:"row"`
	Twin    int `json:"twin"`
	PartsAt int `json:"parts_at"`
}

// CheckShapingJSON is a row with shaped stitches: the stitches it uses up and
// leaves in one repeat.
type CheckShapingJSON struct {
	Row    int `json:"row"`
	Uses   int `json:"uses"`
	Leaves int `json:"leaves"`
}

// CheckWarningJSON is a row that uses up another number of stitches than the row
// below leaves.
type CheckWarningJSON struct {
	Row  int `json:"row"`
	Uses int `json:"uses"`
	Left int `json:"left"`
}

// CheckPairJSON compares two yarns.
type CheckPairJSON struct {
	A         string  `json:"a"`
	B         string  `json:"b"`
	DeltaE    float64 `json:"delta_e"`
	Lightness float64 `json:"lightness"`
	Contrast  float64 `json:"contrast"`
	TooAlike  bool    `json:"too_alike"`
	Muddy     bool    `json:"muddy"`
}

// CheckBody gathers what to know of a chart laid out as a fabric.
func CheckBody(c *chart.Chart, f *floats.Fabric, t floats.Task) CheckJSON {
	b := CheckJSON{Title: c.Title, Columns: c.Width(), Rows: c.Height(), Limit: t.Limit, Crowded: c.CrowdedRows()}
	b.yarns(c, f.Flat)
	for _, fl := range f.Floats(t.RestLimit) {
		b.float(fl)
	}
	direction := chart.InTheRound
	if f.Flat {
		direction = chart.BackAndForth
	}
	for _, twins := range c.AllTwins(direction) {
		b.Twins = append(b.Twins, CheckTwinJSON{twins.Row, twins.Other, twins.PartsAt})
	}
	b.shaping(c)
	for _, p := range c.Pairs() {
		b.Pairs = append(b.Pairs, CheckPairJSON{
			A: string(c.Yarns[p.A].Symbol), B: string(c.Yarns[p.B].Symbol), DeltaE: hundredths(p.DeltaE),
			Lightness: hundredths(p.Lightness), Contrast: hundredths(p.Contrast), TooAlike: p.TooAlike(), Muddy: p.Muddy(),
		})
	}
	return b
}

// hundredths rounds to two decimals.
func hundredths(x float64) float64 { return math.Round(x*100) / 100 }

func (b *CheckJSON) yarns(c *chart.Chart, flat bool) {
	for i, y := range c.Yarns {
		b.Yarns = append(b.Yarns, CheckYarnJSON{Symbol: string(y.Symbol), Name: y.Name, Color: y.Color.String(), Stitches: c.StitchCounts()[i]})
		b.Stitches += b.Yarns[i].Stitches
	}
	for _, i := range c.BackgroundYarns() {
		b.Yarns[i].Background = true
	}
	for row := 1; row <= c.Height(); row++ {
		for _, i := range c.YarnsIn(row) {
			b.Yarns[i].Rows++
		}
		for _, run := range c.Runs(row, flat && row%2 == 0) {
			y := &b.Yarns[run.Yarn]
			y.Runs++
			y.LongestRun = max(y.LongestRun, run.Length)
		}
	}
}

func (b *CheckJSON) float(fl floats.Float) {
	y := &b.Yarns[fl.Yarn]
	b.Longest, y.Longest = max(b.Longest, fl.Length), max(y.Longest, fl.Length)
	if fl.Length <= b.Limit {
		b.Within++
		return
	}
	b.Over++
	y.Over++
}

func (b *CheckJSON) shaping(c *chart.Chart) {
	for row := 1; row <= c.Height(); row++ {
		for _, cell := range c.Cells(row) {
			if !cell.IsEmpty() && cell.Technique.Shaped() {
				uses, leaves := c.StitchSums(row)
				b.Shaping = append(b.Shaping, CheckShapingJSON{row, uses, leaves})
				break
			}
		}
	}
	for _, w := range c.Warnings() {
		b.Warnings = append(b.Warnings, CheckWarningJSON{w.Row, w.Uses, w.Left})
	}
}
