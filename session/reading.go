package session

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"strandwise/chart"
	"strandwise/floats"
)

// PlaceOf is the place of a stitch counted over the whole row, from 1.
func (p *Piece) PlaceOf(row, stitch int) floats.Place { return p.Row(row).PlaceOf(stitch) }

// PlaceWords tells a stitch of a row: "stitch 9", "repeat 3, stitch 9", "block 2, repeat 3, stitch 9".
func (p *Piece) PlaceWords(row, stitch int) string { return placeWords(p.Row(row).Course, stitch) }

var placeForm = regexp.MustCompile(`^(?:(\d{1,3})/)?(\d{1,7})?(?:@(\d{1,7}))?$`)

// placeSaid is a place of which block, stitch and repeat are given, or left empty.
func placeSaid(digits []string) floats.Place {
	var n [3]int
	for i := range n {
		n[i], _ = strconv.Atoi(digits[i])
	}
	return floats.Place{Block: n[0], Stitch: n[1], Repeat: n[2]}
}

// ParsePlace reads how far the row to work, which there must be, is: the stitches worked so far ("38"),
// those of one repeat and all before it ("14@3"), or the repeats done ("@3"); in a row of blocks behind the
// number of the block ("2/14@3", "2/14"). Errors are *RefusedError.
func (p *Piece) ParsePlace(word string) (stitch int, err error) {
	row := p.State.Row + 1
	r := p.Row(row)
	m := placeForm.FindStringSubmatch(word)
	if m == nil || m[2] == "" && m[3] == "" {
		e := refuse("pause takes how far the %s is, not %q", p.rowWord(), word).instead("%s", p.placeForms(row))
		e.Unreadable = true
		return 0, e
	}
	stitch = placeSaid(m[1:]).Stitch
	if m[1] != "" || m[3] != "" {
		if stitch, err = p.placeIn(row, word, m); err != nil {
			return 0, err
		}
	}
	switch n := r.Stitches(); {
	case stitch == n:
		return 0, refuse("that is the whole %s, %s", p.rowWord(), plural(n, "stitch")).instead("strandwise knit")
	case stitch > n:
		return 0, refuse("%s %d has %s, so %d is too many", p.rowWord(), row, plural(n, "stitch"), stitch).instead("strandwise pause %d", n-1)
	}
	return stitch, nil
}

// placeIn is the stitch over the whole row of a place given by block, stitch and repeat.
func (p *Piece) placeIn(row int, word string, m []string) (int, error) {
	r, at := p.Row(row), placeSaid(m[1:])
	b := r.Block(at.Block)
	if b == nil && at.Block == 0 {
		return 0, refuse("%s %d has %s: say which", p.rowWord(), row, plural(len(r.Blocks), "block")).
			instead("strandwise pause 2/%s", strings.TrimPrefix(word, "0/"))
	}
	if b == nil {
		return 0, refuse("%s %d has %s, so there is no %s", p.rowWord(), row, plural(len(r.Blocks), "block"), word).instead("strandwise show")
	}
	if m[2] == "" {
		at.Stitch = b.Stitches
	}
	if m[3] == "" {
		at.Repeat = 1
	}
	if at.Repeat < 1 || at.Repeat > b.Repeats || at.Stitch > b.Stitches {
		return 0, refuse("%s %d has %s of %s%s, so there is no %s",
			p.rowWord(), row, plural(b.Repeats, "repeat"), plural(b.Stitches, "stitch"), ofBlock(r.Course, b), word).instead("strandwise show")
	}
	return r.StitchAt(at), nil
}

func (p *Piece) placeForms(row int) string {
	text := "strandwise pause 14 after 14 stitches"
	switch r := p.Row(row); {
	case len(r.Blocks) > 1:
		text += ", pause 2/4@3 after stitch 4 of repeat 3 of block 2, pause 2/@3 after that repeat"
	case r.Repeats() > 1:
		text += ", pause 4@2 after stitch 4 of repeat 2, pause @2 after repeat 2"
	}
	return text
}

// ColumnOf is the column of a stitch over all repeats, both from 1; 0 when the row has no such stitch.
func ColumnOf(r *floats.Row, stitch int) int {
	if stitch < 1 || stitch > r.Stitches() {
		return 0
	}
	return r.Stitch(stitch).Column + 1
}

