package render

import (
	"strings"

	"strandwise/chart"
	"strandwise/session"
)

// SheetJSON is a row sheet as a body of JSON, schema 1. Rows, repeats and stitches
// count from 1, stitches in knitting order within one repeat. Yarns are told by their
// symbol; "yarns" has their names and colors.
type SheetJSON struct {
	Piece         string            `json:"piece"`
	Row           int               `json:"row"`
	Of            int               `json:"of"`
	Round         bool              `json:"round"`      // worked in the round
	WrongSide     bool              `json:"wrong_side"` // the wrong side faces the knitter
	FromLeft      bool              `json:"from_left"`  // the chart row is read from its left end
	Glance        string            `json:"glance"`     // the first line of the sheet, on one line
	Part          SheetPartJSON     `json:"part"`
	Method        string            `json:"method"` // weave, on its stitch; or twist, just before it
	Limit         int               `json:"limit"`  // longest gap in stitches
	Begun         int               `json:"begun"`  // stitches worked of the row, over all repeats
	Yarns         []SheetYarnJSON   `json:"yarns"`
	Repeats       int               `json:"repeats"`
	Runs          []SheetRunJSON    `json:"runs"`      // one repeat in knitting order
	OtherRepeat   []OtherRepeatJSON `json:"differing"` // repeats with other catches
	Changes       []string          `json:"changes"`   // of a finished row, whose runs have the catches made: what was planned otherwise, in words
	Stitches      int               `json:"stitches"`  // of the row, all repeats
	StitchesAfter int               `json:"stitches_after"`
	Shaping       []ShapingJSON     `json:"shaping"`
	Strip         string            `json:"strip"`       // the row as the chart shows it, symbols left to right; a blank for no stitch
	StripBelow    string            `json:"strip_below"` // the row below; empty where its columns do not match
	YarnPlaces    []YarnPlaceJSON   `json:"seats"`
	Moves         []YarnPlaceJSON   `json:"moves"` // seats that changed
	Notes         []NoteJSON        `json:"notes"`
	Twin          *TwinJSON         `json:"twin"` // null when no earlier row begins alike
	Motions       []MotionJSON      `json:"motions"`
	Cautions      []string          `json:"cautions"`
	Reasons       []string          `json:"reasons"` // why catches are moved, in words
}

// SheetPartJSON is where a row stands in its piece's parts; all count from 1.
type SheetPartJSON struct {
	Name   string `json:"name"`
	Number int    `json:"number"`
	Of     int    `json:"of"`
	Copy   int    `json:"copy"` // upward
	Times  int    `json:"times"`
	Row    int    `json:"row"` // of the chart or of the plain rows
	Rows   int    `json:"rows"`
	Plain  bool   `json:"plain"`
}

// SheetYarnJSON is a yarn of the piece.
type SheetYarnJSON struct {
	Symbol string `json:"symbol"`
	Name   string `json:"name"`
	Color  string `json:"color"` // #RRGGBB
}

// SheetRunJSON is consecutive stitches of one yarn.
type SheetRunJSON struct {
	Yarn     string           `json:"yarn"`
	Stitches int              `json:"stitches"`
	Catches  []SheetCatchJSON `json:"catches"`
}

// SheetCatchJSON is a catch of one repeat.
type SheetCatchJSON struct {
	Stitch int    `json:"stitch"`
	InRun  int    `json:"in_run"` // counted in its run
	Yarn   string `json:"yarn"`   // the yarn caught
	Moved  bool   `json:"moved"`  // not where the plan had it
}

// OtherRepeatJSON is a repeat whose catches differ from most.
type OtherRepeatJSON struct {
	Repeat  int              `json:"repeat"`
	Without []SheetCatchJSON `json:"without"`
	Also    []SheetCatchJSON `json:"also"`
}

// ShapingJSON is a stitch that is not plain, in the word for the side that faces the
// knitter.
type ShapingJSON struct {
	Stitch int    `json:"stitch"`
	Word   string `json:"word"`
	Yarn   string `json:"yarn"`
}

// YarnPlaceJSON is where a yarn sits.
type YarnPlaceJSON struct {
	Yarn     string `json:"yarn"`
	Place    string `json:"place"`
	Dominant bool   `json:"dominant"`
	Shared   bool   `json:"shared"`
}

// NoteJSON is something to know about the row.
type NoteJSON struct {
	Kind string `json:"kind"` // over-start, rest, across, cut, rejoin, edge, shared, slack or lost
	Text string `json:"text"`
}

