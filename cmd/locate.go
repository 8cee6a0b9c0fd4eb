package cmd

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"strandwise/chart"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
	"strandwise/session"
)

func newLocate(a *frame.App) *cobra.Command {
	below := ""
	c := a.Leaf(frame.Spec{
		Use:   "locate RUNS",
		Short: "find the row on the needles from its runs",
		Long: "Finds which row is on the needles. RUNS is what you read off the last finished row, from any stitch on and in either direction: counts with yarn names or symbols, or symbols alone. A count without a yarn is a run of another yarn than the one before.\n\n" +
			"The answer lists the rows that fit, the stitch to read on to where several do, and the command that brings the log up to the row.",
		Examples: []string{
			`strandwise locate "2 fjord 3 oat 2 fjord 1 oat"`,
			`strandwise locate 11 --below x.x..........x.x`,
		},
		Least: 1, Most: frame.AnyNumber, JSON: true,
	}, func(ctx context.Context, args []string) error {
		return runLocate(ctx, a, strings.Join(args, " "), below)
	})
	c.Flags().StringVar(&below, "below", "", "`RUNS` of the row below it, to tell rows apart that are alike")
	return c
}

func runLocate(ctx context.Context, a *frame.App, text, below string) error {
	p, err := stored.Take(a, ctx)
	if err != nil {
		return err
	}
	runs, err := p.ParseReading(text)
	if err != nil {
		return err
	}
	var under []session.ReadRun
	if below != "" {
		if under, err = p.ParseReading(below); err != nil {
			return err
		}
	}
	found := p.Locate(runs, under)
	if a.Flags.JSON {
		return a.AnswerJSON(1, locateBody(p, found))
	}
	tellLocated(a, p, found, below != "")
	return nil
}

// locateMost is how many rows are listed one by one.
const locateMost = 8

func tellLocated(a *frame.App, p *stored.Piece, l session.Located, below bool) {
	switch {
	case len(l.Fits) == 0:
		a.Tell("no %s of %s begins like that; check the first run, or name a yarn for each", p.RowWord(), p.State.Setup.Name)
		return
	case !l.Whole:
		a.Tell("no %s fits all %s; these come nearest:", p.RowWord(), stitches(l.Stitches))
	case len(l.Fits) == 1:
		a.Tell("only one %s fits:", p.RowWord())
	default:
		a.Tell("%d %ss fit:", len(l.Fits), p.RowWord())
	}
	for _, f := range l.Fits[:min(locateMost, len(l.Fits))] {
		tellFit(a, p, l, f)
	}
	if more := l.Fits[min(locateMost, len(l.Fits)):]; len(more) > 0 {
		a.Tell("and %s", numberList(rowsOf(more)))
	}
	tellApart(a, p, l, below)
	if l.Whole {
		tellCatchUp(a, p, l)
	}
}

func tellFit(a *frame.App, p *stored.Piece, l session.Located, f session.RowFit) {
	r := p.Row(f.Row)
	text := fmt.Sprintf("%s row %d", p.Layout.Parts[r.Part].Name, r.ChartRow)
	if f.Stitches < l.Stitches {
		text += fmt.Sprintf("; the first %d of %s fit", f.Stitches, stitches(l.Stitches))
	}
	text += "; " + began(f)
	a.TellUnder(fmt.Sprintf("  %s %d: ", p.RowWord(), f.Row), "%s", text)
}

// began tells where in its row a reading begins, and which way it goes.
func began(f session.RowFit) string {
	switch {
	case f.Places > 2 || f.Places == 2 && f.Other == 0:
		text := fmt.Sprintf("it could begin at any of %d stitches of the repeat", f.Places)
		if f.Other > 0 {
			text += ", read either way"
		} else if f.Backward {
			text += ", read against the order of knitting"
		}
		return text
	case f.Other > 0:
		return fmt.Sprintf("you began at stitch %d of the repeat, or at %d if you read against the order of knitting", f.From, f.Other)
	case f.Backward:
		return fmt.Sprintf("you began at stitch %d of the repeat and read against the order of knitting", f.From)
	}
	return fmt.Sprintf("you began at stitch %d of the repeat", f.From)
}

// tellApart says how to tell several rows apart.
func tellApart(a *frame.App, p *stored.Piece, l session.Located, below bool) {
	switch {
	case len(l.Fits) < 2 || !l.Whole:
		return
	case l.Apart == nil && below:
		a.Tell("%s are identical, also with the %s below", rowList(p, rowsOf(l.Fits)), p.RowWord())
		return
	case l.Apart == nil:
		a.Tell("%s are identical; read the %s below too, with --below", rowList(p, rowsOf(l.Fits)), p.RowWord())
		return
	}
	var words []string
	for _, y := range l.Apart.Yarns {
		name := "past the end"
		if y.Yarn != chart.NoYarn {
			name = p.Layout.Fabric.Yarns[y.Yarn].Name
		}
		words = append(words, fmt.Sprintf("%s in %s", name, rowList(p, y.Rows)))
	}
	text := fmt.Sprintf("to tell them apart read on: %s after those is %s", ordinalStitch(l.Apart.After), strings.Join(words, ", "))
	if len(l.Apart.Unsure) > 0 {
		text += fmt.Sprintf("; in %s it depends on where you began", rowList(p, l.Apart.Unsure))
	}
	a.Tell("%s", text)
}

