package session

import (
	"cmp"
	"slices"

	"strandwise/chart"
	"strandwise/floats"
)

// Run is consecutive stitches that are worked alike in one yarn, with the catches on them.
type Run struct {
	Yarn     int
	Word     string // how they are worked, for the side that faces the knitter; empty for plain
	Stitches int
	From     int // its first stitch in the repeat, from 1
	Catches  []Catch
}

// RepeatRuns is how some repeats of a row are worked, all alike.
type RepeatRuns struct {
	Repeats []int // from 1, in knitting order
	Runs    []Run
	Catches []Catch // those of the runs once more, in order
}

// Letters gives the catches of a row, from 1, as it is shown, in order of their letters.
func (p *Piece) Letters(row int) []Catch {
	return lettered(p.Shown(row), p.Row(row).Course)
}

// LetterOf is the letter of a catch made or shown in a row; empty for an extra one.
func (p *Piece) LetterOf(row int, m Mark) string {
	if row <= p.State.Row {
		for _, move := range p.Changes(row).Moved {
			if move.To == m {
				m = move.From
			}
		}
	}
	return letterOf(p.Letters(row), m, p.Row(row).Course)
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
func (p *Piece) blocks(row int) []RowBlock {
	r := p.Row(row)
	catches := p.catchesByRepeat(row)
	blocks := make([]RowBlock, len(r.Blocks))
	for i := range r.Blocks {
		b := &r.Blocks[i]
		blocks[i] = RowBlock{Number: r.PlaceOf(b.First + 1).Block, Repeats: b.Repeats, Order: r.StitchesOf(b)}
		var all []RepeatRuns
		for rep := 1; rep <= b.Repeats; rep++ {
			here := catches[floats.Place{Block: blocks[i].Number, Repeat: rep}]
			at := slices.IndexFunc(all, func(r RepeatRuns) bool { return slices.Equal(r.Catches, here) })
			if at < 0 {
				at = len(all)
				all = append(all, RepeatRuns{Catches: here, Runs: p.runs(row, b, here)})
			}
			all[at].Repeats = append(all[at].Repeats, rep)
		}
		most := 0
		for at := range all {
			if len(all[at].Repeats) > len(all[most].Repeats) {
				most = at
			}
		}
		blocks[i].Often, blocks[i].Others = all[most], slices.Delete(slices.Clone(all), most, most+1)
	}
	return blocks
}

// catchesByRepeat gives the catches of each repeat of a row, by its place without a stitch: those
// made in a finished one, under the letters they were shown with, and those shown in one to come.
func (p *Piece) catchesByRepeat(row int) map[floats.Place][]Catch {
	r, letters := p.Row(row), p.Letters(row)
	finished, planned := row <= p.State.Row, []Mark(nil)
	shownAs := map[Mark]Mark{} // where a catch that was made elsewhere had been shown
	if finished {
		for _, m := range p.Changes(row).Moved {
			shownAs[m.To] = m.From
		}
	} else {
		planned = p.planned(row)
	}
	in := map[floats.Place][]Catch{}
	for _, m := range p.made(row) {
		known, moved := shownAs[m]
		if !moved {
			known = m
		}
		at := r.PlaceOf(m.Stitch)
		c := Catch{
			Letter: letterOf(letters, known, r.Course), Block: at.Block, Stitch: at.Stitch, Yarn: m.Yarn,
			Twist: twisted(p.State.GripAt(row).FloatMethod(), r.Stitch(m.Stitch)),
			Moved: !finished && !slices.Contains(planned, m),
		}
		at.Stitch = 0
		in[at] = append(in[at], c)
	}
	return in
}

// twisted reports whether a catch on a stitch is a twist: by the method of the row, and
// wherever the stitch is worked against its side, since nothing is woven there.
func twisted(m floats.Method, st floats.Stitch) bool {
	return m == floats.Twist || st.Technique == chart.Purl
}

// runs gathers the stitches of a repeat into runs and hands each its catches.
func (p *Piece) runs(row int, b *floats.Block, catches []Catch) []Run {
	r := p.Row(row)
	runs := runsOf(r.StitchesOf(b), func(t chart.Technique) string { return WorkedAs(t, r.WrongSide, p.State.Setup.Mirror) })
	for i := range runs {
		for _, c := range catches {
			if c.Stitch >= runs[i].From && c.Stitch < runs[i].From+runs[i].Stitches {
				runs[i].Catches = append(runs[i].Catches, c)
			}
		}
	}
	return runs
}

func workedAlike(a, b floats.Stitch) bool { return a.Yarn == b.Yarn && a.Technique == b.Technique }

// runsOf gathers stitches into runs; word is how a technique is worked.
func runsOf(order []floats.Stitch, word func(chart.Technique) string) []Run {
	var runs []Run
	for i, st := range order {
		if i == 0 || !workedAlike(st, order[i-1]) {
			run := Run{Yarn: st.Yarn, From: i + 1}
			if st.Technique != chart.Knit {
				run.Word = word(st.Technique)
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
		var in []Catch
		for _, r := range append([]RepeatRuns{b.Often}, b.Others...) {
			for _, c := range r.Catches {
				if !slices.ContainsFunc(in, func(o Catch) bool { return o.Stitch == c.Stitch && o.Yarn == c.Yarn }) {
					in = append(in, c)
				}
			}
		}
		slices.SortStableFunc(in, func(a, b Catch) int { return cmp.Or(a.Stitch-b.Stitch, a.Yarn-b.Yarn) })
		all = append(all, in...)
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

// WorkedAs is the word for a stitch as the knitter works it: wrong-side rows work
// knit as purl, k2tog as p2tog and so on, and a mirror knitter k2tog as ssk, m1l as m1r and the
// reverse, since she works toward the other side.
func WorkedAs(t chart.Technique, wrongSide, mirror bool) string {
	if mirror {
		t = t.Mirrored()
	}
	if wrongSide && onWrongSide[t] != "" {
		return onWrongSide[t]
	}
	return t.String()
}
