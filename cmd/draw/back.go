package draw

import (
	"fmt"
	"slices"

	"strandwise/session"
)

// backCell is the width of a stitch in mm: as many as a strip has in a line fit the paper, with row numbers
// of four figures at both sides.
const backCell = 5.8

// Backs draw the wrong side of a row for a card: one repeat of each block, in the middle of those caught as
// most are, and the row below where that fits; one wider than a strip in parts, without those that have no
// catch. Nothing in them is under 8 points.
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
			v.Compact = true // there are many
			for range v.marks(s.Row) {
				scene := v.draw("")
				scene.Name, scene.Description = fmt.Sprintf("%s %d, wrong side", s.Word(), s.Row), k.extent(win)
				scenes = append(scenes, scene)
				break // one catch in it is enough
			}
		}
	}
	return scenes
}