// ReadRun is a run as a knitter reads it off the needle.
type ReadRun struct {
	Stitches int // at least 1
	Yarn     int // index into the piece's yarns; chart.NoYarn when she did not say, which is any but that of the run before
}

// readMost is the most stitches of a reading.
const readMost = 100_000

const readForm = `counts and yarns such as "3 oat 1 fjord 5", or the symbols one by one`

func unreadable(what string, try ...string) error {
	return &RefusedError{Unreadable: true, What: what, Try: append(try, readForm)}
}

// ParseReading reads runs as a knitter says them: counts with names or symbols ("3 oat 1 fjord 5",
// "3. 1x 5."), symbols one by one ("...x....."), with commas or without. A count without a yarn is a run
// of another yarn than the one before. What cannot be read is a *RefusedError.
func (p *Piece) ParseReading(text string) ([]ReadRun, error) {
	r := &runReader{yarns: p.Layout.Fabric.Yarns, names: p.yarnNames()}
	between := func(c rune) bool { return unicode.IsSpace(c) || c == ',' }
	for r.rest = strings.TrimLeftFunc(text, between); r.rest != ""; r.rest = strings.TrimLeftFunc(r.rest, between) {
		if err := r.next(); err != nil {
			return nil, err
		}
	}
	if len(r.runs) == 0 {
		return nil, unreadable("no runs were given")
	}
	return r.runs, nil
}

type runReader struct {
	yarns []chart.Yarn
	names []string
	rest  string
	runs  []ReadRun
}

const digits = "0123456789"

// next takes a count with its yarn, or symbols without a count.
func (r *runReader) next() error {
	rest := strings.TrimLeft(r.rest, digits)
	count, n := r.rest[:len(r.rest)-len(rest)], 1
	if count != "" {
		var err error
		if n, err = strconv.Atoi(count); err != nil || n < 1 || n > readMost {
			return unreadable(fmt.Sprintf("a run of %s stitches is not possible", count), fmt.Sprintf("a count from 1 to %d", readMost))
		}
		r.rest = strings.TrimLeft(rest, " \t")
	}
	word := r.rest[:wordEnd(r.rest)]
	yarns, size := r.named()
	switch {
	case size > 0:
	case count != "" && (r.rest == "" || strings.ContainsAny(r.rest[:1], ","+digits)):
		r.runs = append(r.runs, ReadRun{n, chart.NoYarn})
		return nil
	case count == "":
		yarns, size = r.symbols(word), len(word)
	}
	if len(yarns) == 0 {
		return r.unknown(word)
	}
	for _, yarn := range yarns {
		r.add(n, yarn)
	}
	r.rest = r.rest[size:]
	return nil
}

// add adds stitches of a yarn; those of the run before are the same run.
func (r *runReader) add(n, yarn int) {
	if last := len(r.runs) - 1; last >= 0 && r.runs[last].Yarn == yarn {
		r.runs[last].Stitches += n
		return
	}
	r.runs = append(r.runs, ReadRun{n, yarn})
}

// named finds the yarn whose name comes next, the longest that fits, or one symbol that stands alone.
func (r *runReader) named() (yarn []int, size int) {
	for i, y := range r.yarns {
		n := len(y.Name)
		if len(r.rest) < n || !strings.EqualFold(r.rest[:n], y.Name) {
			n = len(string(y.Symbol))
			if !strings.HasPrefix(r.rest, string(y.Symbol)) { // x and X may be two yarns
				continue
			}
		}
		if n > size && wordEnd(r.rest[n:]) == 0 {
			yarn, size = []int{i}, n
		}
	}
	return yarn, size
}

func (r *runReader) symbols(word string) []int {
	var yarns []int
	for _, c := range word {
		at := slices.IndexFunc(r.yarns, func(y chart.Yarn) bool { return y.Symbol == c })
		if at < 0 {
			return nil
		}
		yarns = append(yarns, at)
	}
	return yarns
}

func wordEnd(text string) int {
	if end := strings.IndexFunc(text, func(c rune) bool { return unicode.IsSpace(c) || c == ',' || unicode.IsDigit(c) }); end >= 0 {
		return end
	}
	return len(text)
}

func (r *runReader) unknown(word string) error {
	what := fmt.Sprintf("%q is no yarn of the piece; it has %s", word, strings.Join(r.names, ", "))
	if near := chart.Nearest(word, r.names); near != "" {
		return unreadable(what, near)
	}
	return unreadable(what)
}
