package session

import (
	"cmp"
	"fmt"
	"slices"

	"strandwise/chart"
	"strandwise/floats"
)

// Catch is a catch of one repeat as a row shows it.
type Catch struct {
	Letter string    `json:"letter"`          // by which it is known in its row; empty for an extra one
	Block  int       `json:"block,omitempty"` // in rows of several blocks: from 1 in the order a right-side row works them
	Stitch int       `json:"stitch"`          // in the repeat, from 1
	Yarn   PieceYarn `json:"yarn"`            // the yarn caught
	Twist  bool      `json:"twist"`           // just before its stitch, not on it
	Moved  bool      `json:"moved"`           // of a row to come: not where the plan had it
}

// PieceYarn is a yarn of a piece, in JSON by its symbol.
type PieceYarn struct {
	chart.Yarn
	Index int // in the yarns of the piece
}

func (p *Piece) yarn(index int) PieceYarn { return PieceYarn{p.Layout.Fabric.Yarns[index], index} }

// Compare orders catches by their place in the pattern, then by yarn.
func (c Catch) Compare(o Catch) int {
	return cmp.Or(c.Block-o.Block, c.Stitch-o.Stitch, c.Yarn.Index-o.Yarn.Index)
}

// shortPlace is a stitch of a repeat as it is written: "4", in a row of blocks "2/4".
func shortPlace(at floats.Place) string {
	if at.Block > 0 {
		return fmt.Sprintf("%d/%d", at.Block, at.Stitch)
	}
	return fmt.Sprint(at.Stitch)
}

// StitchName is a stitch of a repeat: "stitch 4", "block 2 stitch 4".
func StitchName(at floats.Place) string {
	if at.Block > 0 {
		return fmt.Sprintf("block %d stitch %d", at.Block, at.Stitch)
	}
	return fmt.Sprintf("stitch %d", at.Stitch)
}

// lettering is which catches have letters in a row. Its stitches are those of the row.
type lettering struct {
	in    *floats.Course
	first []Mark // each distinct catch shown, in its first repeat, in the order of the letters
}

// letteringOf gives letters to the catches of a row: a letter is the same stitch in every repeat.
func letteringOf(shown []Mark, in *floats.Course) lettering {
	l := lettering{in: in}
	for _, m := range shown {
		if l.ShownAs(m) == "" {
			l.first = append(l.first, m)
		}
	}
	slices.SortFunc(l.first, func(a, b Mark) int {
		return cmp.Or(in.InPattern(a.Stitch)-in.InPattern(b.Stitch), a.Yarn-b.Yarn)
	})
	return l
}

// ShownAs is the letter of a catch as it was shown; empty for one that was not.
func (l lettering) ShownAs(m Mark) string {
	at := slices.IndexFunc(l.first, func(f Mark) bool {
		return f.Yarn == m.Yarn && l.in.InPattern(f.Stitch) == l.in.InPattern(m.Stitch)
	})
	if at < 0 {
		return ""
	}
	return letterAt(at)
}

// letterAt is that of the catch at an index: a to z, aa to az, ba and so on.
func letterAt(i int) string {
	text := ""
	for i++; i > 0; i = (i - 1) / 26 {
		text = string(rune('a'+(i-1)%26)) + text
	}
	return text
}