// TwinJSON is an earlier row that begins like this one.
type TwinJSON struct {
	Row     int `json:"row"`
	PartsAt int `json:"parts_at"` // stitch at which they part; 0 when alike throughout
}

// MotionJSON is the motion of some catches.
type MotionJSON struct {
	Yarns    []string `json:"yarns"` // those it catches
	Place    string   `json:"place"` // where they sit
	Method   string   `json:"method"`
	Steps    []string `json:"steps"`
	Short    string   `json:"short"`
	Known    bool     `json:"known"` // shown often enough for the short form
	Attested string   `json:"attested"`
	Caution  string   `json:"caution"` // empty for most
}

// SheetBody makes the body of a sheet.
func SheetBody(s *session.Sheet) SheetJSON {
	number, pieces := s.Glance()
	body := SheetJSON{
		Piece: s.Piece, Row: s.Row, Of: s.Of, Round: s.Round, WrongSide: s.WrongSide, FromLeft: s.FromLeft,
		Glance: number + " " + strings.Join(pieces, " "),
		Part: SheetPartJSON{
			s.Part.Name, s.Part.Number, s.Part.Of, s.Part.Copy, s.Part.Times, s.Part.Row, s.Part.Rows, s.Part.Plain,
		},
		Method: s.Method.String(), Limit: s.Limit, Begun: s.Begun, Repeats: s.Repeats, Changes: s.Changes,
		Stitches: s.Total, StitchesAfter: s.After, Cautions: s.Cautions, Reasons: s.Reasons,
		Strip: symbols(s.Yarns, s.Strips.Row), YarnPlaces: seatBodies(s, s.YarnPlaces), Moves: seatBodies(s, s.Moves),
	}
	if s.Strips.BelowFits {
		body.StripBelow = symbols(s.Yarns, s.Strips.Below)
	}
	if s.Twin != nil {
		body.Twin = &TwinJSON{s.Twin.Row, s.Twin.PartsAt}
	}
	for _, y := range s.Yarns {
		body.Yarns = append(body.Yarns, SheetYarnJSON{string(y.Symbol), y.Name, y.Color.String()})
	}
	for _, n := range s.Notes {
		body.Notes = append(body.Notes, NoteJSON{n.Kind, n.Text})
	}
	body.fill(s)
	return body
}

// fill adds what the row is worked in and how.
func (b *SheetJSON) fill(s *session.Sheet) {
	for _, r := range s.Runs {
		b.Runs = append(b.Runs, SheetRunJSON{symbol(s, r.Yarn), r.Stitches, catchBodies(s, r.Catches)})
	}
	for _, d := range s.OtherRepeats {
		b.OtherRepeat = append(b.OtherRepeat, OtherRepeatJSON{d.Repeat, catchBodies(s, d.Without), catchBodies(s, d.Also)})
	}
	for _, sh := range s.Shaping {
		b.Shaping = append(b.Shaping, ShapingJSON{sh.Stitch, sh.Word, symbol(s, sh.Yarn)})
	}
	for i := range s.Motions {
		m := &s.Motions[i]
		body := MotionJSON{
			Place: m.Carried.String(), Method: m.Method.String(), Steps: stepsFor(m), Short: shortFor(m),
			Known: m.Known, Attested: m.Attested.String(), Caution: m.Caution(),
		}
		for _, y := range m.Yarns {
			body.Yarns = append(body.Yarns, symbol(s, y))
		}
		b.Motions = append(b.Motions, body)
	}
}

func symbol(s *session.Sheet, yarn int) string { return string(s.Yarns[yarn].Symbol) }

func catchBodies(s *session.Sheet, catches []session.SheetCatch) []SheetCatchJSON {
	bodies := make([]SheetCatchJSON, len(catches))
	for i, c := range catches {
		bodies[i] = SheetCatchJSON{c.Stitch, c.InRun, symbol(s, c.Yarn), c.Moved}
	}
	return bodies
}

func seatBodies(s *session.Sheet, seats []session.YarnPlace) []YarnPlaceJSON {
	bodies := make([]YarnPlaceJSON, len(seats))
	for i, seat := range seats {
		bodies[i] = YarnPlaceJSON{symbol(s, seat.Yarn), seat.Place.String(), seat.Dominant, seat.Shares}
	}
	return bodies
}

// symbols is a row as the chart shows it: the last column first, a blank where there
// is no stitch.
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
