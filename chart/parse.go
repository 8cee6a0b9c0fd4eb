package chart

import (
	"bytes"
	"cmp"
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// The largest chart that is read. A wider or taller one is a mistake more often
// than a blanket, and every later step costs time and memory by the stitch.
const (
	MaxColumns = 2000
	MaxRows    = 2000
	MaxBytes   = 8 << 20
	MaxSymbols = 256 // yarns, and stitches, and background yarns
)

// parser goes on after a fault, so that one reading shows all that is wrong.
type parser struct {
	lines      []string
	chart      *Chart
	faults     []Fault
	silent     map[int]bool   // lines whose further faults would only follow from the first
	once       map[string]int // header words met, with their line
	declared   map[rune]int   // symbols, with the line that declares them
	yarnLines  []int          // line of each yarn in chart.Yarns
	rowLines   []int          // and of each row
	references []reference
}

// Parse reads a chart file. The name is used in the error only, which is a *Faults. Lines
// may end in LF, CRLF or CR, and a byte order mark is passed over. Comment lines of the
// header are kept, wherever in it they stand. It takes time linear in src.
func Parse(name string, src []byte) (*Chart, error) {
	unread := func(message, hint string) (*Chart, error) {
		return nil, &Faults{File: name, List: []Fault{{Line: 1, Column: 1, Message: message, Hint: hint}}}
	}
	switch {
	case len(src) > MaxBytes:
		return unread(fmt.Sprintf("the file has %d bytes, more than %d", len(src), MaxBytes),
			"a chart file is text, one character a stitch; is this the right file?")
	case bytes.HasPrefix(src, []byte("\xFF\xFE")), bytes.HasPrefix(src, []byte("\xFE\xFF")): // its byte order mark
		return unread("the file is UTF-16 text", "save the file as UTF-8")
	}
	text := strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(strings.TrimPrefix(string(src), "\uFEFF"))
	p := &parser{
		lines: strings.Split(strings.TrimSuffix(text, "\n"), "\n"), chart: &Chart{},
		silent: map[int]bool{}, once: map[string]int{}, declared: map[rune]int{},
	}
	p.characters()
	p.body()
	if len(p.faults) == 0 {
		return p.chart, nil
	}
	slices.SortStableFunc(p.faults, func(a, b Fault) int { return cmp.Or(a.Line-b.Line, a.Column-b.Column) })
	shown := min(len(p.faults), shownFaults)
	return nil, &Faults{File: name, List: p.faults[:shown:shown], More: len(p.faults) - shown}
}

// characters refuses lines with characters that are no text. Such a line is still
// read, without them, so that what it declares is known, but not named again.
func (p *parser) characters() {
	for i, line := range p.lines {
		if p.full() {
			return
		}
		if !p.goodLine(i+1, line) {
			p.silent[i+1] = true
			p.lines[i] = strings.Map(func(r rune) rune {
				if Invisible(r) {
					return -1
				}
				return r
			}, strings.ToValidUTF8(line, ""))
		}
	}
}

func (p *parser) goodLine(number int, line string) bool {
	column := 0
	for i, r := range line {
		column++
		switch {
		case r == utf8.RuneError && strings.HasPrefix(line[i:], string(utf8.RuneError)):
		case r == utf8.RuneError:
			p.fault(number, column, "save the file as UTF-8", "the byte %02X is not UTF-8 text", line[i])
			return false
		case Invisible(r):
			p.fault(number, column, "delete it: it may have come along when text was pasted", "the invisible character %U", r)
			return false
		}
	}
	return true
}

// Invisible reports controls, invisible formatting and other line ends. The two joiners stay:
// names in some scripts need them.
func Invisible(r rune) bool {
	return unicode.IsControl(r) && r != '\t' || unicode.In(r, unicode.Zl, unicode.Zp) ||
		unicode.Is(unicode.Cf, r) && r != 0x200C && r != 0x200D
}

func (p *parser) body() {
	grid := p.gridLine()
	for line := 1; line < grid && line <= len(p.lines) && !p.full(); line++ {
		p.header(line)
	}
	p.resolve()
	if len(p.chart.Yarns) == 0 && len(p.faults) == 0 {
		p.fault(1, 1, "write "+yarnShape, "the chart declares no yarn")
		return
	}
	p.rows(grid)
}

// gridLine finds the line after "rows:". Without one the grid is taken to begin
// at the first line that can only be a row, and the missing line is a fault.
func (p *parser) gridLine() int {
	bare := 0
	for i, line := range p.lines {
		name, after, colon := strings.Cut(line, ":")
		name = strings.TrimSpace(name)
		switch {
		case strings.HasPrefix(name, "#"):
		case colon && name == "rows":
			if words := splitWords(after, utf8.RuneCountInString(line)-utf8.RuneCountInString(after)); len(words) > 0 {
				p.fault(i+1, words[0].column, "begin the grid on the next line", "rows: stands on a line of its own")
			}
			return i + 2
		case !colon && name != "" && bare == 0:
			bare = i + 1
		}
	}
	const hint = "write rows: on a line of its own above the grid"
	if bare > 0 {
		p.fault(bare, 1, hint, "the grid begins here, but there is no rows: line")
		return bare
	}
	last := len(p.lines)
	p.fault(last, len([]rune(p.lines[last-1]))+1, hint, "the chart ends without a rows: line")
	p.silent[last] = true
	return last + 1
}

func (p *parser) fault(line, column int, hint, format string, args ...any) {
	if !p.silent[line] && !p.full() {
		p.faults = append(p.faults, Fault{line, column, p.lines[line-1], fmt.Sprintf(format, args...), hint})
	}
}

func (p *parser) full() bool { return len(p.faults) >= keptFaults }
