package session

import (
	"cmp"
	"fmt"
	"slices"

	"strandwise/chart"
	"strandwise/floats"
)

// Catch is a catch of one repeat as a row shows it.
type Catch struct {
	Letter string    `json:"letter"`          // by which it is known in its row; empty for an extra one
	Block  int       `json:"block,omitempty"` // in rows of several blocks: from 1 in the order a right-side row works them
	Stitch int       `json:"stitch"`          // in the repeat, from 1
	Yarn   PieceYarn `json:"yarn"`            // the yarn caught
	Twist  bool      `json:"twist"`           // just before its stitch, not on it
	Moved  bool      `json:"moved"`           // of a row to come: not where the plan had it
}

// PieceYarn is a yarn of a piece, in JSON by its symbol.
type PieceYarn struct {
	chart.Yarn
	Index int // in the yarns of the piece
}

func (p *Piece) yarn(index int) PieceYarn { return PieceYarn{p.Layout.Fabric.Yarns[index], index} }

// Compare orders catches by their place in the pattern, then by yarn.
func (c Catch) Compare(o Catch) int {
	return cmp.Or(c.Block-o.Block, c.Stitch-o.Stitch, c.Yarn.Index-o.Yarn.Index)
}

// shortPlace is a stitch of a repeat as it is written: "4", in a row of blocks "2/4".
func shortPlace(at floats.Place) string {
	if at.Block > 0 {
		return fmt.Sprintf("%d/%d", at.Block, at.Stitch)
	}
	return fmt.Sprint(at.Stitch)
}

// StitchName is a stitch of a repeat: "stitch 4", "block 2 stitch 4".
func StitchName(at floats.Place) string {
	if at.Block > 0 {
		return fmt.Sprintf("block %d stitch %d", at.Block, at.Stitch)
	}
	return fmt.Sprintf("stitch %d", at.Stitch)
}

// lettering is which catches have letters in a row. Its stitches are those of the row.
type lettering struct {
	in    *floats.Course
	first []Mark // each distinct catch shown, in its first repeat, in the order of the letters
}

// letteringOf gives letters to the catches of a row: a letter is the same stitch in every repeat.
func letteringOf(shown []Mark, in *floats.Course) lettering {
	l := lettering{in: in}
	for _, m := range shown {
		if l.ShownAs(m) == "" {
			l.first = append(l.first, m)
		}
	}
	slices.SortFunc(l.first, func(a, b Mark) int {
		return cmp.Or(in.InPattern(a.Stitch)-in.InPattern(b.Stitch), a.Yarn-b.Yarn)
	})
	return l
}

// ShownAs is the letter of a catch as it was shown; empty for one that was not.
func (l lettering) ShownAs(m Mark) string {
	at := slices.IndexFunc(l.first, func(f Mark) bool {
		return f.Yarn == m.Yarn && l.in.InPattern(f.Stitch) == l.in.InPattern(m.Stitch)
	})
	if at < 0 {
		return ""
	}
	return letterAt(at)
}

// letterAt is that of the catch at an index: a to z, aa to az, ba and so on.
func letterAt(i int) string {
	text := ""
	for i++; i > 0; i = (i - 1) / 26 {
		text = string(rune('a'+(i-1)%26)) + text
	}
	return text
}

// Run is consecutive stitches that are worked alike in one yarn, with the catches on them.
type Run struct {
	Yarn     PieceYarn `json:"yarn"`
	Word     string    `json:"word"` // how they are worked, for the side that faces the knitter; empty for plain
	Stitches int       `json:"stitches"`
	From     int       `json:"from"` // its first stitch in the repeat, from 1
	Catches  []Catch   `json:"catches"`
}

// RepeatRuns is how some repeats of a row are worked, all alike.
type RepeatRuns struct {
	Block   int     `json:"block,omitempty"` // in rows of several blocks: from 1 in the order a right-side row works them
	Repeats []int   `json:"repeats"`         // from 1, in knitting order
	Runs    []Run   `json:"runs"`
	Catches []Catch `json:"-"` // those of the runs once more, in order
}

// RowBlock is a block of a row as it is worked: the repeats that most are like, and the others.
type RowBlock struct {
	Number  int // 0 in rows of one block
	Repeats int
	Order   []floats.Stitch // one repeat in knitting order
	Often   RepeatRuns      // the repeats that most are like, with their catches
	Others  []RepeatRuns    // repeats with other catches, those alike together, by number
}

