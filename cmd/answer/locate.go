package answer

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"strandwise/chart"
	d "strandwise/cmd/document"
	"strandwise/session"
)

// Located is what locate answers, schema 1.
type Located struct {
	session.Located
	Command string `json:"command"` // that brings the log to the row, when just one fits; else empty

	piece *session.Piece
	word  string // what a row of it is called
	below bool   // the row below was read too
}

// NewLocated is the answer of a search in a piece; below says that the row below was read too.
func NewLocated(p *session.Piece, l session.Located, below bool) *Located {
	a := &Located{Located: l, piece: p, word: session.RowWord(!p.Layout.Fabric.Flat), below: below}
	if l.Whole && len(l.Fits) == 1 && l.Fits[0].Row > p.State.Row {
		a.Command = fmt.Sprintf("strandwise knit --to %d", l.Fits[0].Row)
	}
	return a
}

const locateMost = 8 // rows listed one by one

// Document tells the rows that fit, and how to tell them apart.
func (a *Located) Document() d.Document {
	p, word := &prose{}, a.word
	switch {
	case len(a.Fits) == 0:
		p.item("no %s of %s begins like that; check the first run, or name a yarn for each", word, a.piece.State.Setup.Name)
	case !a.Whole:
		p.item("no %s fits all %s; these come nearest:", word, stitches(a.Stitches))
	case len(a.Fits) == 1:
		p.item("only one %s fits:", word)
	default:
		p.item("%d %ss fit:", len(a.Fits), word)
	}
	rows := mapped(a.Fits, func(f session.RowFit) int { return f.Row })
	for _, f := range a.Fits[:min(len(a.Fits), locateMost)] {
		label := fmt.Sprintf("%s %d: ", word, f.Row)
		p.add(d.Line{Label: label, Text: d.Text{{Aloud: label}, {Text: a.fit(f)}}, Indent: 2})
	}
	if len(rows) > locateMost {
		p.item("and %s", numberList(rows[locateMost:]))
	}
	if a.Whole {
		a.apart(p, rows)
		a.catchUp(p, rows)
	}
	return d.Document{Title: "locate", Blocks: p.blocks}
}

func (a *Located) catchUp(p *prose, rows []int) {
	row := a.piece.State.Row
	away := func(n int) int { return max(n-row, row-n) }
	nearest := slices.MinFunc(rows, func(a, b int) int { return away(a) - away(b) })
	switch name := fmt.Sprintf("%s %d", a.word, nearest); {
	case nearest == row:
		p.act("the log already says so: %s is the last finished one", name)
		p.next("next: strandwise show")
	case nearest > row:
		p.next("if %s is on the needles: strandwise knit --to %d", name, nearest)
	default:
		p.next("if %s is on the needles, the log is %s ahead: strandwise undo, for what was logged by mistake, or strandwise rip, for what was taken out", name, d.Counted(row-nearest, a.word))
	}
}

func (a *Located) fit(f session.RowFit) string {
	r := a.piece.Row(f.Row)
	text := fmt.Sprintf("%s row %d", a.piece.Layout.Parts[r.Part].Title(), r.ChartRow)
	if f.Stitches < a.Stitches {
		text += fmt.Sprintf("; the first %d of %s fit", f.Stitches, stitches(a.Stitches))
	}
	return text + "; " + a.began(f)
}

func (a *Located) began(f session.RowFit) string {
	repeated, from, other := "repeat", fmt.Sprintf("stitch %d of the repeat", f.From), fmt.Sprint(f.Other)
	if f.At != nil {
		repeated, from = "row", a.piece.PlaceWords(f.Row, a.piece.Row(f.Row).StitchAt(*f.At))
	}
	if f.OtherAt != nil {
		other = strings.TrimPrefix(a.piece.PlaceWords(f.Row, a.piece.Row(f.Row).StitchAt(*f.OtherAt)), "stitch ")
	}
	many := fmt.Sprintf("it could begin at any of %d stitches of the %s", f.Places, repeated)
	switch several := f.Places > 2 || f.Places == 2 && f.Other == 0; {
	case several && f.Other > 0:
		return many + ", read either way"
	case several && f.Backward:
		return many + ", read against the order of knitting"
	case several:
		return many
	case f.Other > 0:
		return fmt.Sprintf("you began at %s, or at %s if you read against the order of knitting", from, other)
	case f.Backward:
		return fmt.Sprintf("you began at %s and read against the order of knitting", from)
	}
	return "you began at " + from
}

func (a *Located) apart(p *prose, rows []int) {
	switch {
	case len(rows) < 2:
		return
	case a.Apart == nil && a.below:
		p.item("neither reading on nor the %s below tells %s apart", a.word, inRows(a.word, rows))
		return
	case a.Apart == nil:
		p.item("reading on does not tell %s apart: read the %s below too, with --below", inRows(a.word, rows), a.word)
		return
	}
	is := mapped(a.Apart.Yarns, func(y session.ApartYarn) string {
		return cmp.Or(y.Yarn.Name, "past the end") + " in " + inRows(a.word, y.Rows)
	})
	text := fmt.Sprintf("to tell them apart read on: the %d%s stitch after those is %s", a.Apart.After, ordinal(a.Apart.After), strings.Join(is, ", "))
	if len(a.Apart.Unsure) > 0 {
		text += fmt.Sprintf("; in %s it depends on where you began", inRows(a.word, a.Apart.Unsure))
	}
	p.item("%s", text)
}

// ordinal is the ending of a number that counts in order: 11th, 21st.
func ordinal(n int) string {
	ending, is := map[int]string{1: "st", 2: "nd", 3: "rd"}[n%10]
	if !is || n%100/10 == 1 {
		return "th"
	}
	return ending
}

// inRows is "round 5" or "rounds 5 and 20".
func inRows(word string, rows []int) string {
	return chart.Plural(word, len(rows)) + " " + numberList(rows)
}

// numberList joins numbers as a sentence does, a long list in part.
func numberList(all []int) string {
	words := numbers(all[:min(len(all), 2*locateMost)])
	if more := len(all) - len(words); more > 0 {
		return strings.Join(words, ", ") + fmt.Sprintf(" and %d more", more)
	}
	return session.Listed(words, "and")
}

func numbers(all []int) []string { return mapped(all, strconv.Itoa) }
