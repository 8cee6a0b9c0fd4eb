package follow

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"strandwise/chart"
	"strandwise/cmd/answer"
	"strandwise/cmd/document"
	"strandwise/cmd/paint"
	"strandwise/floats"
	"strandwise/session"
)

// stretch is what one press goes on by: a run in one of the repeats, or by repeat the whole of one.
type stretch struct {
	block    *session.RowBlock
	repeat   int // from 1
	number   int // in the repeat, from 1
	of       int // stretches of the repeat
	from     int // the first stitch over the whole row, from 1
	stitches int
}

// stretches are those of the row to work, in knitting order. A block of empty cells has none.
func (s State) stretches() []stretch {
	if s.ended() {
		return nil
	}
	sheet := s.sheet
	if s.row != s.toWork() {
		sheet = s.piece.Sheet(s.toWork())
	}
	var all []stretch
	for i := range sheet.Blocks {
		b := &sheet.Blocks[i]
		for repeat := 1; repeat <= b.Repeats; repeat++ {
			begins := sheet.Begins(b, repeat)
			switch {
			case s.o.By == ByRun:
				for n, told := range b.Often.Runs {
					all = append(all, stretch{b, repeat, n + 1, len(b.Often.Runs), begins + told.From - 1, told.Stitches})
				}
			case len(b.Order) > 0:
				all = append(all, stretch{b, repeat, 1, 1, begins, len(b.Order)})
			}
		}
	}
	return all
}

// made tells the runs of the repeat of a stretch with their catches as they are made in it.
func (s State) made(at stretch) []session.Run {
	runs := slices.Clone(at.block.Often.Runs)
	for i := range runs {
		runs[i].Catches = nil
		first := s.sheet.Begins(at.block, at.repeat) + runs[i].From - 1
		for _, c := range s.work().catches {
			if c.missed() || c.at.Stitch < first || c.at.Stitch >= first+runs[i].Stitches {
				continue
			}
			made := s.sheet.Catch(c.at)
			made.Letter = s.letterOf(c)
			runs[i].Catches = append(runs[i].Catches, made)
		}
		slices.SortFunc(runs[i].Catches, session.Catch.Compare)
	}
	return runs
}

// place is how many stitches of the row to work are worked, as far as is known: what was
// answered, else those before the stretch on the screen, unless the place kept lies within it.
func (s State) place() int {
	begun := s.piece.State.Begun
	if s.far != nil {
		return *s.far
	}
	if s.o.By == ByRow || s.ended() {
		return begun
	}
	at := s.stretches()[s.step]
	if begun >= at.from && begun < at.from+at.stitches-1 {
		return begun
	}
	return at.from - 1
}

func (s State) stretchView(r room) []document.Block {
	at := s.stretches()[s.step]
	phrases := s.sheet.Phrases(s.made(at))
	blocks := []document.Block{line(document.Quiet, "%s", s.placeWords(at))}
	row := answer.GlanceRow(session.Glance{Number: s.row, Side: s.sheet.Glances()[0].Side, Often: strings.Join(at.names(), " "), Phrases: phrases})
	row.Number, row.Large = fmt.Sprint(s.row), r.large && s.o.By == ByRepeat
	if s.o.By == ByRun {
		standOut(row, at.number-1)
		blocks = append(append(blocks, s.card(s.made(at)[at.number-1])), s.following(2)...)
		blocks = append(blocks, row)
	} else {
		blocks = append(append(blocks, row), s.following(1)...)
	}
	if r.laid || s.o.By == ByRepeat {
		blocks = append(blocks, s.strip(r, s.stripOf(s.work().catches, func(p floats.Place) bool {
			return p.Block != at.block.Number || p.Repeat == at.repeat
		})))
	}
	return append(blocks, s.aboutRow(r)...)
}

// heardStretch tells a stretch in few words: the row with its first one, the repeat with its first.
func (s State) heardStretch() []document.Block {
	at := s.stretches()[s.step]
	var blocks []document.Block
	if s.step == 0 {
		blocks = append(blocks, line(document.Usual, "%s %d of %d", s.Word(), s.row, s.piece.Rows()))
		blocks = append(blocks, s.aboutRow(room{})...)
	}
	if at.number == 1 && at.block.Repeats > 1 {
		blocks = append(blocks, line(document.Usual, "%s of %d", strings.Join(at.names(), ", "), at.block.Repeats))
	}
	runs := s.made(at)
	if s.o.By == ByRun {
		runs = runs[at.number-1 : at.number]
	}
	for _, phrase := range s.sheet.Phrases(runs) {
		blocks = append(blocks, line(document.Usual, "%s", phrase.Aloud))
	}
	return append(blocks, s.following(1)...)
}

func standOut(row document.Row, which int) {
	for i, run := range row.Runs {
		for j := range run.Text {
			if i != which {
				run.Text[j].Yarn, run.Text[j].Tone = 0, document.Quiet
			}
		}
	}
}

