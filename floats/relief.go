package floats

import (
	"context"
	"slices"
)

// Relief is what keeps catches from stacking at one place: a plan made with it does not stack there.
type Relief struct {
	Stack
	RowsAlone bool // the two rows by themselves can be caught apart; with the rows around them that scores worse
	Spare     bool // and it takes a catch more than the fewest
	Limit     int  // the nearest other limit that helps, 0 when none of those tried does
	Stitch    *OneStitch
}

// OneStitch is a change of motif: a stitch of the caught yarn in the middle of its float.
type OneStitch struct{ Row, Column, Yarn int } // row as in Fabric.Rows; column within the repeat, from 1

// Trying costs a plan each time, so it is bounded in stitches of the fabric and in places.
const (
	tryStitches = 60_000
	tryPlaces   = 6
)

// tried is a plan without its proof: any allowed plan will do.
func (f *Fabric) tried(ctx context.Context, t Task) ([]Catch, error) {
	s := newSolver(ctx, f, t, 0, len(f.Rows))
	if err := s.draft(s.md.components()); err != nil {
		return nil, err
	}
	return s.md.catches(s.sets), nil
}

// Relieve tries, for each stack, what would avoid it: the two rows by themselves and, unless the fabric
// is large, other limits up to two stitches away, and for the first few places one stitch of the caught
// yarn in the middle of the upper or lower float. It returns ctx's error when canceled.
func (f *Fabric) Relieve(ctx context.Context, t Task, stacks []Stack) ([]Relief, error) {
	reliefs := make([]Relief, len(stacks))
	for i, s := range stacks {
		reliefs[i].Stack = s
		if err := f.tryRowsAlone(ctx, t, &reliefs[i]); err != nil {
			return nil, err
		}
	}
	if f.stitches() > tryStitches || len(stacks) == 0 {
		return reliefs, nil
	}
	if err := f.tryLimits(ctx, t, reliefs); err != nil {
		return nil, err
	}
	for i := range reliefs[:min(tryPlaces, len(reliefs))] {
		if err := f.tryStitch(ctx, t, &reliefs[i]); err != nil {
			return nil, err
		}
	}
	return reliefs, nil
}

func (f *Fabric) stitches() int {
	n := 0
	for r := range f.Rows {
		n += f.Rows[r].Stitches()
	}
	return n
}

func (f *Fabric) tryRowsAlone(ctx context.Context, t Task, r *Relief) error {
	pair := &Fabric{Yarns: f.Yarns, Rows: f.Rows[r.Row-1 : r.Row+1], Flat: f.Flat}
	catches, err := pair.tried(ctx, t)
	if err != nil {
		return err
	}
	r.RowsAlone = !pair.stacksAt(catches, 1, r.Column)
	if r.RowsAlone {
		fewest := 0
		for _, fl := range pair.Floats(t.RestLimit) {
			if fl.Length > t.Limit {
				fewest += rulesFor(fl.Length, t.Limit, t.Method).fewest
			}
		}
		r.Spare = len(catches) > fewest
	}
	return nil
}

func (f *Fabric) stacksAt(catches []Catch, row, column int) bool {
	stacks, _ := f.stacks(catches)
	return slices.ContainsFunc(stacks, func(s Stack) bool { return s.Row == row && s.Column == column })
}

// tryLimits looks for the nearest limit whose plan does not stack, the longer of two equally near.
func (f *Fabric) tryLimits(ctx context.Context, t Task, reliefs []Relief) error {
	for _, step := range []int{1, -1, 2, -2} {
		other := t
		if other.Limit += step; other.Limit < 1 {
			continue
		}
		catches, err := f.tried(ctx, other)
		if err != nil {
			return err
		}
		stacks, _ := f.stacks(catches)
		for i := range reliefs {
			r := &reliefs[i]
			if r.Limit == 0 && !slices.ContainsFunc(stacks, func(s Stack) bool { return s.Row == r.Row }) {
				r.Limit = other.Limit
			}
		}
	}
	return nil
}

func (f *Fabric) tryStitch(ctx context.Context, t Task, r *Relief) error {
	for _, try := range []OneStitch{{r.Row, 0, r.Upper}, {r.Row - 1, 0, r.Lower}} {
		column, found := f.middleOf(try.Row, try.Yarn, r.Column, t)
		if !found {
			continue
		}
		try.Column = column
		changed := f.with(try)
		catches, err := changed.tried(ctx, t)
		if err != nil {
			return err
		}
		if !changed.stacksAt(catches, r.Row, r.Column) {
			r.Stitch = &try
			return nil
		}
	}
	return nil
}

func (f *Fabric) middleOf(row, yarn, column int, t Task) (int, bool) {
	for _, fl := range f.RowFloats(row, t.RestLimit) {
		if fl.Yarn != yarn || fl.Kind != Within || fl.Row != row || fl.Length <= t.Limit {
			continue
		}
		for p := range fl.Length {
			if f.Rows[row].PatternColumn(f.stitchAt(site{row, fl.Stitch - 1 + p}).Column)+1 == column {
				middle := f.stitchAt(site{row, fl.Stitch - 1 + (fl.Length-1)/2}).Column
				return f.Rows[row].PatternColumn(middle) + 1, true
			}
		}
	}
	return 0, false
}

// with is the fabric with one stitch worked in another yarn, in every row that repeats the row.
func (f *Fabric) with(s OneStitch) *Fabric {
	was := &f.Rows[s.Row].Cells[0]
	return &Fabric{Yarns: f.Yarns, Flat: f.Flat, Rows: changed(f.Rows, func(c *Course) {
		if &c.Cells[0] == was {
			c.Cells = slices.Clone(c.Cells)
			c.Cells[s.Column-1].Yarn = s.Yarn
		}
	})}
}
