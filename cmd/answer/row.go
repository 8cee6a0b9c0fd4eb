package answer

import (
	"fmt"
	"slices"
	"strings"

	"strandwise/chart"
	d "strandwise/cmd/document"
	"strandwise/floats"
	"strandwise/session"
	"strandwise/session/hold"
)

// Row is a row sheet, as JSON of schema 2. Rows, repeats and stitches count from 1, stitches
// in knitting order within the repeat. Yarns are told by their symbol; "yarns" has their names
// and colors.
type Row struct {
	Piece         string               `json:"piece"`
	Row           int                  `json:"row"`
	Of            int                  `json:"of"`
	Round         bool                 `json:"round"`      // worked in the round
	WrongSide     bool                 `json:"wrong_side"` // the wrong side faces the knitter
	FromLeft      bool                 `json:"from_left"`  // the chart row is read from its left end
	Glance        []string             `json:"glance"`     // the row as it is read: most repeats, then a line for others
	Part          session.PartPlace    `json:"part"`
	Method        floats.Method        `json:"method"` // weave, on its stitch; or twist, just before it
	Limit         int                  `json:"limit"`  // longest gap in stitches
	Begun         *Place               `json:"begun"`  // the last stitch worked; null where the row is not begun
	Yarns         []RowYarn            `json:"yarns"`
	Repeats       int                  `json:"repeats"`
	Catches       []session.Catch      `json:"catches"` // as shown, each once, by letter
	Worked        []session.RepeatRuns `json:"worked"`  // what most repeats are like, then the others
	Changes       []string             `json:"changes"` // of a finished row, which has the catches made: what was shown otherwise
	Stitches      int                  `json:"stitches"`
	StitchesAfter int                  `json:"stitches_after"` // left on the needle
	Strip         string               `json:"strip"`          // the row as the chart shows it, symbols left to right; a blank for no stitch
	StripBelow    string               `json:"strip_below"`    // the row below; empty where its columns do not match
	YarnPlaces    []session.YarnPlace  `json:"seats"`
	Moves         []session.YarnPlace  `json:"moves"` // seats that changed
	Notes         []session.RowNote    `json:"notes"`
	Twin          *session.Twin        `json:"twin"` // null when no earlier row begins alike
	Motions       []RowMotion          `json:"motions"`
	Cautions      []string             `json:"cautions"`
	Reasons       []string             `json:"reasons"` // why catches are moved, in words

	sheet *session.Sheet
	o     RowOptions
}

// Place is a stitch of a row.
type Place = floats.Place

// RowYarn is a yarn of the piece; its color is #RRGGBB.
type RowYarn struct {
	Symbol string `json:"symbol"`
	Name   string `json:"name"`
	Color  string `json:"color"`
}

// RowMotion is how some catches are made.
type RowMotion struct {
	Letters  []string            `json:"letters"`
	Yarns    []session.PieceYarn `json:"yarns"` // those it catches
	Place    hold.Place          `json:"place"` // where they sit
	Method   floats.Method       `json:"method"`
	Steps    []string            `json:"steps"`
	Short    string              `json:"short"`
	Known    bool                `json:"known"` // shown often enough for the short form
	Attested hold.Attested       `json:"attested"`
	Caution  string              `json:"caution"` // empty for most
}

