package cmd

import (
	"context"
	"time"

	"github.com/spf13/cobra"

	"strandwise/cmd/frame"
	"strandwise/cmd/render"
	"strandwise/cmd/stored"
	"strandwise/session"
)

func newResume(a *frame.App) *cobra.Command {
	return a.Leaf(frame.Spec{
		Use:   "resume",
		Short: "where was I: everything after a break",
		Long:  "Tells on one screen where a piece stands, to take it up again after a break: the row and how far it is worked, the last row as it should be on the needles, where the yarns sit and how to check which is dominant, open notes, missed catches, yarns at rest, turns to take out, the row that comes next, and the time so far and to come.",
		Examples: []string{
			"strandwise resume",
			"strandwise resume --json",
		},
		JSON: true,
	}, func(ctx context.Context, _ []string) error { return runResume(ctx, a) })
}

func runResume(ctx context.Context, a *frame.App) error {
	p, err := stored.Take(a, ctx)
	if err != nil {
		return err
	}
	st := p.Standing()
	stored.NoteChartFiles(a, ctx, p)
	if a.Flags.JSON {
		return a.AnswerJSON(1, resumeBody(st))
	}
	if err := render.Standing(a.Out, st, a.Env.Now(), look(a)); err != nil {
		return err
	}
	switch {
	case st.BoundOff:
		a.Say("", "next: strandwise review")
	case st.Next == nil:
		a.Say("", "next: strandwise bind-off")
	default:
		a.Say("", "next: strandwise show")
	}
	return nil
}

// resumeAnswer is the JSON of resume, schema 1. Times are in seconds; 0 means not
// known.
type resumeAnswer struct {
	Piece      string            `json:"piece"`
	Row        int               `json:"row"` // finished rows
	Of         int               `json:"of"`
	BoundOff   bool              `json:"bound_off"`
	LastAt     time.Time         `json:"last_at"` // when something was last logged
	Done       *render.SheetJSON `json:"done"`    // the last finished row as it was made; null when there is none
	Next       *render.SheetJSON `json:"next"`    // the row to work; null when there is none
	Hold       string            `json:"hold"`
	Carry      string            `json:"carry"`
	Method     string            `json:"method"`
	Notes      []noteItem        `json:"notes"`  // open
	Missed     []int             `json:"missed"` // rows with a missed catch
	LongGaps   int               `json:"long_gaps"`
	Rests      []restingYarn     `json:"rests"`
	Turns      []tangleItem      `json:"turns"`
	PerStitch  float64           `json:"seconds_per_stitch"`
	SecondsFar float64           `json:"seconds_so_far"`
	SecondsTo  float64           `json:"seconds_to_come"`
}

// restingYarn is a yarn that waits; until is the row in which it is used again.
type restingYarn struct {
	Yarn  string `json:"yarn"` // name
	Until int    `json:"until"`
	Cut   bool   `json:"cut"`
}

// tangleItem is turns of two yarns about each other, and how to take them out.
type tangleItem struct {
	Yarns [2]string `json:"yarns"` // names
	Turns int       `json:"turns"`
	Words string    `json:"words"`
}

func resumeBody(st *session.Standing) resumeAnswer {
	body := resumeAnswer{
		Piece: st.Piece, Row: st.Row, Of: st.Of, BoundOff: st.BoundOff, LastAt: st.LastAt,
		Done: sheetOrNull(st.Done), Next: sheetOrNull(st.Next), Hold: st.Hold, Carry: st.Carry, Method: st.Method,
		Notes: noteItems(st.Notes), Missed: st.Missed, LongGaps: st.Gaps,
		PerStitch: st.Pace.PerStitch.Seconds(), SecondsFar: st.Pace.SoFar.Seconds(), SecondsTo: st.Pace.ToCome.Seconds(),
	}
	for _, r := range st.Rests {
		body.Rests = append(body.Rests, restingYarn{st.Yarns[r.Yarn], r.Until, r.Cut})
	}
	for _, t := range st.Turns {
		a, b := st.Yarns[t.A], st.Yarns[t.B]
		body.Turns = append(body.Turns, tangleItem{[2]string{a, b}, t.Turns, t.Untangle(a, b)})
	}
	return body
}

func sheetOrNull(s *session.Sheet) *render.SheetJSON {
	if s == nil {
		return nil
	}
	body := render.SheetBody(s)
	return &body
}
