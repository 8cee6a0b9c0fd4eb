package answer

import (
	"fmt"

	"strandwise/session"

	d "strandwise/cmd/document"
)

// Document tells what was logged, which strands that leaves too long, and the row to work.
func (a *Logged) Document() d.Document {
	p, of := &prose{}, a.of
	word, row, next := session.RowWord(!of.State.Setup.Flat), a.Logged[len(a.Logged)-1].Row, of.State.Next()
	p.act("%s", a.heading(word, row))
	a.made(p)
	gaps := of.LongGaps(row)
	for _, line := range of.GapWords(row, gaps) {
		p.add(d.Line{Label: "too long: ", Text: Catches(line), Tone: d.Warning})
	}
	if len(gaps) > 0 {
		p.item("%s", of.Mended())
	}
	if !a.corrected {
		yarns := of.Layout.Fabric.Yarns
		for _, t := range of.NewTurns() {
			p.item("%s", t.Untangle(yarns[t.A].Name, yarns[t.B].Name))
		}
	}
	if a.NextChanged {
		p.act("the catches of %s %d are moved to fit", word, next)
	}
	switch {
	case a.corrected && a.NextChanged:
		p.next("strandwise show, for the %s to work now", word)
	case a.corrected:
	case next == 0:
		p.act("all %s are worked", d.Counted(of.Rows(), word))
		p.next("next: strandwise bind-off")
	default:
		p.add(d.Act(d.Text{{Text: " ", Whole: true}})) // an empty line
		sheet := a.Next.Document()
		sheet.Blocks = append(p.blocks, sheet.Blocks...)
		return sheet
	}
	return p.document()
}

// heading says which rows were logged.
func (a *Logged) heading(word string, row int) string {
	first, changed := a.Logged[0].Row, a.of.Changes(row).Any()
	switch {
	case a.corrected && !changed:
		return fmt.Sprintf("%s %d corrected: all its catches were made as shown", word, row)
	case a.corrected:
		return fmt.Sprintf("%s %d corrected:", word, row)
	case row > first:
		return fmt.Sprintf("%ss %d to %d logged as already knitted", word, first, row)
	case a.Logged[0].Unwitnessed:
		return fmt.Sprintf("%s %d logged as already knitted", word, row)
	case !changed:
		return fmt.Sprintf("%s %d logged as planned", word, row)
	}
	return fmt.Sprintf("%s %d logged, with changes:", word, row)
}

// made tells the runs of the first row that were made otherwise, as they were made.
func (a *Logged) made(p *prose) {
	aloud := a.of.AsMadeAloud(a.Logged[0].Row)
	for i, line := range a.Logged[0].Changes {
		p.add(d.Line{Text: d.Text{{Text: line, Aloud: aloud[i], Name: true}}, Indent: 2, Extra: true})
	}
}
