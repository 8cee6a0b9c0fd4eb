package draw

import (
	"strings"

	"strandwise/chart"
	"strandwise/cmd/paint"
)

// terminal gathers lines of stitches as characters, the top row first.
type terminal struct {
	strings.Builder
	look  paint.Look
	yarns []chart.Yarn
}

func (t *terminal) line(text string) { t.WriteString(strings.TrimRight(text, " ") + "\n") }

func (t *terminal) quiet(lines ...string) {
	for _, line := range lines {
		if line = strings.TrimRight(line, " "); line != "" {
			t.line(t.look.Paint.Quiet(line))
		}
	}
}

func (t *terminal) wrapped(prefix, text string) []string {
	return paint.Wrap(prefix, strings.Fields(text), t.look.Width)
}

func (t *terminal) say(text string) {
	for _, line := range t.wrapped("", text) {
		t.line(line)
	}
}

// inParts draws columns from..to-1 at once where there is room for all, else in parts of whole fives or tens.
func (t *terminal) inParts(from, to, room, whole int, part func(from, to int)) {
	if room < to-from {
		room = max(whole, room/whole*whole)
	}
	for begin := from; begin < to; begin += room {
		if begin > from {
			t.line("")
		}
		part(begin, min(begin+room, to))
	}
}

// fromLeft lists the columns from..to-1 as they are seen: the highest first, on the wrong side last.
func fromLeft(from, to int, wrong bool) []int {
	columns := make([]int, max(0, to-from))
	for i := range columns {
		columns[i] = to - 1 - i
		if wrong {
			columns[i] = from + i
		}
	}
	return columns
}

type ruler []byte

func blanks(width int) ruler { return ruler(strings.Repeat(" ", width+1)) }

// set writes a text that ends at a place, where there is room about it.
func (r ruler) set(last int, text string) {
	from := last + 1 - len(text)
	if from >= 0 && last+1 < len(r) && strings.TrimSpace(string(r[max(0, from-1):last+2])) == "" {
		copy(r[from:], text)
	}
}

// colored joins what stands on columns. Neighboring stitches of one yarn are colored together.
func (t *terminal) colored(columns []int, yarn func(column int) int, text func(column int) string) string {
	line := ""
	for len(columns) > 0 {
		y, run := yarn(columns[0]), ""
		for len(columns) > 0 && yarn(columns[0]) == y {
			run += text(columns[0])
			columns = columns[1:]
		}
		if y != chart.NoYarn {
			run = t.look.Paint.Yarn(run, t.yarns[y].Color)
		}
		line += run
	}
	return line
}