// NewRow makes the answer of a sheet.
func NewRow(s *session.Sheet, o RowOptions) *Row {
	r := &Row{
		Piece: s.Piece, Row: s.Row, Of: s.Of, Round: s.Round, WrongSide: s.WrongSide, FromLeft: s.FromLeft,
		Glance: mapped(s.Glances(), session.Glance.String), Part: s.Part, Method: s.Method, Limit: s.Limit, Catches: s.Letters,
		Yarns: mapped(s.Yarns, func(y chart.Yarn) RowYarn { return RowYarn{string(y.Symbol), y.Name, y.Color.String()} }), Repeats: s.Repeats(),
		Changes: s.Changes, Stitches: s.Stitches(), StitchesAfter: s.Makes(), Strip: symbols(s.Yarns, s.Strips.Row),
		YarnPlaces: s.YarnPlaces, Moves: s.Moves, Notes: s.Notes, Twin: s.Twin, Cautions: s.Cautions, Reasons: s.Reasons,
		sheet: s, o: o,
	}
	if s.Begun > 0 {
		at := s.PlaceOf(s.Begun)
		r.Begun = &at
	}
	if s.Strips.BelowFits {
		r.StripBelow = symbols(s.Yarns, s.Strips.Below)
	}
	for _, block := range s.Blocks {
		r.Worked = append(append(r.Worked, block.Often), block.Others...)
	}
	r.Motions = mapped(s.Motions, func(m session.SheetMotion) RowMotion {
		return RowMotion{
			Letters: m.Letters, Yarns: m.Yarns, Place: m.Carried, Method: m.Method, Steps: m.In(m.Way).Steps,
			Short: m.In(m.Way).Short, Known: m.Known, Attested: m.Attested, Caution: m.Caution,
		}
	})
	return r
}

// symbols is a row as the chart shows it: the last column first.
func symbols(yarns []chart.Yarn, cells []chart.Cell) string {
	var text strings.Builder
	for i := len(cells) - 1; i >= 0; i-- {
		if cells[i].IsEmpty() {
			text.WriteByte(' ')
		} else {
			text.WriteRune(yarns[cells[i].Yarn].Symbol)
		}
	}
	return text.String()
}

// SeatText tells where yarns sit: "oat: left hand, dominant; fjord: right hand". In a
// rotating carry no yarn has a place of its own.
func SeatText(seats []session.YarnPlace) d.Text {
	var text d.Text
	for i, seat := range seats {
		if seat.Place == hold.SameSide {
			return d.Words(hold.RotatingSide)
		}
		if i > 0 {
			text = append(text, d.Span{Text: "; "})
		}
		words := ": " + seat.Place.String()
		if seat.Dominant {
			words += ", dominant"
		}
		if seat.Shares {
			words += ", shared"
		}
		text = append(text, d.Named(seat.Yarn.Name, words)...)
	}
	return text
}

// RowOptions say what is told of a row beyond what it calls for.
type RowOptions struct {
	YarnPlaces bool                           // where every yarn sits, as after a break
	Steps      bool                           // every motion in full, known or not
	Why        bool                           // why catches were moved
	Motions    func(*session.Sheet) []d.Block // how catches are told; nil is each in full until it is known
	Strip      func(d.Strip) []d.Block        // what stands for the strip; nil is itself
	StripFirst bool                           // the strip stands above the row for a glance
	Large      bool                           // the runs as large chips
	Alike      string                         // which yarns cannot be told apart by color where this is read
}

// Document is the row in words. The row for a glance stands out; all else steps back. A row without catches
// takes three lines: the glance, its place in the piece, its strip.
func (a *Row) Document() d.Document {
	s := a.sheet
	p := &prose{}
	if a.o.StripFirst {
		a.strip(p)
	}
	p.add(GlanceBlocks(s, a.o.Large)...)
	for _, words := range s.Changes {
		p.add(d.Line{Text: Catches("made otherwise: " + words), Tone: d.Quiet})
	}
	p.add(d.Line{Text: a.place(), Tone: d.Quiet})
	if s.Begun > 0 {
		p.item("%s", begunWords(s))
	}
	if s.Turned {
		direction := map[bool]string{true: "from left to right", false: "from right to left"}[s.FromLeft]
		p.add(d.Line{Text: d.Text{{Aloud: "the chart reads " + direction}}})
	}
	if len(s.Moves) > 0 || a.o.YarnPlaces {
		p.add(d.Line{Text: SeatText(s.YarnPlaces), Tone: d.Quiet})
	}
	if a.o.Alike != "" {
		p.aside("%s", a.o.Alike)
	}
	if !a.o.StripFirst {
		a.strip(p)
	}
	a.moved(p)
	if s.Shapes() {
		p.item("%s after this %s", d.Counted(s.Makes(), "stitch"), s.Word())
	}
	for _, n := range s.Notes {
		p.item("%s", n.Text)
	}
	a.motions(p)
	p.eachItem(s.Cautions)
	return d.Document{Title: fmt.Sprintf("%s, %s %d", s.Piece, s.Word(), s.Row), Yarns: s.Yarns, Blocks: p.blocks}
}

