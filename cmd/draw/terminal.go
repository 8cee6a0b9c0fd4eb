package draw

import (
	"fmt"
	"io"
	"strings"

	"strandwise/chart"
	"strandwise/cmd/paint"
)

// terminal writes stitches as characters, the top row first, and remembers the first failed
// write.
type terminal struct {
	w     io.Writer
	look  paint.Look
	yarns []chart.Yarn
	err   error
}

// line writes one finished line.
func (t *terminal) line(text string) {
	if t.err == nil {
		_, t.err = io.WriteString(t.w, strings.TrimRight(text, " ")+"\n")
	}
}

// say writes a text broken between words; set is how its lines look, or nil.
func (t *terminal) say(text string, set func(string) string) {
	for _, line := range paint.Wrap("", paint.Spans(strings.Fields(text)...), t.look.Width) {
		if set != nil {
			line = set(line)
		}
		t.line(line)
	}
}

// inParts draws columns from 0 up to widest in one part where there is room for all, else in
// parts of whole fives or tens.
func (t *terminal) inParts(widest, room, whole int, part func(from, to int)) {
	if room < widest {
		room = max(whole, room/whole*whole)
	}
	for from := 0; from < widest; from += room {
		if from > 0 {
			t.line("")
		}
		part(from, min(from+room, widest))
	}
}

// colored joins what stands on columns from..to-1, the highest at the left unless the wrong side
// is shown. Neighboring stitches of one yarn are colored together.
func (t *terminal) colored(from, to int, wrong bool, yarn func(column int) int, text func(column int) string) string {
	var line, run strings.Builder
	last := chart.NoYarn
	flush := func() {
		if last == chart.NoYarn {
			line.WriteString(run.String())
		} else {
			line.WriteString(t.look.Paint.Yarn(run.String(), t.yarns[last].Color))
		}
		run.Reset()
	}
	for i := from; i < to; i++ {
		c := i
		if !wrong {
			c = to - 1 - (i - from)
		}
		if y := yarn(c); y != last {
			flush()
			last = y
		}
		run.WriteString(text(c))
	}
	flush()
	return line.String()
}

// runs tells stitches, each by its yarn, as runs: "3 oat". Places without a stitch are passed
// over.
func (t *terminal) runs(stitches []int) string {
	var runs []string
	last, count := chart.NoYarn, 0
	for _, yarn := range append(stitches, chart.NoYarn-1) {
		switch {
		case yarn == chart.NoYarn:
			continue
		case yarn != last && count > 0:
			runs = append(runs, fmt.Sprintf("%d %s", count, t.yarns[last].Name))
			count = 0
		}
		last = yarn
		count++
	}
	return strings.Join(runs, ", ")
}

// plural is a count with its noun: "1 catch", "3 catches"; none is "no catches".
func plural(n int, noun, many string) string {
	switch n {
	case 0:
		return "no " + many
	case 1:
		return "1 " + noun
	}
	return fmt.Sprintf("%d %s", n, many)
}
