package session

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// sortByUrgency puts the gaps farthest over their limit first; of two level the longer,
// then the one knitted first, then the yarn of the lower number.
func sortByUrgency(gaps []Gap) {
	slices.SortFunc(gaps, func(a, b Gap) int {
		return cmp.Or(
			cmp.Compare(b.Over(), a.Over()), cmp.Compare(b.Stitches, a.Stitches),
			cmp.Compare(a.From.Row, b.From.Row), cmp.Compare(a.From.Stitch, b.From.Stitch), cmp.Compare(a.Yarn, b.Yarn),
		)
	})
}

// Tacks says behind which stitches the yarn of a gap over the limit is best tacked down
// afterwards with a needle: the fewest that leave no gap over the limit, spread evenly,
// the shorter gaps first. Lower is the number of stitches of the row the gap begins in.
// A gap within the limit wants none.
func (g Gap) Tacks(lower int) []Spot {
	n := (g.Over() + g.Limit) / (g.Limit + 1) // ceil((stitches - limit) / (limit + 1))
	if g.Over() <= 0 {
		return nil
	}
	short, longer := (g.Stitches-n)/(n+1), (g.Stitches-n)%(n+1)
	var tacks []Spot
	at := 0
	for i := range n {
		at += short + 1
		if i > n-longer {
			at++
		}
		tacks = append(tacks, g.spot(at, lower))
	}
	return tacks
}

// spot places a stitch of the gap, from 1.
func (g Gap) spot(at, lower int) Spot {
	s := Spot{g.From.Row, g.From.Stitch + at - 1}
	if g.To.Row > g.From.Row && s.Stitch > lower {
		return Spot{g.To.Row, s.Stitch - lower}
	}
	return s
}

// Mend is one line of the mending list.
type Mend struct {
	Number int // from 1, the most urgent first
	Gap
	Tacks []Spot
	Where string // "round 23, stitches 41 to 52"
	What  string // "fjord runs 12 stitches uncaught, tack it down behind stitch 46"
	How   string // how that is done, with the first of its kind; empty with the others
}

// How a gap is mended: with a needle afterwards, or, in the newest row, with the stitches
// of the next. Common practice.
const (
	tackHow = "Thread a blunt needle with matching yarn and pass it under the backs of the stitches only, over the float, so that nothing shows on the right side, and leave the float slack."
	liftHow = "It can still be lifted instead: in the next %s work up to the stitch above its middle, lift the float from behind onto the left tip, and work it together with that stitch."
)

// String is the whole line: "round 23, stitches 41 to 52: fjord runs ...".
func (m Mend) String() string { return m.Where + ": " + m.What }

// Mends gives the mending list of the review in words.
func (p *Piece) Mends(r *Review) []Mend {
	mends := make([]Mend, len(r.Mending))
	for i, g := range r.Mending {
		tacks := g.Tacks(p.Row(g.From.Row).Stitches())
		mends[i] = Mend{
			Number: i + 1, Gap: g, Tacks: tacks, Where: g.where(p.rowWord()),
			What: fmt.Sprintf("%s runs %d stitches uncaught, tack it down behind %s",
				p.yarnName(g.Yarn), g.Stitches, tackWords(g, tacks, p.rowWord())),
		}
	}
	p.tellHow(mends)
	return mends
}

// tellHow adds to the first entry of each kind how it is done.
func (p *Piece) tellHow(mends []Mend) {
	if len(mends) == 0 {
		return
	}
	mends[0].How = tackHow
	newest := slices.IndexFunc(mends, func(m Mend) bool { return m.To.Row == p.State.Row })
	if newest >= 0 && p.State.Next() > 0 {
		mends[newest].How = strings.TrimSpace(mends[newest].How + " " + fmt.Sprintf(liftHow, p.rowWord()))
	}
}

func (g Gap) where(word string) string {
	if g.From.Row == g.To.Row {
		return fmt.Sprintf("%s %d, stitches %d to %d", word, g.From.Row, g.From.Stitch, g.To.Stitch)
	}
	return fmt.Sprintf("%s %d, stitch %d, to %s %d, stitch %d", word, g.From.Row, g.From.Stitch, word, g.To.Row, g.To.Stitch)
}

// tackWords names the stitches to tack behind: "stitch 46", "stitches 46 and 52", and
// with their row where the gap runs over the start.
func tackWords(g Gap, tacks []Spot, word string) string {
	names := make([]string, len(tacks))
	for i, t := range tacks {
		names[i] = fmt.Sprint(t.Stitch)
		if g.From.Row != g.To.Row {
			names[i] = fmt.Sprintf("stitch %d of %s %d", t.Stitch, word, t.Row)
		}
	}
	list := names[0]
	if last := len(names) - 1; last > 0 {
		list = strings.Join(names[:last], ", ") + " and " + names[last]
	}
	switch {
	case g.From.Row != g.To.Row:
		return list
	case len(names) == 1:
		return "stitch " + list
	}
	return "stitches " + list
}