// GlanceBlocks is the whole row, repeats with other catches on lines of their own; large, its runs are large chips.
func GlanceBlocks(s *session.Sheet, large bool) []d.Block {
	return mapped(s.Glances(), func(g session.Glance) d.Block {
		row := GlanceRow(g)
		row.Large = large
		if g.Number > 0 {
			row.Number = fmt.Sprint(g.Number)
			row.Aloud = fmt.Sprintf("%s %d of %d of %s", s.Word(), s.Row, s.Of, s.Piece)
			for _, more := range []string{g.Side, g.Often} {
				if more != "" {
					row.Aloud += "; " + more
				}
			}
		}
		return row
	})
}

// GlanceRow is some repeats of a row for a glance, aloud under how often they are worked.
func GlanceRow(g session.Glance) d.Row {
	row := d.Row{Number: g.Often, Head: g.Head(), Aloud: g.Often}
	for k, p := range g.Phrases {
		var text d.Text
		if p.Often != "" {
			text = d.Text{{Text: p.Often + ": ", Whole: true}}
		}
		text = append(text, d.Span{Text: p.Lead, Yarn: p.Yarn + 1, Whole: true})
		for i, part := range p.Inside {
			text = append(text, d.Span{Text: " "})
			before, after := "", part.After
			if i == 0 {
				before = "("
			}
			if i == len(p.Inside)-1 {
				after = ")"
			}
			text = append(text, inBrackets(before, part, after)...)
		}
		if k < len(g.Phrases)-1 {
			after := ","
			if g.Phrases[k+1].Block > 0 {
				after = ";"
			}
			text = append(text, d.Span{Text: after})
		}
		row.Runs = append(row.Runs, d.Run{Text: text, Aloud: heard(p)})
	}
	return row
}

// inBrackets has a catch stand out, on the color of the yarn that is caught.
func inBrackets(before string, part session.InPhrase, after string) d.Text {
	if part.Yarn == chart.NoYarn {
		return d.Text{{Text: before + part.Text + after, Whole: true}}
	}
	text := d.Text{{Text: before}, {Text: part.Text, Tone: d.Strong, Yarn: part.Yarn + 1, Whole: true}, {Text: after}}
	return slices.DeleteFunc(text, func(s d.Span) bool { return s.Text == "" })
}

// heard says where a block begins, since nobody hears a semicolon.
func heard(p session.Phrase) string {
	lead := fmt.Sprintf("block %d", p.Block)
	switch {
	case p.Block == 0:
		return p.Aloud
	case strings.HasPrefix(p.Often, "block"):
		lead = p.Often
	case p.Often != "":
		lead += ", " + p.Often
	}
	return lead + ": " + p.Aloud
}

// place is aloud without what was said with the row for a glance.
func (a *Row) place() d.Text {
	s := a.sheet
	text := d.Text{
		{Text: fmt.Sprintf("%s, %s %d of %d; ", s.Piece, s.Word(), s.Row, s.Of), Aloud: " "},
		{Text: partWords(s.Part), Name: true},
	}
	if s.Twin != nil {
		text = append(text, d.Span{Text: "; " + twinWords(s)})
	}
	return text
}

func partWords(p session.PartPlace) string {
	text := fmt.Sprintf("%s row %d of %d", p.Name, p.Row, p.Rows)
	if p.Times > 1 {
		text += fmt.Sprintf(", copy %d of %d", p.Copy, p.Times)
	}
	if p.Of > 1 {
		text += fmt.Sprintf(", part %d of %d", p.Number, p.Of)
	}
	return text
}

