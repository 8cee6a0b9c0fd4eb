package floats

import (
	"cmp"
	"iter"
	"slices"

	"strandwise/chart"
)

// A row is made of blocks that stand side by side, each so many repeats of its own. What a row
// is told, planned and drawn by is its pattern: one repeat of each block. A stitch is known in
// three ways: counted over the whole row in knitting order, by its Place, and by where it stands
// in the pattern.

// Course is what rows worked alike share. It is not changed once the fabric is laid.
type Course struct {
	Part      int          // index into the parts given to Lay
	Cells     []chart.Cell // the pattern, index 0 = its column 1; Yarn indexes Fabric.Yarns
	Blocks    []Block      // in knitting order
	FromLeft  bool         // worked from the highest column down to column 1
	WrongSide bool         // worked with the wrong side facing

	order []Stitch // the pattern in knitting order
}

// Block is stitches of a row that are repeated as a whole, beside other blocks.
type Block struct {
	Number  int // from 1 in the order in which a right-side row works the blocks
	Columns int // of one repeat, empty cells included
	Repeats int

	Stitches int // of one repeat
	From     int // where it begins in the pattern, in knitting order from 0
	First    int // its first stitch over the row, in knitting order from 0

	column, within int // its lowest column over the row and in the pattern, from 0
}

// Place is a stitch of a row as it is said, from 1 in knitting order, empty cells left out.
type Place struct {
	Block  int `json:"block,omitempty"` // in rows of several blocks: from 1 in the order a right-side row works them
	Repeat int `json:"repeat"`
	Stitch int `json:"stitch"`
}

// extent is the first and last stitch of a yarn, in knitting order from 1, or zeros.
type extent struct{ first, last int }

// Columns is the number of columns over the whole row, empty cells included.
func (c *Course) Columns() int {
	return c.sum(func(b *Block) int { return b.Columns * b.Repeats })
}

// Stitches is the number of stitches over the whole row.
func (c *Course) Stitches() int {
	last := &c.Blocks[len(c.Blocks)-1]
	return last.First + last.Stitches*last.Repeats
}

// Repeats is how many repeats the row has, those of all blocks.
func (c *Course) Repeats() int { return c.sum(func(b *Block) int { return b.Repeats }) }

func (c *Course) sum(of func(*Block) int) int {
	n := 0
	for i := range c.Blocks {
		n += of(&c.Blocks[i])
	}
	return n
}

// Stitch is one stitch of a row, met in knitting order.
type Stitch struct {
	Column    int // from 0 = column 1; over the whole row or in the pattern
	Yarn      int // index into Fabric.Yarns
	Technique chart.Technique
}

// InOrder returns the stitches of the pattern, shared by rows: it is not to be changed.
func (c *Course) InOrder() []Stitch { return c.order }

// StitchesOf returns the stitches of one repeat of a block, as InOrder does.
func (c *Course) StitchesOf(b *Block) []Stitch { return c.order[b.From : b.From+b.Stitches] }

// NewCourse is a row of one repeat, as a chart shows it.
func NewCourse(cells []chart.Cell, fromLeft bool) *Course {
	return Course{Cells: cells, Blocks: []Block{{Number: 1, Columns: len(cells), Repeats: 1}}, FromLeft: fromLeft}.inOrder()
}

func (c Course) inOrder() *Course {
	c.Blocks = slices.Clone(c.Blocks)
	c.order = make([]Stitch, 0, len(c.Cells))
	column, within, first := 0, 0, 0
	if c.FromLeft {
		column, within = c.Columns(), len(c.Cells)
	}
	for i := range c.Blocks {
		b := &c.Blocks[i]
		if c.FromLeft {
			column, within = column-b.Columns*b.Repeats, within-b.Columns
		}
		b.column, b.within, b.From, b.First = column, within, len(c.order), first
		c.work(b)
		b.Stitches = len(c.order) - b.From
		first += b.Stitches * b.Repeats
		if !c.FromLeft {
			column, within = column+b.Columns*b.Repeats, within+b.Columns
		}
	}
	return &c
}

func (c *Course) work(b *Block) {
	for i := range b.Columns {
		column := b.within + i
		if c.FromLeft {
			column = b.within + b.Columns - 1 - i
		}
		if cell := c.Cells[column]; !cell.IsEmpty() {
			c.order = append(c.order, Stitch{column, cell.Yarn, cell.Technique})
		}
	}
}

// use is where a yarn is used in the pattern.
func (c *Course) use(yarn int) (e extent) {
	for i, s := range c.order {
		e.meet(i+1, s.Yarn == yarn)
	}
	return e
}

// used is where a yarn is used over the whole row.
func (c *Course) used(yarn int) (e extent) {
	for at, s := range c.All() {
		e.meet(at, s.Yarn == yarn)
	}
	return e
}

func (e *extent) meet(stitch int, used bool) {
	if used {
		*e = extent{cmp.Or(e.first, stitch), stitch}
	}
}

