package answer_test

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"github.com/stretchr/testify/require"

	"strandwise/chart"
	"strandwise/floats"
	"strandwise/session"
)

// reading is what a knitter who knows nothing but the printed text, and the names of the yarns,
// can say of a row.
type reading struct {
	row          int
	wrongSide    bool
	yarns, words []string    // of every stitch of the row, as they are worked
	catches      []readCatch // places counted as if the row were one repeat
}

type readCatch struct {
	letter string
	at     floats.Place
	yarn   string
	twist  bool
}

// inRow gives the catches in the repeats of a row, in order.
func (r *reading) inRow(row *floats.Row) []readCatch {
	catches := []readCatch{}
	for _, c := range r.catches {
		c.at = row.PlaceOf(c.at.Stitch)
		catches = append(catches, c)
	}
	return catches
}

// readLine is some repeats of a block: how often they are worked, and their runs.
type readLine struct {
	block   int // in knitting order, from 1; 0 in rows of one
	times   int
	repeats []int
	runs    []string
}

var (
	glanceLine = regexp.MustCompile(`^(?:(\d+)( \(wrong side, purl\))?(?:, (\d+ times|repeats? [^:]+))?|((?:block \d+ )?repeats? [^:]+)):(?: (.*))?$`)
	blockText  = regexp.MustCompile(`^block (\d+) (repeats? .*)$`)
	blockRuns  = regexp.MustCompile(`^(?:(?:block \d+ )?(\d+ times|repeats? [^:(]+): )?(.*)$`)
	timesText  = regexp.MustCompile(`^(\d+) times$`)
)

// readText reads a row as it is printed: its lines for a glance stand first, and each carries the
// number of the row, or of its repeats, as often as it is broken.
func readText(t require.TestingT, text string, yarns []chart.Yarn) *reading {
	r := &reading{}
	lines := strings.Split(text, "\n")
	var told []readLine
	blocks := 0
	for at := 0; at < len(lines); at++ {
		m := glanceLine.FindStringSubmatch(lines[at])
		if m == nil || at > 0 && m[1] != "" {
			break
		}
		if m[1] != "" {
			r.row, r.wrongSide = number(t, m[1]), m[2] != ""
		}
		runs := m[5]
		for strings.HasPrefix(lines[at+1], m[1]+m[4]+": ") {
			at++
			runs = strings.TrimSpace(runs + strings.TrimPrefix(lines[at], m[1]+m[4]+":"))
		}
		if sides := splitOutside(runs, "; "); len(sides) > 1 || blockRuns.FindStringSubmatch(runs)[1] != "" {
			blocks = len(sides)
			for i, side := range sides {
				m := blockRuns.FindStringSubmatch(side)
				l := lineOf(t, m[1], splitOutside(m[2], ", "))
				l.block = i + 1
				told = append(told, l)
			}
			continue
		}
		other := blockText.FindStringSubmatch(m[4])
		if other == nil {
			told = append(told, lineOf(t, m[3]+m[4], splitOutside(runs, ", ")))
			continue
		}
		l := lineOf(t, other[2], splitOutside(runs, ", "))
		if l.block = number(t, other[1]); r.wrongSide {
			l.block = blocks + 1 - l.block
		}
		told = append(told, l)
	}
	r.putBlocks(t, told, yarns)
	return r
}

// lineOf reads how often: "12 times", "repeat 6", "repeats 1, 3 and 5 to 7"; nothing is once.
func lineOf(t require.TestingT, often string, runs []string) readLine {
	l := readLine{times: 1, runs: runs}
	if m := timesText.FindStringSubmatch(often); m != nil {
		l.times = number(t, m[1])
		return l
	}
	often = strings.TrimPrefix(strings.TrimPrefix(often, "repeats "), "repeat ")
	for _, span := range strings.Split(strings.ReplaceAll(often, " and ", ", "), ", ") {
		if span == "" {
			continue
		}
		from, to, is := strings.Cut(span, " to ")
		if !is {
			to = from
		}
		for rep := number(t, from); rep <= number(t, to); rep++ {
			l.repeats = append(l.repeats, rep)
		}
	}
	l.times = max(1, len(l.repeats))
	return l
}

// putBlocks lays out each block in its turn.
func (r *reading) putBlocks(t require.TestingT, told []readLine, yarns []chart.Yarn) {
	for block := 0; ; block++ {
		var of []readLine
		for _, l := range told {
			if l.block == block {
				of = append(of, l)
			}
		}
		if len(of) > 0 {
			r.put(t, of, readRun, yarns)
		} else if block > 0 {
			break
		}
	}
	r.nameYarns()
}

