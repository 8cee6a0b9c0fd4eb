package session

import (
	"fmt"
	"strings"

	"strandwise/floats"
)

// Glance is the whole row to be read aloud as it stands: its number, then piece by
// piece the runs with the catches in them and how often all is worked. A line may
// break between any two pieces.
//
//	57: 3 oat, 11 fjord (oat on 6), 1 oat, x 12
//
// Catches are counted within their run; a star stands at one that is not where the
// plan had it.
func (s *Sheet) Glance() (number string, pieces []string) {
	number = fmt.Sprintf("%d:", s.Row)
	for i, run := range s.Runs {
		piece := fmt.Sprintf("%d %s", run.Stitches, s.Yarns[run.Yarn].Name)
		if len(run.Catches) > 0 {
			piece += " (" + s.inRun(run.Catches) + ")"
		}
		if i < len(s.Runs)-1 || s.Repeats > 1 {
			piece += ","
		}
		pieces = append(pieces, piece)
	}
	if s.Repeats > 1 {
		pieces = append(pieces, fmt.Sprintf("x %d", s.Repeats))
	}
	return number, pieces
}

// inRun lists the catches of a run: "oat on 3, 9; kelp on 4".
func (s *Sheet) inRun(catches []SheetCatch) string {
	return s.byYarn(catches, func(c SheetCatch) int { return c.InRun })
}

// byYarn lists catches yarn by yarn, in order of each yarn's first.
func (s *Sheet) byYarn(catches []SheetCatch, at func(SheetCatch) int) string {
	var order []int
	lists := map[int][]string{}
	for _, c := range catches {
		if lists[c.Yarn] == nil {
			order = append(order, c.Yarn)
		}
		star := ""
		if c.Moved {
			star = MovedSign
		}
		lists[c.Yarn] = append(lists[c.Yarn], fmt.Sprint(at(c))+star)
	}
	groups := make([]string, len(order))
	for i, y := range order {
		groups[i] = s.Yarns[y].Name + " " + s.CatchWord() + " " + strings.Join(lists[y], ", ")
	}
	return strings.Join(groups, "; ")
}

// MovedSign stands at a catch that is not where the plan had it.
const MovedSign = "*"

// CatchWord tells where a catch lies with regard to its stitch.
func (s *Sheet) CatchWord() string {
	if s.Method == floats.Twist {
		return "before"
	}
	return "on"
}

// AtStitches lists catches by their stitch in the repeat: "oat on 9, 15".
func (s *Sheet) AtStitches(catches []SheetCatch) string {
	return s.byYarn(catches, func(c SheetCatch) int { return c.Stitch })
}

// DifferingWords tells what is otherwise in one repeat: "repeat 12: also oat on 23".
func (s *Sheet) DifferingWords(d OtherRepeat) string {
	var parts []string
	if len(d.Without) > 0 {
		parts = append(parts, "not "+s.AtStitches(d.Without))
	}
	if len(d.Also) > 0 {
		parts = append(parts, "also "+s.AtStitches(d.Also))
	}
	return fmt.Sprintf("%s: %s", s.repeatName(d.Repeat), strings.Join(parts, ", "))
}

func (s *Sheet) repeatName(rep int) string {
	switch rep {
	case 1:
		return "first repeat"
	case s.Repeats:
		return "last repeat"
	}
	return fmt.Sprintf("repeat %d", rep)
}

// Word is "round" or "row".
func (s *Sheet) Word() string { return RowWord(s.Round) }