func (s State) aboutRow(r room) []document.Block {
	var blocks []document.Block
	if len(s.sheet.Moves) > 0 {
		blocks = append(blocks, line(document.Quiet, "%s", answer.SeatText(s.sheet.YarnPlaces).String()))
	}
	if s.sheet.Shapes() {
		blocks = append(blocks, line(document.Quiet, "%s after this %s", document.Counted(s.sheet.Makes(), "stitch"), s.Word()))
	}
	for _, n := range s.sheet.Notes {
		blocks = append(blocks, line(document.Quiet, "%s", n.Text))
	}
	return append(blocks, s.motionBlocks(r, false)...)
}

func (at stretch) names() []string {
	var names []string
	if at.block.Number > 0 {
		names = append(names, fmt.Sprintf("block %d", at.block.Number))
	}
	if at.block.Repeats > 1 {
		names = append(names, fmt.Sprintf("repeat %d", at.repeat))
	}
	return names
}

func (s State) placeWords(at stretch) string {
	text := fmt.Sprintf("%s %d of %d", s.Word(), s.row, s.piece.Rows())
	for _, name := range at.names() {
		text += ", " + name
	}
	if at.block.Repeats > 1 {
		text += fmt.Sprintf(" of %d", at.block.Repeats)
	}
	if s.o.By == ByRun {
		text += fmt.Sprintf(", run %d of %d", at.number, at.of)
	}
	first := s.sheet.PlaceOf(at.from).Stitch
	text += fmt.Sprintf(", stitch %d", first)
	if at.stitches > 1 {
		text += fmt.Sprintf(" to %d", first+at.stitches-1)
	}
	return text
}

// following tells what comes after the stretch on the screen, of runs so many.
func (s State) following(most int) []document.Block {
	var blocks []document.Block
	all := s.stretches()
	for i, word := range []string{"then", "after that"}[:most] {
		if s.step+i+1 >= len(all) {
			return append(blocks, line(document.Usual, "%s the %s is done", word, s.Word()))
		}
		at := all[s.step+i+1]
		if s.o.By == ByRepeat {
			return append(blocks, line(document.Usual, "%s %s", word, strings.Join(at.names(), ", ")))
		}
		text, names := word, at.names()
		switch {
		case at.number == 1 && at.repeat == 1:
			text += ", " + names[0] + ":"
		case at.number == 1:
			text += ", " + names[len(names)-1] + ":"
		}
		phrase := s.sheet.Phrases([]session.Run{s.made(at)[at.number-1]})[0]
		blocks = append(blocks, line(document.Usual, "%s %s", text, phrase.Text()))
	}
	return blocks
}

// card is a run as it is read from afar, its count in large figures on the yarn's color.
type card struct {
	count int
	yarn  chart.Yarn
	goes  string // empty for plain stitches without catches
}

const figureLines = 5

// figures are the large figures, drawn for this program: a mark where a dot is set.
var figures = [10][figureLines]string{
	{"###", "# #", "# #", "# #", "###"},
	{" # ", "## ", " # ", " # ", "###"},
	{"###", "  #", "###", "#  ", "###"},
	{"###", "  #", " ##", "  #", "###"},
	{"# #", "# #", "###", "  #", "  #"},
	{"###", "#  ", "###", "  #", "###"},
	{"###", "#  ", "###", "# #", "###"},
	{"###", "  #", " # ", " # ", " # "},
	{"###", "# #", "###", "# #", "###"},
	{"###", "# #", "###", "  #", "###"},
}

func (s State) card(told session.Run) document.Block {
	phrase := s.sheet.Phrases([]session.Run{told})[0]
	goes := phrase.Goes()
	if told.Word != "" {
		goes = strings.TrimSuffix(told.Word+": "+goes, ": ")
	}
	return document.Letters{Drawing: card{told.Stitches, told.Yarn.Yarn, goes}}
}

// Letters writes the card.
func (c card) Letters(w io.Writer, look document.Look) error {
	digits := fmt.Sprint(c.count)
	wide := 1 + (len(figures[0][0])+1)*len(digits)
	room := max(8, look.Width-wide-2)
	beside := append([]string{"", cut(c.yarn.Name, room)}, paint.Wrap("", strings.Fields(c.goes), room)...)
	for i := range max(figureLines, len(beside)) {
		left, right := strings.Repeat(" ", wide), ""
		if i < figureLines {
			left = " "
			for _, digit := range digits {
				left += figures[digit-'0'][i] + " "
			}
			left = look.Paint.Yarn(strings.ReplaceAll(left, "#", look.Marks.Block), c.yarn.Color)
		}
		if i < len(beside) {
			right = look.Paint.Strong(beside[i])
		}
		if _, err := fmt.Fprintln(w, strings.TrimRight(left+"  "+right, " ")); err != nil {
			return err
		}
	}
	return nil
}
