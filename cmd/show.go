package cmd

import (
	"cmp"
	"encoding/csv"
	"fmt"
	"io"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"strandwise/cmd/answer"
	"strandwise/cmd/document"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
	"strandwise/session"
)

type showOptions struct {
	row  int
	more bool
}

func newShow(a *frame.App) *cobra.Command {
	o := &showOptions{}
	c := a.Leaf(frame.Spec{Use: "show", JSON: true}, withTaken(stored.Take, o.run))
	set := c.Flags()
	set.IntVar(&o.row, "row", 0, "show row `N` instead, worked or to come")
	set.BoolVar(&o.more, "more", false, "every motion step by step, why a catch was moved, and where every yarn sits")
	return c
}

func (o *showOptions) run(a *frame.App, p *stored.Piece, _ []string) error {
	row := cmp.Or(o.row, p.State.Next())
	if row == 0 {
		return p.State.Check(&session.RowKnit{Row: p.State.Row + 1}) // says that no row is left
	}
	if row < 1 || row > p.Rows() {
		return frame.Usage("--row takes a whole number from 1 to %d, the last %s of %s, not %d", p.Rows(), p.RowWord(), p.State.Setup.Name, row).
			Hint("--row %d", min(max(1, p.State.Row+1), p.Rows()))
	}
	s := p.Sheet(row)
	if log := p.State.History(); !a.Flags.JSON && log[len(log)-1].Seq == log[0].Seq {
		s.Cautions = nil // the cast-on has told them just above
	}
	options := answer.RowOptions{Steps: o.more, Why: o.more, YarnPlaces: o.more, Alike: document.Alike(a.Display(), s.Worked())}
	if err := a.Answer(2, answer.NewRow(s, options)); err != nil {
		return err
	}
	if o.more && row > p.State.Row && len(s.Reasons) == 0 {
		a.Say("no catch is moved: all are where the plan has them", "")
	}
	return nil
}

func newResume(a *frame.App) *cobra.Command {
	run := func(a *frame.App, p *stored.Piece, _ []string) error {
		return a.Answer(2, answer.NewStanding(p.Piece, a.Env.Now()))
	}
	return a.Leaf(frame.Spec{Use: "resume", JSON: true}, withTaken(stored.TakeUp, run))
}

func newLocate(a *frame.App) *cobra.Command {
	below := ""
	run := func(a *frame.App, p *stored.Piece, args []string) error {
		runs, err := p.ParseReading(strings.Join(args, " "))
		var under []session.ReadRun
		if err == nil && below != "" {
			under, err = p.ParseReading(below)
		}
		if err != nil {
			return err
		}
		return a.Answer(1, answer.NewLocated(p.Piece, p.Locate(runs, under), below != ""))
	}
	c := a.Leaf(frame.Spec{Use: "locate RUNS...", JSON: true}, withTaken(stored.Take, run))
	c.Flags().StringVar(&below, "below", "", "`RUNS` of the row below it, to tell rows apart that are alike")
	return c
}

type historyOptions struct {
	last int
	csv  bool
}

func newHistory(a *frame.App) *cobra.Command {
	o := &historyOptions{last: 20}
	c := a.Leaf(frame.Spec{Use: "history", JSON: true}, o.run)
	c.Flags().BoolVar(&o.csv, "csv", false, "answer as a table of CSV, one line an event")
	c.Flags().IntVar(&o.last, "last", o.last, "only the last `N`; 0 is all")
	return c
}

func (o *historyOptions) run(a *frame.App, _ []string) error {
	if o.last < 0 {
		return frame.Usage("--last takes a whole number, 0 or more, not %d", o.last).Hint("--last 0, for all")
	}
	if o.csv && a.Flags.JSON {
		return frame.Usage("--csv and --json exclude each other").Hint("one of them")
	}
	p, err := stored.TakeWhole(a)
	if err != nil {
		return err
	}
	body := answer.NewHistory(p.Piece, o.last)
	if o.csv {
		return historyTable(a.Out, body)
	}
	return a.Answer(2, body)
}

// historyTable writes CSV by RFC 4180: lines end in CR LF. The columns are named as in JSON.
func historyTable(w io.Writer, body *answer.History) error {
	t := csv.NewWriter(w)
	t.UseCRLF = true
	lines := [][]string{{"number", "at", "kind", "words", "undone"}}
	for _, e := range body.Events {
		lines = append(lines, []string{fmt.Sprint(e.Number), e.At.Format(time.RFC3339), e.Kind, harmless(e.Words), frame.YesNo(e.Undone)})
	}
	return t.WriteAll(lines)
}

// harmless is a cell that a spreadsheet takes for text: one that it would run as a formula gets an
// apostrophe in front. Tab and carriage return are told because some spreadsheets skip them.
func harmless(cell string) string {
	if cell != "" && strings.ContainsRune("=+-@\t\r", rune(cell[0])) {
		return "'" + cell
	}
	return cell
}

type noteOptions struct {
	row        int
	whole, all bool
	done       uint64
}

func newNote(a *frame.App) *cobra.Command {
	o := &noteOptions{}
	c := a.Leaf(frame.Spec{Use: "note [TEXT...]", Writes: true, JSON: true}, o.run)
	set := c.Flags()
	set.IntVar(&o.row, "row", 0, "the note is about row `N` (default: the row to work)")
	set.BoolVar(&o.whole, "whole", false, "the note is about the whole piece")
	set.Uint64Var(&o.done, "done", 0, "close note `N`")
	set.BoolVar(&o.all, "all", false, "list closed notes too")
	return c
}

func (o *noteOptions) run(a *frame.App, args []string) error {
	text := strings.Join(args, " ")
	switch {
	case o.done != 0 && text != "":
		return frame.Usage("--done closes a note and takes no text").Hint("strandwise note --done %d", o.done)
	case o.whole && o.row != 0:
		return frame.Usage("--whole and --row exclude each other").Hint("one of them")
	case o.done == 0 && text == "" && (o.whole || o.row != 0):
		return frame.Usage("a note needs a text").Hint(`strandwise note "what to remember"`).Hint("strandwise note, which lists the open ones")
	}
	p, err := stored.ChangeIf(a, o.done != 0 || text != "", func(p *stored.Piece) ([]session.Event, error) {
		if o.done != 0 {
			return []session.Event{&session.NoteClosed{Seq: noteNumbered(a, p, o.done)}}, nil
		}
		row := cmp.Or(o.row, p.State.Next())
		if o.whole {
			row = 0
		}
		return []session.Event{&session.Noted{Text: text, Row: row}}, nil
	})
	if err != nil {
		return err
	}
	body := &answer.Notes{Notes: p.State.Notes, Round: p.Round()}
	switch {
	case o.done != 0:
		body.NowClosed = int(o.done)
	case text != "":
		body.NowSaved = len(p.State.Notes)
	case !o.all:
		body.Notes = p.State.OpenNotes()
	}
	return a.Answer(2, body)
}

// noteNumbered knows notes also by the numbers of their events, as they were once called.
func noteNumbered(a *frame.App, p *stored.Piece, number uint64) uint64 {
	if number <= uint64(len(p.State.Notes)) && number > 0 {
		return p.State.Notes[number-1].Seq
	}
	for _, n := range p.State.Notes {
		if n.Seq == number {
			a.Renamed(fmt.Sprintf("note %d", number), fmt.Sprintf("note %d", n.Number))
		}
	}
	return number
}