func twinWords(s *session.Sheet) string {
	switch {
	case s.Twin.PartsAt > 0:
		return fmt.Sprintf("same as %s %d up to stitch %d", s.Word(), s.Twin.Row, s.Twin.PartsAt-1)
	case !s.Twin.Caught:
		return fmt.Sprintf("same as %s %d, but for its catches", s.Word(), s.Twin.Row)
	}
	return fmt.Sprintf("same as %s %d", s.Word(), s.Twin.Row)
}

func begunWords(s *session.Sheet) string {
	text := fmt.Sprintf("%d of %s worked", s.Begun, d.Counted(s.Stitches(), "stitch"))
	if s.Repeats() > 1 && s.Begun < s.Stitches() {
		text += "; next is " + s.PlaceWords(s.Begun+1)
	}
	return text
}

// strip has the row below where there is something to compare.
func (a *Row) strip(p *prose) {
	s := a.sheet
	strip := StripOf(s)
	caught := slices.ContainsFunc(s.Strips.Caught, func(c []session.Catch) bool { return len(c) > 0 })
	strip.Optional = len(s.Blocks) == 1 && len(s.Blocks[0].Often.Runs) == 1 && !caught && s.Plain()
	if s.Strips.BelowFits && caught {
		strip.Below = [][]d.Column{Below(s)}
	}
	if a.o.Strip != nil {
		p.add(a.o.Strip(strip)...)
	} else {
		p.add(strip)
	}
}

// Below is the row below a row that fits it, with the letters under its catches.
func Below(s *session.Sheet) []d.Column {
	return columnsOf(s.Yarns, s.Strips.Below, s.Strips.CaughtBelow)
}

// StripOf is the strip of a row with the letters under its catches.
func StripOf(s *session.Sheet) d.Strip {
	columns, blocks := columnsOf(s.Yarns, s.Strips.Row, s.Strips.Caught), len(s.Blocks) > 1
	for i, st := range s.InOrder() {
		at, column := s.PatternPlace(i), &columns[st.Column]
		column.Stitch, column.Shaped = at.Stitch, st.Technique != chart.Knit
		if blocks && at.Stitch == 1 {
			column.Block = at.Block
		}
	}
	return d.Strip{Number: s.Row, Columns: columns, FromLeft: s.FromLeft, Ruler: blocks}
}

func columnsOf(yarns []chart.Yarn, cells []chart.Cell, caught [][]session.Catch) []d.Column {
	columns := mapped(cells, func(c chart.Cell) d.Column { return d.Column{Cell: c} })
	for i, catches := range caught {
		columns[i].Signs = mapped(catches, func(c session.Catch) string { return Sign(yarns, c.Letter) })
	}
	return columns
}

// Sign is what stands under the stitch of a catch: its letter, a capital where a yarn has a
// small letter for its symbol, and a plus for an extra one.
func Sign(yarns []chart.Yarn, letter string) string {
	switch {
	case letter == "":
		return "+"
	case slices.ContainsFunc(yarns, func(y chart.Yarn) bool { return y.Symbol >= 'a' && y.Symbol <= 'z' }):
		return strings.ToUpper(letter)
	}
	return letter
}

// moved explains the sign of moved catches where one stands.
func (a *Row) moved(p *prose) {
	lines := a.sheet.Reasons
	if len(lines) > 0 && !a.o.Why {
		lines = []string{fmt.Sprintf("moved to fit the %s below", a.sheet.Word())}
	}
	for _, line := range lines {
		p.add(d.Line{Label: session.MovedSign + " ", Text: Catches(line), Tone: d.Quiet})
	}
}

func (a *Row) motions(p *prose) {
	if a.o.Motions != nil {
		p.add(a.o.Motions(a.sheet)...)
		return
	}
	p.add(eachMotion(a.sheet, a.o.Steps)...)
}
