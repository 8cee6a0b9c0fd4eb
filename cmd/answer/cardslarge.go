package answer

import (
	"fmt"
	"slices"
	"strings"

	d "strandwise/cmd/document"
	"strandwise/session"
)

// Large cards are for low vision: the same rows all in words, a run a line, as they are told aloud.
// There is no chart and no strip, and colors tell nothing.

// large is the cards in words alone, for paper and for a page.
func (c *Cards) large() d.Document {
	_, cards := c.rows()
	running, p := c.running(), &prose{}
	p.item("%s", running[1].String())
	names := make([]string, len(c.piece.Layout.Fabric.Yarns))
	for i, y := range c.piece.Layout.Fabric.Yarns {
		names[i] = y.Name
	}
	p.item("Yarns: %s.", session.Listed(names, "and"))
	blocks := append(append(p.blocks, c.head()...), d.Heading{Text: d.Words(c.word() + "s")})
	return d.Document{Title: c.Piece, Large: true, Head: running[:1], Blocks: append(blocks, cards...)}
}

// inWords is a card with its runs as they are told aloud; other repeats than most are told below. What
// the foot of the page has no room for is told with the place of the row.
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
		case d.Picture, d.Strip:
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

// runsInWords are the runs of a row, an item each.
func runsInWords(r d.Row) d.Items {
	var all d.Items
	for _, run := range r.Runs {
		all.Items = append(all.Items, d.Item{Text: d.Words(run.Aloud)})
	}
	return all
}

// placeOf is where a card tells the place of its row.
func placeOf(card d.Card) int {
	return slices.IndexFunc(card.Blocks, func(b d.Block) bool { _, is := b.(d.Line); return is })
}

// rowsTold is the head of a card of several rows: "1 to 5:", or large "Rounds 1 to 5:".
func (c *Cards) rowsTold(rows, after string) string {
	if c.o.Large {
		return fmt.Sprintf("%ss %s%s", c.word(), rows, after)
	}
	return rows + after
}
