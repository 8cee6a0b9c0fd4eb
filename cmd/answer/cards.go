package answer

import (
	"fmt"
	"slices"
	"strings"

	d "strandwise/cmd/document"
	"strandwise/cmd/draw"
	"strandwise/cmd/paper"
	"strandwise/session"
)

// Cards is the JSON of cards, schema 1: which rows, from 1, stand in which file.
type Cards struct {
	Piece   string `json:"piece"`
	File    string `json:"file"`
	FromRow int    `json:"from_row"`
	ToRow   int    `json:"to_row"`
	Paper   string `json:"paper"` // a4 or letter

	piece  *session.Piece
	inches bool
	paper  paper.Paper
}

// NewCards is the answer with the cards of rows from one to another, both in, from 1.
func NewCards(p *session.Piece, from, to int, file string, of paper.Paper, inches bool) *Cards {
	return &Cards{p.State.Setup.Name, file, from, to, of.Name, p, inches, of}
}

// Document is the piece as paper to knit from: the chart, then row by row what its sheet says,
// with a box to tick. Every row is as it will be shown if those before it are worked as shown;
// finished rows are as they were worked.
func (c *Cards) Document() d.Document {
	chart, cards := c.rows()
	blocks := pictures(draw.OnPaper(chart, c.chartOptions(), c.paper))
	blocks = append(blocks, d.Heading{Text: d.Words(c.Piece)})
	return c.of(append(append(blocks, c.head()...), cards...))
}

// Page is the same for a page of a browser, which has its head above the chart.
func (c *Cards) Page() d.Document {
	chart, cards := c.rows()
	blocks := append(c.head(), d.Heading{Text: d.Words("Chart")})
	blocks = append(blocks, pictures(draw.OnPage(chart, c.chartOptions()))...)
	return c.of(append(append(blocks, d.Heading{Text: d.Words(c.word() + "s")}), cards...))
}

func (c *Cards) of(blocks []d.Block) d.Document {
	return d.Document{Title: c.Piece, Yarns: c.piece.Layout.Fabric.Yarns, Blocks: blocks}
}

func (c *Cards) chartOptions() draw.Options {
	return draw.Options{Side: draw.RightSide, Inches: c.inches}
}

// word is Round or Row.
func (c *Cards) word() string {
	if c.piece.State.Setup.Flat {
		return "Row"
	}
	return "Round"
}

// head tells how the piece is worked, and what to be careful of.
func (c *Cards) head() []d.Block {
	setup, seg, p := &c.piece.State.Setup, c.piece.State.SegmentAt(c.ToRow), &prose{}
	how := map[bool]string{true: "Worked flat", false: "Worked in the round"}[setup.Flat]
	if setup.Mirror {
		how += ", from the right needle to the left"
	}
	p.item("%ss %d to %d of %d. %s. No yarn passes more than %s uncaught.", c.word(), c.FromRow, c.ToRow, c.piece.Rows(), how, stitches(seg.Limit))
	p.item("Hold: %s, %s carry, %s.", setup.Hold, setup.Carry, setup.Method)
	if seg.Gauge != "" {
		p.item("Gauge: %s.", seg.Gauge)
	}
	p.item("Read a %s as it stands: count and yarn, and in brackets the stitches before, between and after the catches, which have letters. Tick the box when it is done.", strings.ToLower(c.word()))
	for _, caution := range slices.Concat(setup.Cautions(), session.HandCautions) {
		p.aside("%s", caution)
	}
	return p.blocks
}

// rows are a card for each row, and their chart.
func (c *Cards) rows() (*draw.Knitted, []d.Block) {
	memory := &motionMemory{told: map[string]bool{}}
	var sheets []*session.Sheet
	var cards []d.Block
	for row := c.FromRow; row <= c.ToRow; row++ {
		sheets = append(sheets, c.piece.Sheet(row))
		cards = append(cards, card(*sheets[len(sheets)-1], memory, row == c.FromRow))
	}
	return chartToKnit(c.piece, sheets), cards
}

