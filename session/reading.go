package session

import (
	"fmt"
	"slices"
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

// ParseReading reads runs as a knitter says them: counts with names or symbols ("3 oat
// 1 fjord 5", "3. 1x 5."), symbols one by one ("...x....."), commas between if she
// likes. A count without a yarn is a run of another yarn than the one before. What
// cannot be read is a *RefusedError, Unreadable.
func (p *Piece) ParseReading(text string) ([]ReadRun, error) {
	r := &runReader{yarns: p.Layout.Fabric.Yarns, names: p.yarnNames(), rest: text}
	for r.skip(); r.rest != "" && r.err == nil; r.skip() {
		r.next()
	}
	if r.err == nil && len(r.runs) == 0 {
		r.fail("no runs were given")
	}
	return r.runs, r.err
}

// readForm shows how runs are written.
const readForm = `counts and yarns such as "3 oat 1 fjord 5", or the symbols one by one`

type runReader struct {
	yarns []chart.Yarn
	names []string
	rest  string
	runs  []ReadRun
	err   error
}

func (r *runReader) fail(what string, try ...string) {
	r.err = &RefusedError{Why: Unreadable, What: what, Try: append(try, readForm)}
}

func (r *runReader) skip() {
	r.rest = strings.TrimLeftFunc(r.rest, func(c rune) bool { return unicode.IsSpace(c) || c == ',' })
}

// next takes a count with its yarn, or symbols without a count.
func (r *runReader) next() {
	n, counted := r.count()
	if r.err != nil {
		return
	}
	r.rest = strings.TrimLeft(r.rest, " \t")
	yarn, ok := r.name()
	switch {
	case counted && ok:
		r.add(n, yarn)
	case counted && (r.rest == "" || strings.ContainsAny(r.rest[:1], ",0123456789")):
		r.runs = append(r.runs, ReadRun{n, chart.NoYarn})
	case ok:
		r.add(1, yarn)
	case !counted && r.symbols():
	default:
		r.unknown()
	}
}

// add adds stitches of a yarn; those of the run before are the same run.
func (r *runReader) add(n, yarn int) {
	if last := len(r.runs) - 1; last >= 0 && r.runs[last].Yarn == yarn {
		r.runs[last].Stitches += n
		return
	}
	r.runs = append(r.runs, ReadRun{n, yarn})
}

func (r *runReader) count() (n int, ok bool) {
	end := 0
	for end < len(r.rest) && r.rest[end] >= '0' && r.rest[end] <= '9' {
		n = min(n*10+int(r.rest[end]-'0'), readMost+1)
		end++
	}
	if end == 0 {
		return 1, false
	}
	if n < 1 || n > readMost {
		r.fail(fmt.Sprintf("a run of %s stitches is not possible", r.rest[:end]), fmt.Sprintf("a count from 1 to %d", readMost))
	}
	r.rest = r.rest[end:]
	return n, true
}

// name takes the name of a yarn, the longest that fits, or one symbol that stands
// alone.
func (r *runReader) name() (yarn int, ok bool) {
	longest := 0
	for i, y := range r.yarns {
		size := len(y.Name)
		if len(r.rest) < size || !strings.EqualFold(r.rest[:size], y.Name) {
			size = len(string(y.Symbol))
			if !strings.HasPrefix(r.rest, string(y.Symbol)) { // x and X may be two yarns
				continue
			}
		}
		if size > longest && r.endsAt(size) {
			yarn, longest, ok = i, size, true
		}
	}
	r.rest = r.rest[longest:]
	return yarn, ok
}

// endsAt reports whether a word could end there.
func (r *runReader) endsAt(at int) bool {
	for _, c := range r.rest[at:] {
		return unicode.IsSpace(c) || unicode.IsDigit(c) || c == ','
	}
	return true
}

// symbols takes a word of symbols, if all of it is.
func (r *runReader) symbols() bool {
	word := r.word()
	var yarns []int
	for _, c := range word {
		at := slices.IndexFunc(r.yarns, func(y chart.Yarn) bool { return y.Symbol == c })
		if at < 0 {
			return false
		}
		yarns = append(yarns, at)
	}
	for _, yarn := range yarns {
		r.add(1, yarn)
	}
	r.rest = r.rest[len(word):]
	return word != ""
}

func (r *runReader) word() string {
	if end := strings.IndexFunc(r.rest, func(c rune) bool { return unicode.IsSpace(c) || c == ',' || unicode.IsDigit(c) }); end >= 0 {
		return r.rest[:end]
	}
	return r.rest
}

func (r *runReader) unknown() {
	what := fmt.Sprintf("%q is no yarn of the piece; it has %s", r.word(), strings.Join(r.names, ", "))
	if near := chart.Nearest(r.word(), r.names); near != "" {
		r.fail(what, near)
		return
	}
	r.fail(what)
}
