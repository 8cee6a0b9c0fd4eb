package cmd

import (
	"context"
	"errors"
	"fmt"
	"time"

	"github.com/spf13/cobra"

	"strandwise/session"
	"strandwise/store"
)

func newPieces(a *app) *cobra.Command {
	c := a.leaf(spec{
		use:   "pieces",
		short: "list the pieces; switch, rename, copy, remove",
		long:  "Lists every piece with its row and when it was last worked. A star stands at the one the commands are about.",
		examples: []string{
			"strandwise pieces",
			"strandwise pieces copy second-hat --mirrored && strandwise pieces",
		},
		json: true,
	}, func(ctx context.Context, _ []string) error { return runPieces(ctx, a) })
	c.Use = "pieces [COMMAND]"
	c.Args = func(c *cobra.Command, args []string) error {
		if len(args) > 0 {
			return noPart(c, args[0])
		}
		return nil
	}
	adopt(c, newSwitch(a), newRename(a), newCopy(a), newRemove(a))
	return c
}

// currentSign stands at the piece the commands are about.
const currentSign = "*"

// noPart is the fault of a word after pieces that names no part of it: it may well be
// the name of a piece.
func noPart(c *cobra.Command, word string) error {
	if nearestCommand(c, word) != "" {
		return unknownCommand(c, word)
	}
	return usage("%s has no part %q", c.CommandPath(), word).
		hint("strandwise pieces switch %s, if it is the name of a piece", inShell(word)).hint("%s --help, which lists what there is", c.CommandPath())
}

func runPieces(ctx context.Context, a *app) error {
	s, err := a.openStore()
	if err != nil {
		return err
	}
	current, err := a.currentPiece()
	if err != nil {
		return err
	}
	var pieces []listedPiece
	if err := s.View(ctx, func(tx *store.Tx) error {
		pieces, err = listPieces(tx)
		return err
	}); err != nil {
		return err
	}
	if current == "" && len(pieces) == 1 {
		current = pieces[0].Name
	}
	if a.flags.json {
		return a.answerJSON(1, piecesBody(pieces, current))
	}
	for _, p := range pieces {
		sign, more := "  ", ""
		if p.Name == current {
			sign = currentSign + " "
			if a.display.plain {
				more = "; the commands are about it"
			}
		}
		a.tellUnder(sign, "%s: %s; last worked %s%s", p.Name, p.standing(), p.At.Format("2006-01-02 15:04"), more)
	}
	if len(pieces) == 0 {
		a.say("no pieces yet", "next: "+beginning[0])
	}
	return nil
}

// standing is how far a piece is.
func (p listedPiece) standing() string {
	word := session.RowWord(p.Round)
	switch {
	case p.BoundOff:
		return fmt.Sprintf("bound off after %s %d of %d", word, p.Row, p.Of)
	case p.Row >= p.Of:
		return fmt.Sprintf("all %d %ss are worked", p.Of, word)
	}
	return fmt.Sprintf("%d of %d %ss are worked", p.Row, p.Of, word)
}

// piecesAnswer is the JSON of pieces, schema 1.
type piecesAnswer struct {
	Pieces []pieceItem `json:"pieces"`
}

// pieceItem is a piece; current is the one the commands are about.
type pieceItem struct {
	Name     string    `json:"name"`
	Current  bool      `json:"current"`
	Row      int       `json:"row"` // finished rows
	Of       int       `json:"of"`
	LastAt   time.Time `json:"last_at"`
	BoundOff bool      `json:"bound_off"`
}

func piecesBody(pieces []listedPiece, current string) piecesAnswer {
	var body piecesAnswer
	for _, p := range pieces {
		body.Pieces = append(body.Pieces, pieceItem{p.Name, p.Name == current, p.Row, p.Of, p.At, p.BoundOff})
	}
	return body
}

func newSwitch(a *app) *cobra.Command {
	return a.leaf(spec{
		use:   "switch NAME",
		short: "make a piece the one the commands are about",
		long:  "Makes a piece the one the commands are about, for every run from now on. --piece does it for one run.",
		examples: []string{
			"strandwise pieces switch harbor-hat",
			"strandwise pieces copy second-hat && strandwise pieces switch harbor-hat && strandwise show",
		},
		least: 1, most: 1, writes: true, complete: a.completePieces,
	}, func(ctx context.Context, args []string) error { return runSwitch(ctx, a, args[0]) })
}

func runSwitch(ctx context.Context, a *app, name string) error {
	err := a.changeStore(ctx, func(tx *store.Tx) error {
		if _, err := findPiece(tx, name); err != nil {
			return asArgument(err, "strandwise pieces switch %s")
		}
		return tx.PutSetting(pieceKey, []byte(name))
	})
	if err != nil {
		return err
	}
	a.say("the commands are about "+name+" now", "next: strandwise resume")
	a.cautionIfOther(name)
	return nil
}