// blocks gathers the repeats of each block of a row that are worked alike: those that most are
// like, of two equally many the earliest met, and the others by number. Repeats at the ends of a
// block may differ: by floats that run on from repeat to repeat, over a border or over the start.
func (r *shownRow) blocks() []RowBlock {
	catches := r.catches()
	blocks := make([]RowBlock, len(r.Blocks))
	for i := range r.Blocks {
		b := &r.Blocks[i]
		number := r.PlaceOf(b.First + 1).Block
		var all []RepeatRuns
		for rep := 1; rep <= b.Repeats; rep++ {
			here := catches[floats.Place{Block: number, Repeat: rep}]
			at := slices.IndexFunc(all, func(r RepeatRuns) bool { return slices.Equal(r.Catches, here) })
			if at < 0 {
				at = len(all)
				all = append(all, RepeatRuns{Block: number, Catches: here, Runs: r.runs(b, here)})
			}
			all[at].Repeats = append(all[at].Repeats, rep)
		}
		slices.SortStableFunc(all, func(a, b RepeatRuns) int { return len(b.Repeats) - len(a.Repeats) })
		slices.SortFunc(all[1:], func(a, b RepeatRuns) int { return a.Repeats[0] - b.Repeats[0] })
		blocks[i] = RowBlock{Number: number, Repeats: b.Repeats, Order: r.StitchesOf(b), Often: all[0], Others: all[1:]}
	}
	return blocks
}

func (r *shownRow) runs(b *floats.Block, catches []Catch) []Run {
	runs := r.runsOf(r.StitchesOf(b))
	for i := range runs {
		for _, c := range catches {
			if c.Stitch >= runs[i].From && c.Stitch < runs[i].From+runs[i].Stitches {
				runs[i].Catches = append(runs[i].Catches, c)
			}
		}
	}
	return runs
}

// twisted reports whether a catch on a stitch is a twist: by the method of the row, and
// wherever the stitch is worked against its side, since nothing is woven there.
func twisted(m floats.Method, st floats.Stitch) bool {
	return m == floats.Twist || st.Technique == chart.Purl
}

func workedAlike(a, b floats.Stitch) bool { return a.Yarn == b.Yarn && a.Technique == b.Technique }

func (r *shownRow) runsOf(order []floats.Stitch) []Run {
	var runs []Run
	for i, st := range order {
		if i == 0 || !workedAlike(st, order[i-1]) {
			run := Run{Yarn: r.piece.yarn(st.Yarn), From: i + 1}
			if st.Technique != chart.Knit {
				run.Word = WorkedAs(st.Technique, r.WrongSide, r.piece.State.Setup.Mirror)
			}
			runs = append(runs, run)
		}
		runs[len(runs)-1].Stitches++
	}
	return runs
}

// distinct gives the catches of all repeats of a row, each once, in knitting order.
func distinct(blocks []RowBlock) []Catch {
	var all []Catch
	for _, b := range blocks {
		in := slices.Clone(b.Often.Catches)
		for _, r := range b.Others {
			in = append(in, r.Catches...)
		}
		slices.SortStableFunc(in, Catch.Compare)
		all = append(all, slices.CompactFunc(in, func(a, b Catch) bool { return a.Compare(b) == 0 })...)
	}
	return all
}

// A chart names a stitch by its look on the right side. These are the words for it
// as it is worked with the wrong side facing (common practice). A made stitch keeps its
// lean when the strand is lifted the same way and purled through the same loop: turning
// the work changes neither the loop's mount nor the twist.
var onWrongSide = [...]string{
	chart.Knit: "purl", chart.Purl: "knit", chart.K2tog: "p2tog", chart.Ssk: "ssp",
	chart.K3tog: "p3tog", chart.Sk2p: "sp2p", chart.Cdd: "centered double decrease, purled", chart.Kfb: "pfb",
	chart.M1l: "m1lp", chart.M1r: "m1rp",
}

// WorkedAs is the word for a stitch as the knitter works it: wrong-side rows work knit as purl, k2tog as
// p2tog, and a mirror knitter k2tog as ssk, m1l as m1r and the reverse.
func WorkedAs(t chart.Technique, wrongSide, mirror bool) string {
	if mirror {
		t = t.Mirrored()
	}
	if wrongSide {
		return cmp.Or(onWrongSide[t], t.String())
	}
	return t.String()
}
