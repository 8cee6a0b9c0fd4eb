package follow

import (
	"fmt"
	"strings"
)

// figureLines is how high large figures are.
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

// large writes a number in large figures, with a margin of one column, all lines
// equally wide.
func large(n int, mark string) []string {
	lines := make([]string, figureLines)
	for i := range lines {
		line := " "
		for _, digit := range fmt.Sprint(n) {
			line += figures[digit-'0'][i] + " "
		}
		lines[i] = strings.ReplaceAll(line, "#", mark)
	}
	return lines
}