// card is the answer of a row with its strip as a picture. The cautions of the first stand at the
// head of the cards.
func card(s session.Sheet, memory *motionMemory, first bool) d.Card {
	o := RowOptions{YarnPlaces: first && len(s.YarnPlaces) > 0, Motions: memory.blocks}
	if o.YarnPlaces {
		s.Cautions = nil
	}
	blocks := NewRow(&s, o).Document().Blocks
	for i, b := range blocks {
		if _, is := b.(d.Strip); is {
			blocks[i] = d.Picture{Drawing: draw.Strip(&s)}
		}
	}
	return d.Card{Row: blocks[0].(d.Row), Word: s.Word(), Blocks: blocks[1:]}
}

// motionMemory is which motions stand on the cards already.
type motionMemory struct {
	told   map[string]bool
	latest map[string]bool // those of the latest row with catches
}

// blocks tells the motions that are not those of the row before: in full the first time, in
// short when they come back.
func (m *motionMemory) blocks(s *session.Sheet) []d.Block {
	if len(s.Motions) == 0 {
		return nil
	}
	var blocks []d.Block
	now := map[string]bool{}
	for _, motion := range s.Motions {
		key := MotionTitle(s, &motion) + strings.Join(motion.StepsFor(motion.Way), "\n")
		now[key] = true
		if motion.Known = m.told[key]; !m.latest[key] {
			blocks = append(blocks, MotionBlocks(s, &motion, !motion.Known)...)
		}
		m.told[key] = true
	}
	m.latest = now
	return blocks
}

// chartToKnit is the chart of rows to work: one repeat, or rows of blocks whole, with the catches that most repeats have;
// the rows say where repeats differ.
func chartToKnit(p *session.Piece, sheets []*session.Sheet) *draw.Knitted {
	from, to := sheets[0].Row, sheets[len(sheets)-1].Row
	k := &draw.Knitted{Piece: p, Begin: from, Rows: to, Marks: make([][]draw.Mark, to)}
	blocks := 0
	for _, s := range sheets {
		r := p.Row(s.Row)
		if !s.Part.Plain {
			k.Across = max(k.Across, len(r.Cells))
		}
		blocks = max(blocks, len(s.Blocks))
		for i := range s.Blocks {
			b := &s.Blocks[i]
			for rep := range b.Repeats {
				for _, c := range b.Often.Catches {
					mark := session.Mark{Stitch: s.Begins(b, rep+1) + c.Stitch - 1, Yarn: c.Yarn}
					k.Marks[s.Row-1] = append(k.Marks[s.Row-1], draw.Mark{Mark: mark, State: draw.ToMake, Letter: c.Letter})
				}
			}
		}
	}
	switch {
	case blocks > 1: // one repeat of each is nowhere side by side
		k.Across = 0
	case k.Across == 0:
		k.Across = min(plainAcross, k.Columns())
	}
	return k
}

// plainAcross is how many columns of plain rows are drawn when there is nothing else.
const plainAcross = 20

// fabricBlocks are both sides of the fabric as sections of a page, in parts where it is large.
func fabricBlocks(k *draw.Knitted, inches bool) []d.Block {
	var blocks []d.Block
	places := map[int]bool{}
	for _, side := range []struct {
		side draw.Side
		name string
	}{{draw.WrongSide, "Wrong side"}, {draw.RightSide, "Right side"}} {
		blocks = append(blocks, d.Heading{Text: d.Words(side.name)})
		parts := draw.OnPage(k, draw.Options{Side: side.side, Inches: inches, Places: places})
		if n := len(parts); n > 1 {
			blocks = append(blocks, d.Line{Text: d.Words(fmt.Sprintf("In %d parts; neighbors share two rows or stitches.", n))})
		}
		blocks = append(blocks, pictures(parts)...)
	}
	return blocks
}

// FabricPaper is a side of the fabric for paper.
func FabricPaper(k *draw.Knitted, o draw.Options, p paper.Paper) d.Document {
	return d.Document{Title: k.Piece.State.Setup.Name, Blocks: pictures(draw.OnPaper(k, o, p))}
}

func pictures(scenes []*draw.Scene) []d.Block {
	blocks := make([]d.Block, len(scenes))
	for i, s := range scenes {
		blocks[i] = d.Picture{Drawing: s}
	}
	return blocks
}
