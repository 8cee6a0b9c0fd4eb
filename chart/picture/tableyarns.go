package picture

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/image/colornames"

	"strandwise/chart"
)

type table struct {
	options TableOptions
	says    []saying           // all that is said, in the order it is met
	index   map[chart.Yarn]int // where in says something is, by its key
	met     kind               // of the first cell that says no known yarn
}

// read is the stitches of the cells, each with the index of what its cell says.
func (t *table) read(cells [][]tableCell, report *Report) ([][]stitch, error) {
	blank := strings.TrimSpace(t.options.Blank)
	if blank == "" || strings.EqualFold(blank, NoStitch) {
		blank = string(emptySymbol)
	}
	if _, err := t.say(blank); err != nil {
		return nil, fmt.Errorf("blank cells cannot be %q: %w", blank, err)
	}
	blanks, missing := BlankError{}, 0
	rows := make([][]stitch, len(cells))
	for i, line := range cells {
		if i == chart.MaxRows || len(line) > chart.MaxColumns {
			return nil, tooLargeTable(line[0].line)
		}
		for j, cell := range line {
			if cell.missing && t.options.Blank == "" {
				whole := slices.IndexFunc(cells, func(other []tableCell) bool { return !other[len(line)-1].missing })
				return nil, fmt.Errorf("line %d has %s, line %d has %d; every row needs the same number of cells, or --blank YARN says what those that are missing are",
					cell.line, chart.Counted(j, "cell"), cells[max(whole, 0)][0].line, len(line))
			}
			if cell.text == "" {
				blanks = BlankError{blanks.Cells + 1, cmp.Or(blanks.Line, cell.line), cmp.Or(blanks.Cell, cell.at)}
			}
			if cell.missing {
				missing++
			}
			said, err := t.cell(cmp.Or(cell.text, blank), cell.text == "")
			if err != nil {
				return nil, fmt.Errorf("line %d, cell %d: %w", cell.line, cell.at, err)
			}
			rows[i] = append(rows[i], stitch{said, cell.missing})
		}
	}
	if blanks.Cells > 0 && t.options.Blank == "" {
		return nil, &blanks
	}
	if missing > 0 {
		report.note("%s missing at the ends of lines, and taken as blank", cellsAre(missing))
	}
	if blanks.Cells > 0 {
		report.note("%s blank: %s", cellsAre(blanks.Cells), t.options.Blank)
	}
	return rows, nil
}

// cell is the index of what a cell says. Symbols mixed with colors or names that no known yarn has are a slip; a
// blank cell may be of another kind.
func (t *table) cell(text string, blank bool) (int, error) {
	if text == string(emptySymbol) {
		return noStitch, nil
	}
	s, err := t.say(text)
	if err != nil {
		return noStitch, err
	}
	if s.kind != known && !blank {
		if t.met = cmp.Or(t.met, s.kind); (s.kind == symbols) != (t.met == symbols) {
			return noStitch, fmt.Errorf("%s stands where others are of another kind: symbols are not mixed with colors or names; use one of the two", short(text))
		}
	}
	i, met := t.index[s.key]
	if !met {
		i = len(t.says)
		t.index[s.key], t.says = i, append(t.says, s)
	}
	t.says[i].cells++
	return i, nil
}

func (t *table) chart(rows [][]stitch, report *Report) (*chart.Chart, error) {
	if report.Colors = len(t.says); report.Colors > MaxYarns {
		return nil, fmt.Errorf("the table has %d different %s; a chart from a table has at most %d yarns", report.Colors, t.met, MaxYarns)
	}
	t.paint(report)
	says := slices.Clone(t.says)
	slices.SortStableFunc(says, func(a, b saying) int { return b.cells - a.cells })
	yarns := make([]chart.Yarn, len(says))
	for i, s := range says {
		yarns[i] = s.yarn
	}
	for _, row := range rows {
		for j, s := range row {
			if s.yarn != noStitch {
				row[j].yarn = slices.Index(says, t.says[s.yarn])
			}
		}
	}
	declare(yarns, t.options.Yarns)
	c, err := assemble(rows, yarns, report)
	if err != nil {
		return nil, err
	}
	if len(t.options.Yarns) > 0 && slices.ContainsFunc(says, func(s saying) bool { return s.kind == colors }) {
		c, report.Taken = TakeYarns(c, t.options.Yarns)
	}
	return c, nil
}

// paint makes up a color, which no other has, for each yarn without one, and says so.
func (t *table) paint(report *Report) {
	free, painted := slices.Clone(madeUp), 0
	for _, s := range t.says {
		if s.kind.colored() {
			free = slices.DeleteFunc(free, func(c chart.Color) bool { return c == s.yarn.Color })
		}
	}
	for i := range t.says {
		if s := &t.says[i]; !s.kind.colored() {
			s.yarn.Color = free[painted]
			painted++
		}
	}
	if painted == 1 {
		report.note("name or color of 1 yarn is made up; write the right one into the chart file")
	} else if painted > 1 {
		report.note("names or colors of %d yarns are made up; write the right ones into the chart file", painted)
	}
}

func cellsAre(n int) string {
	if n == 1 {
		return "1 cell is"
	}
	return fmt.Sprintf("%d cells are", n)
}