// BlockAt is the block of a stitch counted over the whole row, from 1; it must be one of the row.
func (c *Course) BlockAt(stitch int) *Block {
	i := 0
	for stitch > c.Blocks[i].First+c.Blocks[i].Stitches*c.Blocks[i].Repeats {
		i++
	}
	return &c.Blocks[i]
}

// Block is the block with a number; 0 is the only one of the row. It is nil where there is none.
func (c *Course) Block(number int) *Block {
	if number == 0 && len(c.Blocks) == 1 {
		return &c.Blocks[0]
	}
	at := slices.IndexFunc(c.Blocks, func(b Block) bool { return b.Number == number })
	if at < 0 {
		return nil
	}
	return &c.Blocks[at]
}

// locate finds a stitch (from 1 over the row): its block, its repeat and its stitch there (from 0).
func (c *Course) locate(stitch int) (b *Block, repeat, at int) {
	b = c.BlockAt(stitch)
	at = stitch - 1 - b.First
	return b, at / b.Stitches, at % b.Stitches
}

// PlaceOf is the place of a stitch counted over the whole row, from 1.
func (c *Course) PlaceOf(stitch int) Place {
	b, repeat, at := c.locate(stitch)
	p := Place{Repeat: repeat + 1, Stitch: at + 1}
	if len(c.Blocks) > 1 {
		p.Block = b.Number
	}
	return p
}

// StitchAt is the stitch, from 1 over the whole row, at a place, which must be one of the row.
func (c *Course) StitchAt(p Place) int {
	b := c.Block(p.Block)
	return b.First + (p.Repeat-1)*b.Stitches + p.Stitch
}

// InPattern is where a stitch (from 1 over the row) stands in the pattern, from 0 in knitting order.
func (c *Course) InPattern(stitch int) int {
	b, _, at := c.locate(stitch)
	return b.From + at
}

// Stitch is a stitch counted over the whole row, from 1, with its column over the whole row.
func (c *Course) Stitch(stitch int) Stitch {
	b, repeat, at := c.locate(stitch)
	s := c.order[b.From+at]
	s.Column += c.FirstColumn(b, repeat+1) - b.within
	return s
}

// All goes through the stitches of the whole row, counted from 1, their columns in the pattern.
func (c *Course) All() iter.Seq2[int, Stitch] {
	return func(yield func(int, Stitch) bool) {
		at := 0
		for i := range c.Blocks {
			for range c.Blocks[i].Repeats {
				for _, s := range c.StitchesOf(&c.Blocks[i]) {
					if at++; !yield(at, s) {
						return
					}
				}
			}
		}
	}
}

// Fits reports whether two rows have the same blocks: their patterns match column by column.
func (c *Course) Fits(o *Course) bool {
	if len(c.Blocks) != len(o.Blocks) {
		return false
	}
	for _, b := range c.Blocks {
		if other := o.Block(b.Number); other == nil || other.Columns != b.Columns || other.Repeats != b.Repeats {
			return false
		}
	}
	return true
}

// FirstColumn is the lowest column over the whole row, from 0, of a repeat (from 1).
func (c *Course) FirstColumn(b *Block, repeat int) int {
	rep := repeat - 1
	if c.FromLeft {
		rep = b.Repeats - repeat
	}
	return b.column + rep*b.Columns
}

// Borders lists the lowest column of each repeat over the whole row, from 0, in order.
func (c *Course) Borders() []int {
	var all []int
	for i := range c.Blocks {
		b := &c.Blocks[i]
		for rep := range b.Repeats {
			all = append(all, b.column+rep*b.Columns)
		}
	}
	slices.Sort(all)
	return all
}

// PatternColumn is the column of the pattern, from 0, that stands at a column of the whole row.
func (c *Course) PatternColumn(column int) int {
	for i := range c.Blocks {
		b := &c.Blocks[i]
		if at := column - b.column; at >= 0 && at < b.Columns*b.Repeats {
			return b.within + at%b.Columns
		}
	}
	return column
}

// Cell is the cell at a column of the whole row, from 0.
func (c *Course) Cell(column int) chart.Cell { return c.Cells[c.PatternColumn(column)] }

// Uses is how many stitches of the row below the row uses up, Makes how many it leaves.
func (c *Course) Uses() int { return c.total(chart.Technique.Uses) }

// Makes is how many stitches the row leaves on the needle.
func (c *Course) Makes() int { return c.total(chart.Technique.Makes) }

func (c *Course) total(of func(chart.Technique) int) int {
	return c.sum(func(b *Block) int {
		n := 0
		for _, s := range c.StitchesOf(b) {
			n += of(s.Technique)
		}
		return n * b.Repeats
	})
}

// copies gives how many copies of a float that lies within the row are caught alike, and the
// stitch at which the first of them begins. A float that stands in every repeat of a block has
// as many, one that crosses from repeat to repeat one fewer, one that leaves its block is alone.
func (c *Course) copies(fl Float) (first, stand int) {
	b, from, _ := c.locate(fl.Stitch - 1) // the stitches before and after it are its yarn's own
	end, to, _ := c.locate(fl.Stitch + fl.Length)
	if end != b {
		return fl.Stitch, 1
	}
	return fl.Stitch - from*b.Stitches, b.Repeats - (to - from)
}
