package session

import (
	"fmt"
	"slices"

	"strandwise/floats"
)

// shownRow is a row as its log, its plan and the knitter's grip have it, read once for all that tell of it.
type shownRow struct {
	heldRow
	Method   floats.Method
	Limit    int // of its plan
	finished bool

	rowAhead               // of a finished row those shown only
	made     []Mark        // of a row to come those shown
	changes  Changes       // of a finished row
	moved    map[Mark]Mark // of these: where a catch that was made elsewhere had been shown
	Letters  []Catch       // the catches the row is shown with, over all repeats, in order of their letters
	lettering
}

func (p *Piece) rowShown(row int) *shownRow {
	r := &shownRow{heldRow: p.held(row), Limit: p.State.SegmentAt(row).Limit, finished: row <= p.State.Row, moved: map[Mark]Mark{}}
	r.Method = r.grip.FloatMethod()
	if r.finished {
		done := p.State.DoneRow(row)
		r.shown, r.made, r.changes = done.Shown, done.Used, p.Changes(row)
	} else {
		r.rowAhead = p.ahead(row)
		r.made = r.shown
	}
	for _, m := range r.changes.Moved {
		r.moved[m.To] = m.From
	}
	r.lettering = letteringOf(r.shown, r.Course)
	for i, m := range r.first {
		c := r.Catch(m)
		c.Letter = letterAt(i)
		r.Letters = append(r.Letters, c)
	}
	return r
}

// Catch is a catch of the row without its letter.
func (r *shownRow) Catch(m Mark) Catch {
	at := r.PlaceOf(m.Stitch)
	return Catch{Block: at.Block, Stitch: at.Stitch, Yarn: r.piece.yarn(m.Yarn), Twist: twisted(r.Method, r.Stitch(m.Stitch))}
}

// asMade is a catch made in a finished row, under the letter it was shown with, or shown in one to come.
func (r *shownRow) asMade(m Mark) Catch {
	c := r.Catch(m)
	c.Letter, c.Moved = r.letterOf(m), !r.finished && !slices.Contains(r.planned, m)
	return c
}

// letterOf is the letter of a catch made or shown in the row; empty for an extra one.
func (r *shownRow) letterOf(m Mark) string {
	if from, is := r.moved[m]; is {
		m = from
	}
	return r.ShownAs(m)
}

// catches gives the catches made, in a row to come shown, of each repeat, by its place without a stitch.
func (r *shownRow) catches() map[floats.Place][]Catch {
	in := map[floats.Place][]Catch{}
	for _, m := range r.made {
		at := r.PlaceOf(m.Stitch)
		at.Stitch = 0
		in[at] = append(in[at], r.asMade(m))
	}
	return in
}

// namesYarns reports whether a catch can be of more than one yarn: more than two are worked or
// caught in the row, or one that is worked leaves it open which other is caught.
func (r *shownRow) namesYarns() bool {
	in := map[int]bool{}
	for _, st := range r.InOrder() {
		in[st.Yarn] = true
	}
	worked := len(in)
	for _, m := range slices.Concat(r.shown, r.made) {
		in[m.Yarn] = true
	}
	return len(in) > 2 || worked == 1 && len(in) == 2 && len(r.piece.Layout.Fabric.Yarns) > 2
}

// name is "round 12".
func (r *shownRow) name() string { return fmt.Sprintf("%s %d", r.piece.rowWord(), r.number) }

// Letters gives the catches of a row, from 1, as it is shown, in order of their letters.
func (p *Piece) Letters(row int) []Catch { return p.rowShown(row).Letters }

// LetterOf is the letter of a catch made or shown in a row; empty for an extra one.
func (p *Piece) LetterOf(row int, m Mark) string { return p.rowShown(row).letterOf(m) }