// put lays the repeats out in their order.
func (r *reading) put(t require.TestingT, told []readLine, run func(require.TestingT, string, []chart.Yarn, string) readRunText, yarns []chart.Yarn) {
	total := 0
	for _, l := range told {
		total += l.times
	}
	of := make([]*readLine, total+1)
	for i := range told {
		for _, rep := range told[i].repeats {
			require.Nil(t, of[rep], "repeat %d is told twice", rep)
			of[rep] = &told[i]
		}
	}
	for rep := 1; rep <= total; rep++ {
		if of[rep] == nil {
			of[rep] = &told[0]
		}
		last := ""
		for _, text := range of[rep].runs {
			read := run(t, text, yarns, last)
			last = read.yarn
			for _, c := range read.catches {
				c.at.Stitch += len(r.yarns)
				r.catches = append(r.catches, c)
			}
			for range read.stitches {
				r.yarns, r.words = append(r.yarns, read.yarn), append(r.words, read.word)
			}
		}
	}
}

// nameYarns names the yarn of catches where it is not said: of two yarns it is the other one.
func (r *reading) nameYarns() {
	in := slices.Compact(slices.Sorted(slices.Values(r.yarns)))
	for i, c := range r.catches {
		if c.yarn != "" {
			continue
		}
		for _, name := range in {
			if name != r.yarns[c.at.Stitch-1] {
				r.catches[i].yarn = name
			}
		}
	}
}

// readRunText is one run.
type readRunText struct {
	stitches   int
	yarn, word string
	catches    []readCatch
}

var runForm = regexp.MustCompile(`^(?:(\d+) )?([^(:]+?)(?: \((.+)\)|: (.+))?$`)

// readRun reads "11 fjord (5, catch a, 5)", "k2tog", "2 purl oat"; last is the yarn before it.
func readRun(t require.TestingT, text string, yarns []chart.Yarn, last string) readRunText {
	m := runForm.FindStringSubmatch(text)
	require.NotNil(t, m, "no run: %q", text)
	read := readRunText{stitches: 1, yarn: last, word: m[2]}
	if m[1] != "" {
		read.stitches = number(t, m[1])
	}
	for _, y := range yarns {
		if m[2] == y.Name || strings.HasSuffix(m[2], " "+y.Name) {
			read.yarn, read.word = y.Name, strings.TrimSuffix(strings.TrimSuffix(m[2], y.Name), " ")
		}
	}
	if inside := m[3] + m[4]; inside != "" {
		read.inside(t, inside, yarns)
	}
	return read
}

var catchForm = regexp.MustCompile(`^(catch|twist) (.+?)( on the next)?$`)

// inside reads "5, catch a, 5" and "5, catch A on the next, 5": a catch is one stitch, a twist
// none, and all sums up to the run.
func (r *readRunText) inside(t require.TestingT, text string, yarns []chart.Yarn) {
	done := 0
	for _, item := range strings.Split(strings.ReplaceAll(text, ", moved,", ""), ", ") {
		m := catchForm.FindStringSubmatch(item)
		if m == nil {
			done += number(t, item)
			continue
		}
		for _, name := range strings.Split(m[2], " and ") {
			letter, yarn, _ := strings.Cut(strings.ReplaceAll(name, "*", ""), " ")
			r.catches = append(r.catches, readCatch{strings.ToLower(letter), floats.Place{Stitch: done + 1}, yarn, m[1] == "twist"})
		}
		if m[1] == "catch" {
			done++
		}
	}
	require.Equal(t, r.stitches, done, "the sum of %q", text)
}

// splitOutside splits a text at separators that stand outside brackets.
func splitOutside(text, separator string) []string {
	var parts []string
	depth, from := 0, 0
	for i, c := range text {
		switch c {
		case '(':
			depth++
		case ')':
			depth--
		}
		if depth == 0 && i >= from && strings.HasPrefix(text[i:], separator) {
			parts = append(parts, text[from:i])
			from = i + len(separator)
		}
	}
	return append(parts, text[from:])
}

var stripCells = regexp.MustCompile(`^(?:([→>]) |  )?([^\s\d]+?)(?: ([←<]))?$`)