// madeUp are colors for yarns nothing is known about, clearly apart from one another, in the order they are met.
var madeUp = []chart.Color{
	rgb(0xF2, 0xEA, 0xD8), rgb(0x1E, 0x3F, 0x66), rgb(0xB0, 0x3A, 0x2E), rgb(0x4F, 0x7A, 0x4A),
	rgb(0xE0, 0xA5, 0x2B), rgb(0x7A, 0x4E, 0x8A), rgb(0x8A, 0x8D, 0x90), rgb(0x5B, 0xB5, 0xB0),
	rgb(0x6B, 0x47, 0x2B), rgb(0xE8, 0x8F, 0xA8), rgb(0x2B, 0x2B, 0x2E), rgb(0x6F, 0x9F, 0xD8),
	rgb(0xB9, 0xC9, 0x6A), rgb(0xD0, 0x6A, 0x2C), rgb(0x1F, 0x5E, 0x4C), rgb(0xC7, 0xB2, 0xDE),
}

type kind int

const (
	known   kind = iota // anything a known yarn has
	symbols             // a symbol nothing is known of
	colors              // a color, perhaps by its name
	names
)

// String is the kind as the yarns are counted by it.
func (k kind) String() string { return [...]string{"yarns", "symbols", "colors", "yarns"}[k] }

func (k kind) colored() bool { return k == known || k == colors }

type saying struct {
	kind  kind
	yarn  chart.Yarn // what is told of the yarn
	key   chart.Yarn // equal where two cells say the same yarn
	cells int
}

// say reads a cell that is not blank: known yarns first, by symbol, name or color; of words, colors before names.
func (t *table) say(text string) (saying, error) {
	yarns := t.options.Yarns
	if i := chart.YarnNamed(yarns, text); i != chart.NoYarn {
		return saying{kind: known, yarn: yarns[i], key: yarns[i]}, nil
	}
	if r, size := utf8.DecodeRuneInString(text); size == len(text) {
		return t.saySymbol(r)
	}
	color, is, err := tableColor(text)
	if !is {
		return t.sayName(text)
	}
	if i := slices.IndexFunc(yarns, func(y chart.Yarn) bool { return y.Color == color }); i >= 0 && err == nil {
		return saying{kind: known, yarn: yarns[i], key: yarns[i]}, nil
	}
	s := saying{kind: colors, yarn: chart.Yarn{Color: color}, key: chart.Yarn{Color: color}}
	if !strings.HasPrefix(text, "#") && !isHex(text) {
		s.yarn.Name = strings.Join(strings.Fields(text), " ")
	}
	return s, err
}

func (t *table) saySymbol(r rune) (saying, error) {
	if err := chart.CheckSymbol(r); err != nil {
		return saying{}, fmt.Errorf("%w; %s", err, chart.SymbolRule)
	}
	if near := chart.NearestSymbol(r, (&chart.Chart{Yarns: t.options.Yarns}).YarnSymbols()); near != 0 {
		return saying{}, fmt.Errorf("no yarn has the symbol %q; did you mean %c?", string(r), near)
	}
	y := chart.Yarn{Symbol: r}
	return saying{kind: symbols, yarn: y, key: y}, nil
}

// sayName reads the name of a yarn. Where yarns are known it is one of them.
func (t *table) sayName(text string) (saying, error) {
	name := strings.Join(strings.Fields(text), " ")
	first, _ := utf8.DecodeRuneInString(name)
	const longest = 40 // characters: more is a remark
	var wrong string
	switch hidden := strings.IndexFunc(name, func(r rune) bool { return chart.Invisible(r) || r == utf8.RuneError }); {
	case strings.ContainsRune("=+-@", first):
		wrong = "is a formula; save the table with values only"
	case unicode.IsDigit(first):
		wrong = "is a number; write a symbol, a color as #RRGGBB or the name of a yarn, in cells formatted as text"
	case !unicode.IsLetter(first) || strings.ContainsAny(name, ",():") || utf8.RuneCountInString(name) > longest:
		wrong = "is neither one symbol, nor a color, nor the name of a yarn; clear the cell, or write one of them"
	case hidden >= 0:
		r, _ := utf8.DecodeRuneInString(name[hidden:])
		wrong = fmt.Sprintf("has the invisible character %U in it; delete it", r)
	case len(t.options.Yarns) > 0:
		_, err := (&chart.Chart{Yarns: t.options.Yarns}).FindYarn(name)
		return saying{}, errors.New(strings.Replace(err.Error(), ": ", "; ", 1))
	default:
		return saying{kind: names, yarn: chart.Yarn{Name: name}, key: chart.Yarn{Name: strings.ToLower(name)}}, nil
	}
	return saying{}, fmt.Errorf("%s %s", short(text), wrong)
}

// tableColor reads #RRGGBB, #RGB, RRGGBB or a name of CSS (Color Module Level 4, section 6.1; case and blanks do not
// count). It is none when the text is no try at a color at all.
func tableColor(text string) (c chart.Color, is bool, err error) {
	digits, marked := strings.CutPrefix(text, "#")
	if !marked && !isHex(text) {
		named, is := colornames.Map[strings.ToLower(strings.Join(strings.Fields(text), ""))]
		return rgb(named.R, named.G, named.B), is, nil
	}
	c, err = chart.ParseColor("#" + digits)
	if d := digits; err != nil && len(d) == 3 {
		c, err = chart.ParseColor("#" + d[:1] + d[:1] + d[1:2] + d[1:2] + d[2:] + d[2:])
	}
	if err != nil {
		err = errors.New(strings.ReplaceAll(err.Error(), ": write ", "; write "))
	}
	return c, true, err
}

func isHex(text string) bool {
	_, err := strconv.ParseUint(text, 16, 32)
	return err == nil && len(text) == 6
}

func short(text string) string {
	if r := []rune(text); len(r) > 20 {
		text = string(r[:20]) + "..."
	}
	return fmt.Sprintf("%q", text)
}
