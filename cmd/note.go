package cmd

import (
	"cmp"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"strandwise/cmd/answer"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
	"strandwise/session"
)

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
