package render_test

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"github.com/stretchr/testify/require"
)

// reading is what a knitter who knows nothing but the printed text can say of a row.
type reading struct {
	row     int
	runs    []readRun
	repeats int
	differ  map[int]readChange // by repeat, from 1
	strip   string             // the cells as printed, left to right; "" where none is
	fromEnd string             // "left" or "right", where the row begins; "" where not told
}

type readRun struct {
	stitches int
	yarn     string
	catches  []readCatch // counted in the run
}

type readCatch struct {
	yarn   string
	stitch int
}

// readChange is what one repeat has otherwise, counted in the repeat.
type readChange struct{ not, also []readCatch }

var (
	glanceLine = regexp.MustCompile(`^(\d+): (.*)$`)
	runText    = regexp.MustCompile(`^(\d+) ([^(]+?)(?: \((.+)\))?$`)
	catchGroup = regexp.MustCompile(`^(.+) (?:on|before) (\d.*)$`)
)

// readSheet reads a sheet as it is printed in columns.
func readSheet(t require.TestingT, text string) *reading {
	r := &reading{repeats: 1, differ: map[int]readChange{}}
	lines := strings.Split(strings.TrimSuffix(text, "\n"), "\n")
	var glance, differing []string
	at := 0
	for ; at < len(lines) && glanceLine.MatchString(lines[at]); at++ {
		m := glanceLine.FindStringSubmatch(lines[at])
		r.row = number(t, m[1])
		glance = append(glance, m[2])
	}
	for ; at < len(lines) && strings.HasPrefix(lines[at], "   "); at++ {
		differing = append(differing, strings.TrimSpace(lines[at]))
	}
	r.readGlance(t, strings.Join(glance, " "))
	for _, line := range strings.SplitAfter(strings.Join(differing, " "), ", counted in the repeat") {
		if line = strings.TrimSpace(line); line != "" {
			r.readDiffering(t, strings.TrimSuffix(line, ", counted in the repeat"))
		}
	}
	r.readStrip(lines[at:])
	return r
}

// readGlance reads the row for a glance: runs between commas, "x 12" at its end.
func (r *reading) readGlance(t require.TestingT, text string) {
	for _, piece := range splitOutside(text, ", ") {
		if times, ok := strings.CutPrefix(piece, "x "); ok {
			r.repeats = number(t, times)
			continue
		}
		m := runText.FindStringSubmatch(piece)
		require.NotNil(t, m, "no run: %q in %q", piece, text)
		r.runs = append(r.runs, readRun{number(t, m[1]), m[2], readCatches(t, m[3])})
	}
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

// readCatches reads "oat on 3, 9*; kelp on 4".
func readCatches(t require.TestingT, text string) []readCatch {
	if text == "" {
		return nil
	}
	var catches []readCatch
	for _, group := range strings.Split(text, "; ") {
		m := catchGroup.FindStringSubmatch(group)
		require.NotNil(t, m, "no catch: %q", text)
		for _, at := range strings.Split(m[2], ", ") {
			catches = append(catches, readCatch{m[1], number(t, strings.TrimSuffix(at, "*"))})
		}
	}
	return catches
}

// readDiffering reads "first repeat and repeat 3: not oat on 9, also oat on 10".
func (r *reading) readDiffering(t require.TestingT, text string) {
	names, words, found := strings.Cut(text, ": ")
	require.True(t, found, "%q", text)
	var change readChange
	not, also, _ := strings.Cut(", "+words, ", also ")
	change.not = readCatches(t, strings.TrimPrefix(strings.TrimPrefix(not, ", "), "not "))
	change.also = readCatches(t, also)
	for _, name := range strings.Split(strings.ReplaceAll(strings.ToLower(names), " and ", ", "), ", ") {
		r.differ[r.repeat(t, name)] = change
	}
}

func (r *reading) repeat(t require.TestingT, name string) int {
	switch name {
	case "first repeat":
		return 1
	case "last repeat":
		return r.repeats
	}
	return number(t, strings.TrimPrefix(name, "repeat "))
}

var stripCells = regexp.MustCompile(`^(?:([→>]) |  )?(\D+?)(?: ([←<]))?$`)

// readStrip puts the pieces of the strip together. The row's number stands before
// each, the arrow where the row begins, and the piece worked first comes first.
func (r *reading) readStrip(lines []string) {
	var pieces []string
	for _, line := range lines {
		cells, numbered := strings.CutPrefix(line, fmt.Sprintf("%d ", r.row))
		m := stripCells.FindStringSubmatch(cells)
		if !numbered || m == nil {
			continue
		}
		switch {
		case m[1] != "":
			r.fromEnd = "left"
		case m[3] != "":
			r.fromEnd = "right"
		}
		pieces = append(pieces, m[2])
	}
	if r.fromEnd == "right" {
		slices.Reverse(pieces)
	}
	r.strip = strings.Join(pieces, "")
}

var (
	plainTitle = regexp.MustCompile(`^(?:Round|Row) (\d+) of \d+ of `)
	plainRun   = regexp.MustCompile(`^(\d+) ([^,.]+)((?:, .*)?)\.$`)
	plainCatch = regexp.MustCompile(`, catch ([^,]+?) (?:on|before) stitch (\d+)`)
	plainTimes = regexp.MustCompile(`^Do this (\d+) times\.$`)
	movedWords = regexp.MustCompile(` \(moved to fit the \w+ below\)`)
	plainWay   = regexp.MustCompile(`[Tt]he chart reads from (\w+) to \w+\.$`)
)

// readPlain reads a sheet as it is spoken: every sentence a line.
func readPlain(t require.TestingT, text string) *reading {
	r := &reading{repeats: 1, differ: map[int]readChange{}}
	for i, line := range strings.Split(strings.TrimSuffix(text, "\n"), "\n") {
		switch {
		case i == 0:
			r.row = number(t, plainTitle.FindStringSubmatch(line)[1])
		case plainTimes.MatchString(line):
			r.repeats = number(t, plainTimes.FindStringSubmatch(line)[1])
		case strings.HasSuffix(line, ", counted in the repeat."):
			words := strings.TrimSuffix(line, ", counted in the repeat.")
			r.readDiffering(t, movedWords.ReplaceAllString(words, ""))
		case plainWay.MatchString(line):
			r.fromEnd = plainWay.FindStringSubmatch(line)[1]
			return r
		case plainRun.MatchString(line):
			r.readPlainRun(t, plainRun.FindStringSubmatch(line))
		}
	}
	return r
}

func (r *reading) readPlainRun(t require.TestingT, m []string) {
	run := readRun{stitches: number(t, m[1]), yarn: m[2]}
	for _, c := range plainCatch.FindAllStringSubmatch(m[3], -1) {
		run.catches = append(run.catches, readCatch{c[1], number(t, c[2])})
	}
	r.runs = append(r.runs, run)
}

func number(t require.TestingT, text string) int {
	n, err := strconv.Atoi(text)
	require.NoError(t, err)
	return n
}
