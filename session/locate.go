package session

import (
	"cmp"
	"slices"

	"strandwise/chart"
	"strandwise/floats"
)

// A knitter reads some runs off her needle, beginning anywhere in the row, so the
// first and the last may be parts of longer runs while those between are whole: as
// single stitches, what she reads stands somewhere in the row. In the round the row
// has no end and is tried from every stitch of one repeat; flat work ends at its
// edges. The row is tried in knitting order and against it, since she may read either
// way.

// RowFit is a row that some runs were read from, perhaps.
type RowFit struct {
	Row      int  `json:"row"`      // from 1
	Stitches int  `json:"stitches"` // of the reading that fit, from its first stitch on
	From     int  `json:"from"`     // the stitch of the repeat where the reading begins, from 1, in knitting order; the first place of several
	Backward bool `json:"backward"` // read against the order of knitting
	Other    int  `json:"other"`    // the first stitch where it begins if read the other way; 0 when it cannot be
	Places   int  `json:"places"`   // how many stitches of a repeat it could begin at, either way

	// Where those stitches are in rows of several blocks, in which nothing but the whole row repeats.
	At      *floats.Place `json:"at,omitempty"`
	OtherAt *floats.Place `json:"other_at,omitempty"`

	places []needlePlace // all of them, in the order they are tried
}

type needlePlace struct {
	from     int // from 0
	backward bool
}

// Located is where a reading fits.
type Located struct {
	Stitches int      `json:"stitches"` // of the reading
	Whole    bool     `json:"whole"`    // the rows fit in all of them
	Fits     []RowFit `json:"fits"`     // in order; where none is whole, those that fit farthest
	Apart    *Apart   `json:"apart"`    // null when nothing tells the rows apart, or only one fits
}

// Apart is a stitch that tells some of the rows apart.
type Apart struct {
	After  int         `json:"after"`  // stitches after the last one read, from 1
	Yarns  []ApartYarn `json:"yarns"`  // rows in which it is one yarn wherever and whichever way the reading goes
	Unsure []int       `json:"unsure"` // rows in which it depends on where the reading began
}

// ApartYarn is what that stitch is in some of the rows.
type ApartYarn struct {
	Yarn chart.Yarn `json:"yarn"` // symbol; empty where the row has ended before it
	Rows []int      `json:"rows"`
}

// nearMost is how many rows are told when none fits wholly: our choice.
const nearMost = 5

// Locate finds the rows that runs were read from. Below, which may be empty, was read off the row under it.
// The time is linear in the stitches of the piece, times those of the reading at worst.
func (p *Piece) Locate(runs, below []ReadRun) Located {
	l := Located{Stitches: stitchesRead(runs)}
	for row := 1; row <= p.Rows(); row++ {
		if len(below) > 0 && (row == 1 || p.fit(row-1, below).Stitches < stitchesRead(below)) {
			continue
		}
		if f := p.fit(row, runs); f.Stitches > 0 {
			l.Fits = append(l.Fits, f)
		}
	}
	whole := slices.DeleteFunc(slices.Clone(l.Fits), func(f RowFit) bool { return f.Stitches < l.Stitches })
	if l.Whole = len(whole) > 0; l.Whole {
		l.Fits = whole
		l.Apart = p.apart(l)
		return l
	}
	slices.SortStableFunc(l.Fits, func(a, b RowFit) int { return cmp.Compare(b.Stitches, a.Stitches) })
	l.Fits = l.Fits[:min(len(l.Fits), nearMost)]
	return l
}

func stitchesRead(runs []ReadRun) int {
	n := 0
	for _, r := range runs {
		n += r.Stitches
	}
	return n
}

