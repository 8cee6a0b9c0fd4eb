package session

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"strandwise/chart"
)

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
