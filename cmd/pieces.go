package cmd

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"strandwise/cmd/answer"
	"strandwise/cmd/document"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
	"strandwise/session"
	"strandwise/store"
)

func newPieces(a *frame.App) *cobra.Command {
	c := a.Leaf(frame.Spec{Use: "pieces [NAME]", JSON: true, Complete: completePieces}, func(a *frame.App, args []string) error {
		if len(args) > 0 {
			return runSwitch(a, args[0])
		}
		return runPieces(a)
	})
	c.AddCommand(
		a.Leaf(frame.Spec{Use: "rename [NAME] NEW", Writes: true, Complete: completePieces}, runRename),
		newCopy(a),
		a.Leaf(frame.Spec{Use: "remove NAME", Writes: true, Complete: completePieces}, runRemove),
	)
	return c
}

func completePieces(a *frame.App, _ []string) []string {
	var names []string
	a.Glance(func(tx *store.Tx) error {
		pieces, err := stored.List(tx)
		names = listOf(pieces, func(p stored.Listed) string { return p.Name })
		return err
	})
	return names
}

func runPieces(a *frame.App) error {
	var pieces []stored.Listed
	if err := stored.View(a, func(tx *store.Tx) (err error) {
		pieces, err = stored.List(tx)
		return err
	}); err != nil {
		return err
	}
	current := a.Settings.Get(frame.PieceKey).Text
	if current == "" && len(pieces) == 1 {
		current = pieces[0].Name
	}
	body := &answer.Pieces{Begin: frame.Beginning[0]}
	for _, p := range pieces {
		body.Pieces = append(body.Pieces, pieceAnswer(p, current))
	}
	return a.Answer(1, body)
}

func pieceAnswer(p stored.Listed, current string) answer.Piece {
	return answer.Piece{Name: p.Name, Current: p.Name == current, Row: p.Row, Of: p.Of, LastAt: p.At, BoundOff: p.BoundOff, Round: p.Round}
}

func runSwitch(a *frame.App, name string) error {
	a.Writes.Store(true)
	if a.Flags.JSON {
		return frame.Usage("switching has no answer in JSON").Hint("leave --json out")
	}
	err := stored.ChangeStore(a, func(tx *store.Tx) error {
		if _, err := stored.Find(tx, name, "strandwise pieces %s"); err != nil {
			if near := frame.Nearest(name, []string{"rename", "copy", "remove"}); near != "" {
				return frame.Usage("%v", err).Because(err).Hint("strandwise pieces %s, if that was meant", near).Hint("strandwise pieces, which lists the names")
			}
			return err
		}
		return tx.PutSetting(frame.PieceKey, []byte(name))
	})
	if err != nil {
		return err
	}
	a.Did(document.Named(name, " is now the current piece"), "next: strandwise resume")
	stored.CautionIfOther(a, name)
	return nil
}

func runRename(a *frame.App, args []string) error {
	to := args[len(args)-1]
	from := args[0]
	err := stored.ChangeStore(a, func(tx *store.Tx) error {
		if len(args) == 1 {
			from = a.Settings.Get(frame.PieceKey).Text
		}
		p, err := stored.Open(tx, from, "strandwise pieces rename %s "+frame.InShell(to))
		if err != nil {
			return err
		}
		from = p.State.Setup.Name
		return stored.Log(a, tx, p, []session.Event{&session.Renamed{Name: to}})
	})
	if err != nil {
		return err
	}
	a.Did(document.Named(from, " is "+to+" now"), "")
	return nil
}

func runRemove(a *frame.App, args []string) error {
	var what string
	var asked store.Mark
	err := stored.View(a, func(tx *store.Tx) error {
		p, err := stored.Find(tx, args[0], "strandwise pieces remove %s")
		if err == nil {
			what = fmt.Sprintf("remove %s with its whole history (%s)", p.Name, pieceAnswer(p, "").Standing())
			asked, err = tx.Tail(p.ID)
		}
		return err
	})
	if err != nil {
		return err
	}
	if err := a.Confirm(what); err != nil {
		return err
	}
	err = stored.ChangeStore(a, func(tx *store.Tx) error {
		p, err := stored.Find(tx, args[0], "%s")
		if err != nil {
			return err
		}
		if end, err := tx.Tail(p.ID); err != nil || end != asked {
			return errors.Join(err, frame.Refused("%s was changed in another terminal meanwhile", args[0]).Hint("strandwise pieces, then remove again"))
		}
		return errors.Join(stored.Remove(tx, p.ID), stored.Rechoose(tx, args[0], ""))
	})
	if err != nil {
		return err
	}
	a.Did(document.Named(args[0], " is removed"), "next: strandwise pieces")
	return nil
}

func newCopy(a *frame.App) *cobra.Command {
	mirrored := false
	run := func(a *frame.App, first *stored.Piece, args []string) error {
		parts, e := first.Copied(mirrored), first.State.Setup
		e.Name, e.Parts = args[0], parts.Refs
		e.CopyOf, e.Mirrored, e.FirstName = uint64(first.ID), mirrored, first.State.Setup.Name
		if err := (&session.State{}).Check(&e); err != nil {
			return err
		}
		p, err := stored.CastOn(a, &e, parts, alsoCopied(first))
		if err != nil {
			return err
		}
		return a.Answer(1, answer.NewCastOn(p.Piece, answer.CastOnOptions{LimitFrom: "as " + e.FirstName, FirstEver: p.FirstEver, SecondOf: e.FirstName}))
	}
	c := a.Leaf(frame.Spec{Use: "copy NAME", Writes: true, JSON: true}, withTaken(stored.Take, run))
	c.Flags().BoolVar(&mirrored, "mirrored", false, "turn the charts left to right")
	return c
}

func alsoCopied(first *stored.Piece) []session.Event {
	var notes []session.Event
	if lower := first.State.Setup.Lower; lower != "" {
		notes = append(notes, &session.LowerSet{Place: lower})
	}
	for _, n := range first.State.OpenNotes() {
		notes = append(notes, &session.Noted{Text: n.Text, Row: n.Row})
	}
	return notes
}
