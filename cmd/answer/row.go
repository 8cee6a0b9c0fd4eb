package answer

import (
	"strings"

	"strandwise/chart"
	"strandwise/cmd/document"
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
	Method        string               `json:"method"` // weave, on its stitch; or twist, just before it
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
	Place    string              `json:"place"` // where they sit
	Method   string              `json:"method"`
	Steps    []string            `json:"steps"`
	Short    string              `json:"short"`
	Known    bool                `json:"known"` // shown often enough for the short form
	Attested string              `json:"attested"`
	Caution  string              `json:"caution"` // empty for most
}

// NewRow makes the answer of a sheet.
func NewRow(s *session.Sheet, o RowOptions) *Row {
	r := &Row{
		Piece: s.Piece, Row: s.Row, Of: s.Of, Round: s.Round, WrongSide: s.WrongSide, FromLeft: s.FromLeft,
		Glance: mapped(s.Glances(), session.Glance.String), Part: s.Part, Method: s.Method.String(), Limit: s.Limit, Catches: s.Letters,
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
			Letters: m.Letters, Yarns: m.Yarns, Place: m.Carried.String(), Method: m.Method.String(), Steps: m.In(m.Way).Steps,
			Short: m.In(m.Way).Short, Known: m.Known, Attested: m.Attested.String(), Caution: m.Caution,
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
func SeatText(seats []session.YarnPlace) document.Text {
	var text document.Text
	for i, seat := range seats {
		if seat.Place == hold.SameSide {
			return document.Words(hold.RotatingSide)
		}
		if i > 0 {
			text = append(text, document.Span{Text: "; "})
		}
		words := ": " + seat.Place.String()
		if seat.Dominant {
			words += ", dominant"
		}
		if seat.Shares {
			words += ", shared"
		}
		text = append(text, document.Named(seat.Yarn.Name, words)...)
	}
	return text
}
