package answer

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"strandwise/chart"
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

	piece *session.Piece
	o     CardsOptions
}

// CardsOptions are what cards are made for.
type CardsOptions struct {
	Paper  paper.Paper
	Inches bool      // lengths are told in inches
	Large  bool      // for low vision: all in words, in large letters
	At     time.Time // when they are made, which stands on each page with what is knitted by then
}

// NewCards is the answer with the cards of rows from one to another, both in, from 1.
func NewCards(p *session.Piece, from, to int, file string, o CardsOptions) *Cards {
	return &Cards{p.State.Setup.Name, file, from, to, o.Paper.Name, p, o}
}

// Document is the piece as paper to knit from: the chart, but for large cards, then a card a row. Every row is as it
// will be shown if those before it are worked as shown; finished rows are as they were worked.
func (c *Cards) Document() d.Document { return c.document(false) }

// Page is the same for a page of a browser, which has its head above the chart.
func (c *Cards) Page() d.Document { return c.document(true) }

func (c *Cards) document(page bool) d.Document {
	made := d.Document{Title: c.Piece, Large: c.o.Large, Head: c.running(), Yarns: c.piece.Layout.Fabric.Yarns}
	chart, cards := c.rows()
	head, rows := c.head(), []d.Block{d.Heading{Text: d.Words(c.word() + "s")}}
	o := draw.Options{Side: draw.RightSide, Inches: c.o.Inches, Upward: true}
	switch {
	case c.o.Large:
		made.Head = made.Head[:1]
		made.Blocks = slices.Concat(head, rows, cards)
	case page:
		drawn := []d.Block{d.Heading{Text: d.Words("Chart")}}
		made.Blocks = slices.Concat(head, drawn, pictures(draw.OnPage(chart, o)), rows, cards)
	default:
		made.Blocks = slices.Concat(pictures(draw.OnPaper(chart, o, c.o.Paper)), rows, head, cards)
	}
	return made
}

func (c *Cards) word() string { return d.Capital(session.RowWord(!c.piece.State.Setup.Flat)) }

// running stands on every page, so that an old print can be told from a new one and a page that
// went astray is whole: which rows, how much was knitted when, how the piece is worked, the yarns.
func (c *Cards) running() []d.Text {
	state := c.piece.State
	setup, seg, word := &state.Setup, state.SegmentAt(c.ToRow), strings.ToLower(c.word())
	rows := d.Stretch{From: c.FromRow, To: c.ToRow}.Rows()
	which := fmt.Sprintf(": %s %s of %d; %d of %[3]d %[5]ss done on %[6]s",
		chart.Plural(word, c.ToRow-c.FromRow+1), rows, c.piece.Rows(), state.Row, word, c.o.At.Format(time.DateOnly))
	how := map[bool]string{true: "Worked flat", false: "Worked in the round"}[setup.Flat]
	if setup.Mirror {
		how += ", from the right needle to the left"
	}
	how += fmt.Sprintf(". Hold: %s, %s carry, %s. No yarn passes more than %s uncaught.", setup.Hold, setup.Carry, setup.Method, stitches(seg.Limit))
	if seg.Gauge != "" {
		how += fmt.Sprintf(" Gauge: %s.", seg.Gauge)
	}
	return []d.Text{{{Text: c.Piece, Tone: d.Strong, Name: true}, {Text: which, Tone: d.Strong}}, d.Words(how), yarnKey(c.piece.Layout.Fabric.Yarns)}
}

func yarnKey(yarns []chart.Yarn) d.Text {
	var key d.Text
	for i, y := range yarns {
		if i > 0 {
			key = append(key, d.Span{Text: " "})
		}
		key = append(key, d.Span{Text: fmt.Sprintf("%c %s", y.Symbol, y.Name), Yarn: i + 1, Whole: true})
	}
	return key
}

