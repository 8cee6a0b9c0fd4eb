package follow

import (
	"fmt"
	"io"
	"strings"

	"strandwise/chart"
	"strandwise/cmd/document"
	"strandwise/cmd/paint"
	"strandwise/session"
)

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
