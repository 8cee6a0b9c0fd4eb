package floats

import (
	"maps"
	"slices"
)

// covering groups the pieces of a part into strips: each row with the row above it.
// Where that makes too many joint states, the upper row is taken yarn by yarn, and
// then the lower one too; every piece is in some strip.
type covering struct {
	md     *model
	most   int
	rows   map[int][]*piece
	groups [][]*piece
}

func newCovering(md *model, pieces []*piece, most int) *covering {
	c := &covering{md: md, most: most, rows: map[int][]*piece{}}
	for _, p := range pieces {
		c.rows[p.row] = append(c.rows[p.row], p)
	}
	joined := false
	for _, r := range slices.Sorted(maps.Keys(c.rows)) {
		above := c.rows[r+1]
		if len(above) == 0 || !md.fabric.comparable(r+1) {
			if !joined {
				c.row(r)
			}
			joined = false
			continue
		}
		joined = c.join(r, joined)
	}
	return c
}

// join covers a row and the row above it, and tells whether the upper one is covered
// by itself, couplings within it included.
func (c *covering) join(r int, covered bool) bool {
	low, high := c.rows[r], c.rows[r+1]
	if c.fits(slices.Concat(low, high)) {
		c.groups = append(c.groups, slices.Concat(low, high))
		return true
	}
	lows := [][]*piece{low}
	highs := c.byYarn(high)
	if slices.ContainsFunc(highs, func(h []*piece) bool { return !c.fits(slices.Concat(low, h)) }) {
		if !covered {
			c.row(r)
		}
		lows = c.byYarn(low)
	}
	for _, l := range lows {
		for _, h := range highs {
			c.groups = append(c.groups, slices.Concat(l, h))
		}
	}
	return false
}

// row covers a row alone.
func (c *covering) row(r int) {
	if c.fits(c.rows[r]) {
		c.groups = append(c.groups, c.rows[r])
		return
	}
	c.groups = append(c.groups, c.byYarn(c.rows[r])...)
}

func (c *covering) fits(pieces []*piece) bool {
	return c.md.newStrip(tracks(pieces), c.md.whole).most <= c.most
}

// byYarn splits the pieces of a row by yarn, in order of yarns.
func (c *covering) byYarn(pieces []*piece) [][]*piece {
	split := make([][]*piece, len(c.md.fabric.Yarns))
	for _, p := range pieces {
		y := c.md.choices[p.choice].Yarn
		split[y] = append(split[y], p)
	}
	return slices.DeleteFunc(split, func(s []*piece) bool { return len(s) == 0 })
}