// head tells how to read the cards. Large cards have in it what others have at the head of each page.
func (c *Cards) head() []d.Block {
	setup, p, word := &c.piece.State.Setup, &prose{}, strings.ToLower(c.word())
	if c.o.Large {
		p.item("%s", c.running()[1].String())
		p.item("Yarns: %s.", session.Listed(mapped(c.piece.Layout.Fabric.Yarns, func(y chart.Yarn) string { return y.Name }), "and"))
		p.item("Each line of a %s is a run: count and yarn, then the stitches before, between and after its catches, which have letters. Tick the box when the %[1]s is done.", word)
	} else {
		p.item("Read a %s as it stands: count and yarn, and in brackets the stitches before, between and after the catches, which have letters. Tick the box when it is done.", word)
		p.item("The second drawing of a %s with catches is its wrong side, as it is to lie when the work is turned over: one repeat, and below it that of the %[1]s before.", word)
	}
	for _, caution := range slices.Concat(setup.Cautions(), session.HandCautions) {
		p.aside("%s", caution)
	}
	return p.blocks
}

// rows are a card for each row, or for plain rows that are alike, and their chart.
func (c *Cards) rows() (*draw.Knitted, []d.Block) {
	memory := &motionMemory{told: map[string]bool{}}
	back := draw.WithRowsToCome(c.piece, c.ToRow, nil)
	var sheets []*session.Sheet
	var cards []d.Block
	for row := c.FromRow; row <= c.ToRow; row++ {
		s := c.piece.Sheet(row)
		if row > c.FromRow && repeats(s, sheets[len(sheets)-1]) {
			last := len(cards) - 1
			cards[last] = c.joined(cards[last].(d.Card), s)
		} else {
			cards = append(cards, c.card(*s, memory, back))
		}
		sheets = append(sheets, s)
	}
	return chartToKnit(c.piece, sheets), cards
}

// card has the strip as a picture, and below it the wrong side where something is caught. The cautions of the first
// stand at the head of the cards.
func (c *Cards) card(s session.Sheet, memory *motionMemory, back *draw.Knitted) d.Card {
	o := RowOptions{YarnPlaces: s.Row == c.FromRow && len(s.YarnPlaces) > 0, Motions: memory.blocks}
	if o.YarnPlaces {
		s.Cautions = nil
	}
	o.Strip = func(strip d.Strip) []d.Block {
		if strip.Optional || c.o.Large {
			return nil
		}
		return pictures(append([]*draw.Scene{draw.Strip(&s)}, draw.Backs(back, &s)...))
	}
	blocks := NewRow(&s, o).Document().Blocks
	made := d.Card{
		Row: blocks[0].(d.Row), Word: s.Word(), Part: s.Part.Name, Stitches: s.Stitches(),
		Ticks: []d.Tick{{Row: s.Row, Done: s.Row <= c.piece.State.Row}}, Blocks: blocks[1:],
	}
	if c.o.Large {
		return c.inWords(made)
	}
	return made
}

// onlyPlain reports whether nothing is to be told of a plain row but its stitches.
func onlyPlain(s *session.Sheet) bool {
	return s.Part.Plain && s.Begun == 0 && !s.Shapes() && len(s.Distinct())+len(s.Notes)+len(s.Changes)+len(s.Motions)+len(s.Reasons) == 0
}

// repeats reports whether a plain row is worked as the one below it and tells nothing new.
func repeats(s, below *session.Sheet) bool {
	return onlyPlain(s) && onlyPlain(below) && !s.Turned && len(s.Moves)+len(s.Cautions) == 0 && s.Part.Number == below.Part.Number &&
		s.Stitches() == below.Stitches() && slices.Equal(s.InOrder(), below.InOrder())
}

func (c *Cards) joined(card d.Card, s *session.Sheet) d.Card {
	rows := d.Stretch{From: card.Ticks[0].Row, To: s.Row}.Rows()
	before, after, _ := strings.Cut(card.Row.Head, card.Row.Number)
	if before != "" {
		before = c.word() + "s "
	}
	card.Row.Number, card.Row.Head = rows, before+rows+after
	card.Ticks = append(card.Ticks, d.Tick{Row: s.Row, Done: s.Row <= c.piece.State.Row})
	place := slices.IndexFunc(card.Blocks, func(b d.Block) bool { _, is := b.(d.Line); return is })
	card.Blocks[place] = d.Line{Text: d.Named(c.Piece, fmt.Sprintf(", %ss %s of %d; %s", s.Word(), rows, s.Of, s.Part.Name)), Tone: d.Quiet}
	return card
}

