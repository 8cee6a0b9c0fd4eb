package draw

import (
	"fmt"
	"slices"

	"strandwise/session"
)

// backCell is the width of a stitch in mm on the wrong side of a card: as many of them as a strip has in
// a line fit the paper, with row numbers of four figures at both sides.
const backCell = 5.8

// Backs draw the wrong side of a row as it stands on a card: one repeat of each block, in the
// middle of those that are caught as most are, and the row below where that fits. Where a repeat is wider than
// a strip it is in parts, and those without a catch are left out. Nothing in them is under 8 points. A row
// without catches has none.
func Backs(k *Knitted, s *session.Sheet) (scenes []*Scene) {
	from := s.Row
	if s.Strips.BelowFits {
		from--
	}
	for i := range s.Blocks {
		b := &s.Blocks[i]
		alike := append([]session.RepeatRuns{b.Often}, b.Others...)
		at := slices.IndexFunc(alike, func(r session.RepeatRuns) bool { return len(r.Catches) > 0 })
		if at < 0 {
			continue
		}
		block, repeats := s.Course.Block(b.Number), alike[at].Repeats
		first := s.FirstColumn(block, repeats[len(repeats)/2])
		for _, part := range parts(first, first+block.Columns-1, mostAcross) {
			win := window{from, s.Row, part[0], part[1]}
			v := newView(k, win, Options{Side: WrongSide, Bare: true, wide: backCell, small: stripLeast})
			if v.Compact = true; v.caught(s.Row) { // there are many
				scene := v.draw("")
				scene.Name, scene.Description = fmt.Sprintf("%s %d, wrong side", s.Word(), s.Row), k.extent(win)
				scenes = append(scenes, scene)
			}
		}
	}
	return scenes
}

func (v *view) caught(row int) bool {
	for range v.marks(row) {
		return true
	}
	return false
}
