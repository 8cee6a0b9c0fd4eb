package session

import (
	"fmt"
	"slices"
	"strings"

	"strandwise/chart"
)

// tacks says behind which stitches of a gap over the limit, from 1, its yarn is best tacked down after:
// the fewest that leave no gap over the limit, spread evenly, the shorter gaps first.
func (g Gap) tacks() []int {
	if g.Over() <= 0 {
		return nil
	}
	n := (g.Over() + g.Limit) / (g.Limit + 1) // ceil((stitches - limit) / (limit + 1))
	short, longer := (g.Stitches-n)/(n+1), (g.Stitches-n)%(n+1)
	tacks := make([]int, n)
	at := 0
	for i := range tacks {
		at += short + 1
		if i > n-longer {
			at++
		}
		tacks[i] = at
	}
	return tacks
}

// Mend is one line of the mending list: a gap over the limit, or several alike in the repeats of a row, of which it
// is the first; tacks are the stitches behind which to tack that down.
type Mend struct {
	Number int `json:"number"`
	Gap
	Block   int    `json:"block,omitempty"` // in which they begin, in rows of several
	Repeats []int  `json:"repeats"`         // in which they begin
	Alike   []Gap  `json:"-"`               // all of them
	Tacks   []Spot `json:"tacks"`
	Text    string `json:"text"`
	How     string `json:"-"` // how that is done, with the first of its kind; empty with the others
}

// How a gap is mended: with a needle afterwards, or, in the newest row, in the next. Common practice.
const (
	tackHow = "Thread a blunt needle with matching yarn and pass it under the backs of the stitches only, over the float, so that nothing shows on the right side, and leave the float slack."
	liftHow = "It can still be lifted instead: in the next %s work up to the stitch above its middle, lift the float from behind onto the left tip, and work it together with that stitch."
)

// mends makes the mending list, the most urgent first: "round 23, stitches 9 to 20 in every repeat: fjord runs 12
// stitches uncaught, tack it down behind stitch 14".
func (p *Piece) mends(gaps []Gap) []Mend {
	sortByUrgency(gaps)
	var mends []Mend
	for i, alike := range p.gather(gaps) {
		g := alike[0]
		m := Mend{
			Number: i + 1, Gap: g, Alike: alike, Block: g.From.Block,
			Repeats: mapped(alike, func(other Gap) int { return other.From.Repeat }),
			Tacks:   mapped(g.tacks(), func(at int) Spot { return p.Spot(p.onward(g.From, at)) }),
		}
		slices.Sort(m.Repeats)
		m.Text = fmt.Sprintf("%s %d, %s: %s runs %d stitches uncaught, tack it down behind %s",
			p.rowWord(), g.From.Row, p.whereAll(alike), g.Yarn.Name, g.Stitches, p.tackWords(m))
		mends = append(mends, m)
	}
	p.tellHow(mends)
	return mends
}

// Mended says what can be done about a gap over the limit.
func (p *Piece) Mended() string {
	return fmt.Sprintf("Lift the strand with the stitch above it on the next %s, or tack it down when finishing; the review lists it.", p.rowWord())
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

// tackWords names the stitches to tack behind, as the gap is told: "stitch 14", "stitches 4 and
// 10", "stitch 2 of the next repeat", and with their row where the gap runs over the start.
func (p *Piece) tackWords(m Mend) string {
	var here, names []string
	for _, t := range m.Tacks {
		switch {
		case m.From.Row != m.To.Row:
			names = append(names, fmt.Sprintf("%s of %s %d", p.PlaceWords(t.Row, t.Stitch), p.rowWord(), t.Row))
		case t.Repeat == m.From.Repeat && t.Block == m.From.Block:
			here = append(here, fmt.Sprint(t.Place.Stitch))
		default:
			names = append(names, StitchFrom(m.From.Place, t.Place))
		}
	}
	if len(here) > 0 {
		names = append([]string{chart.Plural("stitch", len(here)) + " " + Listed(here, "and")}, names...)
	}
	return Listed(names, "and")
}