// motionMemory is which motions stand on the cards already.
type motionMemory struct {
	told   map[string]bool
	latest map[string]bool // those of the latest row with catches
}

// blocks leaves out the motions of the row before, and tells those that come back in short.
func (m *motionMemory) blocks(s *session.Sheet) []d.Block {
	if len(s.Motions) == 0 {
		return nil
	}
	var blocks []d.Block
	now := map[string]bool{}
	for _, motion := range s.Motions {
		key := MotionTitle(s, &motion) + strings.Join(motion.In(motion.Way).Steps, "\n")
		now[key] = true
		if motion.Known = m.told[key]; !m.latest[key] {
			blocks = append(blocks, MotionBlocks(s, &motion, !motion.Known)...)
			if !motion.Known {
				blocks = append(blocks, MotionPicture(s, &motion))
			}
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
					mark := session.Mark{Stitch: s.Begins(b, rep+1) + c.Stitch - 1, Yarn: c.Yarn.Index}
					k.Marks[s.Row-1] = append(k.Marks[s.Row-1], draw.Mark{Mark: mark, State: draw.ToMake, Letter: c.Letter})
				}
			}
		}
	}
	switch {
	case blocks > 1: // one repeat of each is nowhere side by side
		k.Across = 0
	case k.Across == 0:
		k.Across = min(20, k.Columns()) // plain rows and nothing else
	}
	return k
}

func fabricBlocks(k *draw.Knitted, inches bool) []d.Block {
	var blocks []d.Block
	places := map[int]bool{}
	for _, side := range []draw.Side{draw.WrongSide, draw.RightSide} {
		blocks = append(blocks, d.Heading{Text: d.Words(d.Capital(string(side)) + " side")})
		parts := draw.OnPage(k, draw.Options{Side: side, Inches: inches, Places: places})
		if n := len(parts); n > 1 {
			if side == draw.WrongSide && len(k.Mends) > 0 {
				blocks = append(blocks, d.Picture{Drawing: draw.Overview(k)})
			}
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
	return mapped(scenes, func(s *draw.Scene) d.Block { return d.Picture{Drawing: s} })
}

// inWords is a large card: all in words, a run a line, as they are told aloud; colors tell nothing.
func (c *Cards) inWords(card d.Card) d.Card {
	told := card.Blocks
	head := d.Row{Number: card.Row.Number, Head: c.word() + " " + card.Row.Head}
	card.Blocks = []d.Block{runsInWords(card.Row)}
	for _, b := range told {
		switch b := b.(type) {
		case d.Row:
			card.Blocks = append(card.Blocks, d.Line{Text: d.Words(b.Head)}, runsInWords(b))
		case d.Line:
			b.Text = asHeard(b.Text)
			card.Blocks = append(card.Blocks, b)
		case d.Picture:
		default:
			card.Blocks = append(card.Blocks, b)
		}
	}
	card.Blocks = append(card.Blocks, d.Line{Text: d.Words(stitches(card.Stitches))})
	card.Row, card.Part, card.Stitches = head, "", 0
	return card
}

// asHeard is a text with its catches called as in the runs, by capitals.
func asHeard(text d.Text) d.Text {
	text = slices.Clone(text)
	for i, s := range text {
		if s.Text != "" && strings.TrimSpace(s.Aloud) != "" {
			text[i].Text = s.Aloud
		}
	}
	return text
}

func runsInWords(r d.Row) d.Items {
	return d.Items{Items: mapped(r.Runs, func(run d.Run) d.Item { return d.Item{Text: d.Words(run.Aloud)} })}
}
