package chart

import (
	"fmt"
	"iter"
	"slices"
	"strings"
	"unicode"

	"github.com/mattn/go-runewidth"
)

const (
	shownFaults = 8    // more than these on one screen help nobody
	keptFaults  = 1000 // a hopeless file is read no further
	shownWidth  = 76   // widest piece of a faulty line that is printed, in terminal cells
)

// width measures characters in terminal cells. It is a Condition of our own so
// that the caret does not move with the locale.
var width = &runewidth.Condition{StrictEmojiNeutral: true}

// Fault is one thing wrong in a chart file.
type Fault struct {
	Line    int    // from 1
	Column  int    // from 1, in characters
	Text    string // the whole line, without its end
	Message string // what is wrong
	Hint    string // what would be right
}

// Faults is the error for a file in which at least one thing is wrong.
type Faults struct {
	File string  // as it was given to the reader, "" when there was none
	List []Fault // the first, by line and column
	More int     // how many were found beside them
}

// Error shows each fault, and ends with the count of those not shown.
func (f *Faults) Error() string {
	shown := make([]string, 0, len(f.List)+1)
	for _, fault := range f.List {
		shown = append(shown, fault.Show(f.File))
	}
	if f.More > 0 {
		all := f.More + len(f.List)
		if all >= keptFaults {
			shown = append(shown, fmt.Sprintf("and many more; the file was given up after %d faults", all))
		} else {
			shown = append(shown, fmt.Sprintf("and %d more; %d faults in all", f.More, all))
		}
	}
	return strings.Join(shown, "\n")
}

// Show is the fault as four lines without a line end after the last: "file:line:column:
// what is wrong", the line or part of it, a caret under the column, what would be right.
func (f Fault) Show(file string) string {
	place := fmt.Sprintf("%d:%d: ", f.Line, f.Column)
	if file != "" {
		place = printable(file) + ":" + place
	}
	text, before := f.excerpt()
	return fmt.Sprintf("%s%s\n  %s\n  %s^\n  %s", place, f.Message, text, blanks(before), f.Hint)
}

// excerpt is the part of the line to show and what stands in it left of the caret.
func (f Fault) excerpt() (text, before string) {
	line := []rune(f.Text)
	at := min(max(f.Column-1, 0), len(line))
	from := at - fitting(shownWidth/2, slices.Backward(line[:at]))
	before = printable(string(line[from:at]))
	to := at + fitting(shownWidth-width.StringWidth(before), slices.All(line[at:]))
	text = printable(string(line[from:to]))
	if from > 0 {
		text, before = "[...] "+text, "[...] "+before
	}
	if to < len(line) {
		text += " [...]"
	}
	return text, before
}

// fitting is how many characters, from the first on, there is room for, in terminal cells.
func fitting(room int, characters iter.Seq2[int, rune]) (n int) {
	for _, r := range characters {
		if room -= cells(r); room < 0 {
			break
		}
		n++
	}
	return n
}

// cells is the room a character takes at most, in terminal cells, and at least one, so that
// a line of accents has an end.
func cells(r rune) int {
	if r == '\t' {
		return 8
	}
	return max(1, width.RuneWidth(r))
}

// blanks is white space as wide as text. Tabs stay: both lines run to the same tab stops.
func blanks(text string) string {
	var b strings.Builder
	for _, r := range text {
		if r == '\t' {
			b.WriteRune(r)
			continue
		}
		b.WriteString(strings.Repeat(" ", width.RuneWidth(r)))
	}
	return b.String()
}

// printable replaces what a terminal would act on rather than show.
func printable(text string) string {
	return strings.Map(func(r rune) rune {
		if r != '\t' && (unicode.IsControl(r) || unicode.Is(unicode.Cf, r)) {
			return unicode.ReplacementChar
		}
		return r
	}, text)
}