// cautionIfOther warns where a variable, which holds for the next command too, names
// another piece than the one just chosen.
func (a *app) cautionIfOther(name string) {
	for _, v := range settingNamed(pieceKey).from {
		if other := a.env.Getenv(v.name); other != "" && other != name {
			a.caution("variable %s still names %s and goes first", v.name, other)
		}
	}
}

// changeStore makes a change that is no event of a piece, in one transaction.
func (a *app) changeStore(ctx context.Context, change func(tx *store.Tx) error) error {
	s, err := a.openStore()
	if err != nil {
		return err
	}
	if err := a.commit(func() error { return s.Update(ctx, change) }); err != nil {
		return err
	}
	a.daily(ctx, s)
	return nil
}

func newRename(a *app) *cobra.Command {
	return a.leaf(spec{
		use:   "rename [NAME] NEW",
		short: "give a piece another name",
		long:  "Gives a piece another name: the one named first, else the one the commands are about. Its log keeps both.",
		examples: []string{
			"strandwise pieces rename quay-hat",
			"strandwise pieces rename quay-hat harbor-hat",
		},
		least: 1, most: 2, writes: true, complete: a.completePieces,
	}, func(ctx context.Context, args []string) error { return runRename(ctx, a, args) })
}

func runRename(ctx context.Context, a *app, args []string) error {
	to := args[len(args)-1]
	from := ""
	if len(args) == 2 {
		from = args[0]
	} else {
		var err error
		if from, err = a.currentPiece(); err != nil {
			return err
		}
	}
	err := a.changeStore(ctx, func(tx *store.Tx) error {
		p, err := open(tx, from)
		if err != nil {
			return asArgument(err, "strandwise pieces rename %s "+inShell(to))
		}
		from = p.State.Setup.Name
		if err := a.log(tx, p, []session.Event{&session.Renamed{Name: to}}); err != nil {
			return err
		}
		return renamed(tx, p, from)
	})
	if err != nil {
		return err
	}
	a.say(fmt.Sprintf("%s is %s now", from, to), "")
	return nil
}

// renamed settles what hangs on the name of a piece after events that may have changed
// it, an undoing among them: no two pieces have one name, and the choice follows.
func renamed(tx *store.Tx, p *storedPiece, from string) error {
	to := p.State.Setup.Name
	if from == to {
		return nil
	}
	pieces, err := listPieces(tx)
	if err != nil {
		return err
	}
	for _, other := range pieces {
		if other.Name == to && other.id != p.id {
			return nameInUse(to)
		}
	}
	return rechoose(tx, from, to)
}

// rechoose lets the kept choice of a piece follow a change of its name; with no new
// name the choice is dropped.
func rechoose(tx *store.Tx, from, to string) error {
	if kept, ok := tx.Setting(pieceKey); !ok || string(kept) != from {
		return nil
	}
	if to == "" {
		return tx.DeleteSetting(pieceKey)
	}
	return tx.PutSetting(pieceKey, []byte(to))
}

func newRemove(a *app) *cobra.Command {
	return a.leaf(spec{
		use:   "remove NAME",
		short: "take a piece and its history out of the store",
		long:  "Takes a piece out of the store with its rows, notes and history, after a question. Backups made before still hold it. A finished piece can just as well stay: switch to another.",
		examples: []string{
			"strandwise pieces copy spare-hat && strandwise pieces remove spare-hat --yes",
			"strandwise pieces remove harbor-hat --yes",
		},
		least: 1, most: 1, writes: true, complete: a.completePieces,
	}, func(ctx context.Context, args []string) error { return runRemove(ctx, a, args[0]) })
}

func runRemove(ctx context.Context, a *app, name string) error {
	what, asked, err := a.removal(ctx, name)
	if err != nil {
		return err
	}
	if err := a.confirm(ctx, what); err != nil {
		return err
	}
	err = a.changeStore(ctx, func(tx *store.Tx) error {
		id, err := findPiece(tx, name)
		if err != nil {
			return err
		}
		if end, err := tx.Tail(id); err != nil || end != asked {
			return errors.Join(err, refused("%s was changed in another terminal meanwhile", name).hint("strandwise pieces, then remove again"))
		}
		return errors.Join(removeWithCharts(tx, id), rechoose(tx, name, ""))
	})
	if err != nil {
		return err
	}
	a.say(name+" is removed", "next: strandwise pieces")
	return nil
}

// removal names what a removal would take out, and where its log ends.
func (a *app) removal(ctx context.Context, name string) (what string, end store.Mark, err error) {
	s, err := a.openStore()
	if err != nil {
		return "", end, err
	}
	err = s.View(ctx, func(tx *store.Tx) error {
		id, err := findPiece(tx, name)
		if err != nil {
			return asArgument(err, "strandwise pieces remove %s")
		}
		pieces, err := listPieces(tx)
		for _, p := range pieces {
			if p.id == id {
				what = fmt.Sprintf("remove %s with its whole history (%s)", p.Name, p.standing())
			}
		}
		if err == nil {
			end, err = tx.Tail(id)
		}
		return err
	})
	return what, end, err
}