// fit finds the places where a reading fits farthest in a row. Told is the first, forward before backward.
func (p *Piece) fit(row int, runs []ReadRun) RowFit {
	best, line := RowFit{Row: row}, p.lineOf(row)
	starts := len(line.yarns) // in flat work a reading may end at an edge
	if line.closed {
		starts = line.repeat // one repeat stands for all
	}
	for _, backward := range []bool{false, true} {
		for from := range starts {
			place := needlePlace{from, backward}
			n := line.matched(place, runs)
			if n > best.Stitches {
				best = RowFit{Row: row, Stitches: n}
			}
			if n == best.Stitches && n > 0 {
				best.places = append(best.places, place)
			}
		}
	}
	stitches := map[int]bool{}
	for i, place := range best.places {
		stitches[place.from%line.repeat] = true
		at := p.PlaceOf(row, place.from%line.repeat+1)
		var inBlock *floats.Place
		if at.Block > 0 {
			inBlock = &at
		}
		switch {
		case i == 0:
			best.From, best.At, best.Backward = at.Stitch, inBlock, place.backward
		case place.backward != best.Backward && best.Other == 0:
			best.Other, best.OtherAt = at.Stitch, inBlock
		}
	}
	best.Places = len(stitches)
	return best
}

// needleRow is a row as it lies on the needle, in knitting order.
type needleRow struct {
	yarns  []int // by stitch
	repeat int   // stitches of one repeat; in rows of blocks nothing but the whole row repeats
	closed bool  // the row goes on at its start
}

func (p *Piece) lineOf(row int) needleRow {
	r := p.Row(row)
	n := needleRow{repeat: r.Stitches(), closed: !p.Layout.Fabric.Flat}
	for _, s := range r.All() {
		n.yarns = append(n.yarns, s.Yarn)
	}
	if len(r.Blocks) == 1 {
		n.repeat = r.Blocks[0].Stitches
	}
	return n
}

// at gives the yarn of the i-th stitch (from 0) of a reading from a place on;
// chart.NoYarn past the edge, and past one whole round.
func (n needleRow) at(place needlePlace, i int) int {
	at, total := place.from+i, len(n.yarns)
	if place.backward {
		at = place.from - i
	}
	if i >= total || !n.closed && (at < 0 || at >= total) {
		return chart.NoYarn
	}
	return n.yarns[(at+total)%total]
}

// matched counts the stitches of a reading that fit.
func (n needleRow) matched(place needlePlace, runs []ReadRun) int {
	i, last := 0, chart.NoYarn
	for _, r := range runs {
		yarn := r.Yarn
		if yarn == chart.NoYarn {
			if yarn = n.at(place, i); yarn == last || yarn == chart.NoYarn {
				return i
			}
		}
		for range r.Stitches {
			if n.at(place, i) != yarn {
				return i
			}
			i++
		}
		last = yarn
	}
	return i
}

// apart finds the first stitch after the reading that tells at least two of the rows apart; nil when none
// does. A row read from several places, or both ways, tells only where all of them agree on the stitch.
func (p *Piece) apart(l Located) *Apart {
	if len(l.Fits) < 2 {
		return nil
	}
	lines, farthest := mapped(l.Fits, func(f RowFit) needleRow { return p.lineOf(f.Row) }), 0
	for _, line := range lines {
		farthest = max(farthest, 2*line.repeat) // farther on they only come again
	}
	for after := 1; after <= farthest; after++ {
		a := &Apart{After: after}
		for i, f := range l.Fits {
			stitch := func(place needlePlace) int { return lines[i].at(place, l.Stitches+after-1) }
			found := stitch(f.places[0])
			if slices.ContainsFunc(f.places, func(place needlePlace) bool { return stitch(place) != found }) {
				a.Unsure = append(a.Unsure, f.Row)
				continue
			}
			yarn := chart.Yarn{}
			if found != chart.NoYarn {
				yarn = p.Layout.Fabric.Yarns[found]
			}
			at := slices.IndexFunc(a.Yarns, func(y ApartYarn) bool { return y.Yarn == yarn })
			if at < 0 {
				at, a.Yarns = len(a.Yarns), append(a.Yarns, ApartYarn{Yarn: yarn})
			}
			a.Yarns[at].Rows = append(a.Yarns[at].Rows, f.Row)
		}
		if len(a.Yarns) > 1 {
			return a
		}
	}
	return nil
}