// readStrip puts the pieces of the strip together, left to right, and what stands under each
// stitch. The row's number stands before each piece, the arrow where the row begins, and the
// piece worked first comes first.
func readStrip(row int, text string) (cells string, under []string, fromLeft bool) {
	lines := strings.Split(text, "\n")
	label := fmt.Sprintf("%d ", row)
	type piece struct {
		cells string
		under []string // line below line
	}
	var pieces []piece
	for i, line := range lines {
		rest, numbered := strings.CutPrefix(line, label)
		m := stripCells.FindStringSubmatch(rest)
		if !numbered || m == nil || strings.HasPrefix(rest, "(") {
			continue
		}
		fromLeft = fromLeft || m[1] != ""
		indent := len([]rune(line)) - len([]rune(strings.TrimLeft(rest, "→> ")))
		var below []string
		for _, signs := range lines[i+1:] {
			if len([]rune(signs)) <= indent || strings.TrimSpace(string([]rune(signs)[:indent])) != "" || strings.ContainsAny(signs, "0123456789") {
				break
			}
			below = append(below, string([]rune(signs)[indent:]))
		}
		pieces = append(pieces, piece{m[2], below})
	}
	if !fromLeft {
		slices.Reverse(pieces)
	}
	for _, p := range pieces {
		cells += p.cells
		for i := range []rune(p.cells) {
			all := ""
			for _, line := range p.under {
				if signs := []rune(line); i < len(signs) {
					all += string(signs[i])
				}
			}
			under = append(under, all)
		}
	}
	return cells, under, fromLeft
}

// blockHeard is the first run of a block, with how often it is worked.
var blockHeard = regexp.MustCompile(`^Block (\d+)(?:,? (\d+ times|repeats? [^:]+))?: (.*)$`)

var plainTitle = regexp.MustCompile(`^(?:Round|Row) (\d+) of \d+ of `)

// readPlain reads a row as it is spoken: every sentence a line, a run one of them.
func readPlain(t require.TestingT, text string, yarns []chart.Yarn) *reading {
	r := &reading{}
	lines := strings.Split(strings.TrimSuffix(text, "\n"), "\n")
	r.row = number(t, plainTitle.FindStringSubmatch(lines[0])[1])
	told, blocks := []readLine{{times: 1}}, 0
	for _, line := range lines[1:] {
		line = strings.TrimSuffix(line, ".")
		last := &told[len(told)-1]
		switch {
		case line == "Wrong side, purl":
			r.wrongSide = true
		case timesText.MatchString(line):
			*last = lineOf(t, line, nil)
		case blockHeard.MatchString(line):
			m := blockHeard.FindStringSubmatch(line)
			l := lineOf(t, m[2], []string{m[3]})
			if l.block = number(t, m[1]); len(told) == 1 && len(last.runs) == 0 {
				told = told[:0]
			}
			blocks, told = max(blocks, l.block), append(told, l)
		case strings.HasPrefix(line, "Block"):
			m := blockText.FindStringSubmatch("b" + line[1:])
			l := lineOf(t, m[2], nil)
			l.block = number(t, m[1])
			told = append(told, l)
		case strings.HasPrefix(line, "Repeat"):
			if l := lineOf(t, "r"+line[1:], nil); len(last.runs) == 0 {
				*last = l
			} else {
				told = append(told, l)
			}
		case !isRun(line, yarns):
			for i := range told {
				if told[i].block > 0 && r.wrongSide {
					told[i].block = blocks + 1 - told[i].block
				}
			}
			r.putBlocks(t, told, yarns)
			return r
		default:
			last.runs = append(last.runs, strings.ToLower(line[:1])+line[1:])
		}
	}
	require.Fail(t, "the row has no end", text)
	return r
}

// isRun tells a run from the sentences after the row: it names a yarn or how it is worked.
func isRun(line string, yarns []chart.Yarn) bool {
	m := runForm.FindStringSubmatch(line)
	if m == nil {
		return false
	}
	for _, y := range yarns {
		if m[2] == y.Name || m[1] != "" && strings.HasSuffix(m[2], " "+y.Name) {
			return true
		}
	}
	word := strings.ToLower(strings.Fields(m[2])[0])
	for technique := chart.Purl; technique <= chart.Kfb; technique++ {
		for _, wrong := range []bool{false, true} {
			if word == strings.Fields(session.WorkedAs(technique, wrong, false))[0] {
				return true
			}
		}
	}
	return false
}

func number(t require.TestingT, text string) int {
	n, err := strconv.Atoi(text)
	require.NoError(t, err)
	return n
}