// ordinalStitch is the n-th stitch in words.
func ordinalStitch(n int) string {
	ending := "th"
	if n%100 < 11 || n%100 > 13 {
		switch n % 10 {
		case 1:
			ending = "st"
		case 2:
			ending = "nd"
		case 3:
			ending = "rd"
		}
	}
	return fmt.Sprintf("the %d%s stitch", n, ending)
}

// tellCatchUp names the command that brings the log to the row: the nearest that fits.
func tellCatchUp(a *frame.App, p *stored.Piece, l session.Located) {
	row := p.State.Row
	nearest := slices.MinFunc(l.Fits, func(a, b session.RowFit) int { return max(a.Row-row, row-a.Row) - max(b.Row-row, row-b.Row) }).Row
	name := fmt.Sprintf("%s %d", p.RowWord(), nearest)
	switch {
	case nearest == row:
		a.Say("the log already says so: "+name+" is the last finished one", "next: strandwise show")
	case nearest > row:
		a.Say("", fmt.Sprintf("if %s is on the needles: strandwise knit --to %d", name, nearest))
	default:
		a.Say("", fmt.Sprintf("if %s is on the needles, the log is %s ahead: strandwise undo, for what was logged by mistake, or strandwise rip, for what was taken out", name, frame.Counted(row-nearest, p.RowWord())))
	}
}

func rowsOf(fits []session.RowFit) []int {
	rows := make([]int, len(fits))
	for i, f := range fits {
		rows[i] = f.Row
	}
	return rows
}

// rowList is numbers of rows with the word: rounds 21 and 22.
func rowList(p *stored.Piece, rows []int) string {
	word := p.RowWord()
	if len(rows) > 1 {
		word += "s"
	}
	return word + " " + numberList(rows)
}

// numberList joins numbers as a sentence does, a long list in part.
func numberList(rows []int) string {
	words := make([]string, 0, len(rows))
	for _, n := range rows[:min(len(rows), 2*locateMost)] {
		words = append(words, fmt.Sprint(n))
	}
	if more := len(rows) - len(words); more > 0 {
		return strings.Join(words, ", ") + fmt.Sprintf(" and %d more", more)
	}
	return frame.Listed(words, "and")
}

// locateAnswer is the JSON of locate, schema 1.
type locateAnswer struct {
	Stitches int          `json:"stitches"` // of the reading
	Whole    bool         `json:"whole"`    // the rows fit in all of them
	Fits     []locateFit  `json:"fits"`
	Apart    *locateApart `json:"apart"`   // null when nothing tells the rows apart, or only one fits
	Command  string       `json:"command"` // that brings the log to the row, when just one fits; else empty
}

// locateFit is a row that fits; stitches of the reading fit from its first on.
type locateFit struct {
	Row      int  `json:"row"`
	Stitches int  `json:"stitches"`
	From     int  `json:"from"`     // stitch of the repeat where the reading begins
	Backward bool `json:"backward"` // read against the order of knitting
	Other    int  `json:"other"`    // stitch where it begins if read the other way; 0 when it cannot be
	Places   int  `json:"places"`   // stitches of the repeat it could begin at, either way
}

// locateApart is the stitch that tells rows apart, counted after the last one read.
type locateApart struct {
	After  int               `json:"after"`
	Yarns  []locateApartYarn `json:"yarns"`
	Unsure []int             `json:"unsure"` // rows in which it depends on where the reading began
}

type locateApartYarn struct {
	Yarn string `json:"yarn"` // symbol; empty where the row has ended before it
	Rows []int  `json:"rows"`
}

func locateBody(p *stored.Piece, l session.Located) locateAnswer {
	body := locateAnswer{Stitches: l.Stitches, Whole: l.Whole}
	for _, f := range l.Fits {
		body.Fits = append(body.Fits, locateFit{f.Row, f.Stitches, f.From, f.Backward, f.Other, f.Places})
	}
	if l.Apart != nil {
		body.Apart = &locateApart{After: l.Apart.After, Unsure: l.Apart.Unsure}
		for _, y := range l.Apart.Yarns {
			symbol := ""
			if y.Yarn != chart.NoYarn {
				symbol = string(p.Layout.Fabric.Yarns[y.Yarn].Symbol)
			}
			body.Apart.Yarns = append(body.Apart.Yarns, locateApartYarn{symbol, y.Rows})
		}
	}
	if l.Whole && len(l.Fits) == 1 && l.Fits[0].Row > p.State.Row {
		body.Command = fmt.Sprintf("strandwise knit --to %d", l.Fits[0].Row)
	}
	return body
}
