package cmd

import (
	"context"
	"fmt"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"strandwise/session"
)

// noteOptions are the flags of note.
type noteOptions struct {
	row        int
	whole, all bool
	done       uint64
}

func newNote(a *app) *cobra.Command {
	o := &noteOptions{}
	c := a.leaf(spec{
		use:   "note [TEXT...]",
		short: "keep a note, list the open ones",
		long:  "Keeps a note about the row to work, another row or the whole piece. Without a text it lists the open notes, each with its number. Open notes come up in resume; one that is dealt with is closed by its number.",
		examples: []string{
			`strandwise note "went down a needle size"`,
			"strandwise note",
			"strandwise note --whole block it gently && strandwise note --all",
		},
		most: anyNumber, writes: true, json: true,
	}, func(ctx context.Context, args []string) error { return runNote(ctx, a, o, strings.Join(args, " ")) })
	set := c.Flags()
	set.IntVar(&o.row, "row", 0, "the note is about row `N` (default: the row to work)")
	set.BoolVar(&o.whole, "whole", false, "the note is about the whole piece")
	set.Uint64Var(&o.done, "done", 0, "close note `N`")
	set.BoolVar(&o.all, "all", false, "list closed notes too")
	return c
}

func runNote(ctx context.Context, a *app, o *noteOptions, text string) error {
	switch {
	case o.done != 0 && text != "":
		return usage("--done closes a note and takes no text").hint("strandwise note --done %d", o.done)
	case o.whole && o.row != 0:
		return usage("--whole and --row exclude each other").hint("one of them")
	case o.done == 0 && text == "" && (o.whole || o.row != 0):
		return usage("a note needs a text").hint(`strandwise note "what to remember"`).hint("strandwise note, which lists the open ones")
	case o.done == 0 && text == "":
		return a.listNotes(ctx, o.all)
	}
	p, err := a.change(ctx, func(p *storedPiece) ([]session.Event, error) {
		if o.done != 0 {
			return []session.Event{&session.NoteClosed{Seq: o.done}}, nil
		}
		return []session.Event{&session.Noted{Text: text, Row: o.about(p)}}, nil
	})
	if err != nil {
		return err
	}
	if a.flags.json {
		return a.answerJSON(1, noteAnswer{noteItems(p.State.Notes)})
	}
	if o.done != 0 {
		a.say(fmt.Sprintf("note %d closed", o.done), "")
		return nil
	}
	a.say(fmt.Sprintf("note %d kept", p.State.LastSeq), fmt.Sprintf("once dealt with: strandwise note --done %d", p.State.LastSeq))
	return nil
}

// about is the row a new note is about; 0 is the whole piece.
func (o *noteOptions) about(p *storedPiece) int {
	switch {
	case o.whole:
		return 0
	case o.row != 0:
		return o.row
	}
	return p.State.Next()
}

func (a *app) listNotes(ctx context.Context, all bool) error {
	a.writes.Store(false)
	p, err := a.take(ctx)
	if err != nil {
		return err
	}
	notes := p.State.OpenNotes()
	if all {
		notes = p.State.Notes
	}
	if a.flags.json {
		return a.answerJSON(1, noteAnswer{noteItems(notes)})
	}
	for _, n := range notes {
		a.tellUnder(fmt.Sprintf("%d ", n.Seq), "%s%s", aboutRow(p, n), n.Text)
	}
	if len(notes) == 0 {
		a.say("no open notes", `strandwise note "what to remember"`)
	}
	return nil
}

func aboutRow(p *storedPiece, n session.Note) string {
	about := ""
	if n.Row > 0 {
		about = fmt.Sprintf("%s %d: ", p.rowWord(), n.Row)
	}
	if n.Closed {
		about = "closed; " + about
	}
	return about
}

// noteAnswer is the JSON of note, schema 1.
type noteAnswer struct {
	Notes []noteItem `json:"notes"`
}

// noteItem is a note; row is 0 for the whole piece.
type noteItem struct {
	Number uint64    `json:"number"`
	At     time.Time `json:"at"`
	Row    int       `json:"row"`
	Text   string    `json:"text"`
	Closed bool      `json:"closed"`
}

func noteItems(notes []session.Note) []noteItem {
	items := make([]noteItem, len(notes))
	for i, n := range notes {
		items[i] = noteItem{n.Seq, n.At, n.Row, n.Text, n.Closed}
	}
	return items
}
