package stored

import (
	"cmp"
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"strandwise/chart"
	"strandwise/cmd/frame"
	"strandwise/session"
	"strandwise/store"
)

// Part is a block as it was named on the command line, with its chart.
type Part struct {
	Ref   session.PartRef
	Chart *chart.Chart // nil for plain rows and a steek
	Bytes []byte       // of the chart file; nil where the store has it
	Title string       // of the file in messages
}

// Parts are the parts of a piece, and those of their blocks that have a chart.
type Parts struct {
	Refs  []session.PartRef
	Drawn []Part
}

// Chart finds a chart by the hash of its bytes, as State.Lay wants it.
func (p Parts) Chart(hash [32]byte) (*chart.Chart, error) {
	for _, d := range p.Drawn {
		if d.Ref.Hash == hash {
			return d.Chart, nil
		}
	}
	return nil, errors.New("its chart is not there")
}

// Yarns are those of the charts, one after the other.
func (p Parts) Yarns() []chart.Yarn {
	var yarns []chart.Yarn
	for _, d := range p.Drawn {
		yarns = append(yarns, d.Chart.Yarns...)
	}
	return yarns
}

const partMost = 100_000

// copies is what may follow a chart file: @12 or @12x2.
var copies = regexp.MustCompile(`^(.+)@(\d+)(?:x(\d+))?$`)

// plainRows is a symbol and a number of rows, and how many stitches the last adds or takes.
var plainRows = regexp.MustCompile(`^([^\d,:@#]):(\d+)(?:(inc|dec)(\d+))?$`)

var steek = regexp.MustCompile(`^steek(?:$|:(.*)$|@.*$)`)

const besides = "+"

// ReadParts reads the parts of a piece, charts included.
func ReadParts(a *frame.App, words []string) (parts Parts, err error) {
	beside := false // the next block stands beside the last
	for _, word := range words {
		if word == besides && len(parts.Refs) > 0 && !beside {
			beside = true
			continue
		}
		block, err := ReadPart(a, word)
		if err != nil {
			return parts, err
		}
		if block.Chart != nil {
			parts.Drawn = append(parts.Drawn, block)
		}
		if last := len(parts.Refs) - 1; beside {
			parts.Refs[last].Beside = append(parts.Refs[last].Beside, block.Ref)
		} else {
			parts.Refs = append(parts.Refs, block.Ref)
		}
		beside = false
	}
	if beside {
		return parts, frame.Usage("after a %s comes the block that stands beside", besides).Hint("edge.chart + band.chart@8 + edge.chart")
	}
	parts.namePlain()
	return parts, session.CheckSize(parts.Refs, parts.Chart)
}

// ReadPart reads one part, its chart included.
func ReadPart(a *frame.App, word string) (Part, error) {
	if m := plainRows.FindStringSubmatch(word); m != nil {
		rows, err := partCount(word, "rows", m[2])
		symbol, _ := utf8.DecodeRuneInString(m[1])
		part := Part{Ref: session.PartRef{Plain: symbol, Rows: rows}}
		if err == nil && m[3] != "" {
			if part.Ref.Adds, err = partCount(word, "stitches to add or take", m[4]); m[3] == "dec" {
				part.Ref.Adds = -part.Ref.Adds
			}
		}
		return part, err
	}
	if m := steek.FindStringSubmatch(word); m != nil {
		return readSteek(word, m[1])
	}
	if word == besides {
		return Part{}, frame.Usage("a %s stands between two blocks that are worked side by side", besides).Hint("edge.chart + band.chart@8 + edge.chart")
	}
	if symbol, rest, ok := strings.Cut(word, ":"); ok && utf8.RuneCountInString(symbol) == 1 && !strings.ContainsAny(rest, `/\.`) {
		return Part{}, frame.Usage("part %s: after a symbol and a colon comes a number of plain rows, with inc or dec and a number where the last adds or takes stitches", word).Hint("%s:4 or %s:2inc24", symbol, symbol)
	}
	return ReadChart(a, word)
}

func readSteek(word, digits string) (Part, error) {
	n, err := strconv.Atoi(digits)
	if err != nil || n < session.LeastSteek || n > session.MostSteek {
		return Part{}, frame.Usage("part %s: a steek has from %d to %d stitches", word, session.LeastSteek, session.MostSteek).Hint("steek:5")
	}
	return Part{Ref: session.PartRef{Name: "steek", Steek: n}}, nil
}

// ReadChart reads a part that is a chart file: FILE, FILE@A or FILE@AxB, A times side by side and B
// times upward, standard input for "-" or an example.
func ReadChart(a *frame.App, word string) (Part, error) {
	file, repeats, times, err := readCopies(word)
	if err != nil {
		return Part{}, err
	}
	data, title, err := a.ReadInput(file)
	if err != nil {
		return Part{}, err
	}
	c, err := chart.Parse(title, data)
	if err != nil {
		return Part{}, err
	}
	ref := session.PartRef{Name: cmp.Or(c.ShownTitle(), ChartName(title)), Hash: sha256.Sum256(data), Repeats: repeats, Times: times, Rows: c.Height()}
	return Part{Ref: ref, Chart: c, Bytes: data, Title: title}, nil
}

func readCopies(word string) (file string, repeats, times int, err error) {
	file, repeats, times = word, 1, 1
	if m := copies.FindStringSubmatch(word); m != nil {
		file = m[1]
		if repeats, err = partCount(word, "repeats", m[2]); err == nil && m[3] != "" {
			times, err = partCount(word, "times upward", m[3])
		}
	} else if before, after, ok := strings.Cut(word, "@"); ok {
		err = frame.Usage("part %s: after @ comes how often the chart stands in a round, then perhaps x and how often upward; %q is neither", word, after).
			Hint("%s@12 or %s@12x2", before, before)
	}
	return file, repeats, times, err
}

func partCount(word, what, digits string) (int, error) {
	n, err := strconv.Atoi(digits)
	if err != nil || n < 1 || n > partMost {
		return 0, frame.Usage("part %s: %s must be a whole number from 1 to %d, not %s", word, what, partMost, digits).Hint("1 or more")
	}
	return n, nil
}

func (p Parts) namePlain() {
	name := func(block *session.PartRef) {
		if !block.IsPlain() {
			return
		}
		yarns := p.Yarns()
		block.Name = "plain " + string(block.Plain)
		if y := slices.IndexFunc(yarns, func(y chart.Yarn) bool { return y.Symbol == block.Plain }); y >= 0 {
			block.Name = "plain " + yarns[y].Name
		}
	}
	for i := range p.Refs {
		name(&p.Refs[i])
		for k := range p.Refs[i].Beside {
			name(&p.Refs[i].Beside[k])
		}
	}
}

// ChartName is the name of a chart file without its folder and ending.
func ChartName(title string) string {
	base := filepath.Base(title)
	return strings.TrimSuffix(base, filepath.Ext(base))
}

// A piece keeps its own copy of every chart. Where a chart was read from is kept in
// the cache only, which neither goes with an export nor decides anything: it lets
// `resume` tell that the file is not what it was.

// FileKey names in the cache the file a chart was read from.
func FileKey(hash [32]byte) []byte { return fmt.Appendf(nil, "file of %x", hash) }

// keepFile knows that neither standard input nor the program is a place to look at again.
func keepFile(tx *store.Tx, part Part) error {
	if part.Title == "" || part.Title == frame.StdinTitle || frame.IsExample(part.Title) {
		return nil
	}
	path, err := filepath.Abs(part.Title)
	if err != nil {
		return nil // the folder of this run is gone: there is nothing to tell later
	}
	return tx.PutCache(FileKey(part.Ref.Hash), []byte(path))
}

// TakeUp is Take after a break: it notes which chart files are gone or changed since they were read.
func TakeUp(a *frame.App) (*Piece, error) {
	var files []string // of the parts
	p, err := takeAnd(a, func(tx *store.Tx, p *Piece) {
		for _, part := range session.AllBlocks(p.Layout.Parts) {
			path, _ := tx.Cache(FileKey(part.Hash))
			files = append(files, string(path))
		}
	})
	for i, path := range files {
		if err != nil || path == "" || slices.Contains(files[:i], path) {
			continue
		}
		if what := sinceRead(path, session.AllBlocks(p.Layout.Parts)[i].Hash); what != "" {
			fmt.Fprintf(a.Err, "strandwise: note: %s %s; %s goes on with the chart as it was\n", frame.PlainText([]byte(path)), what, p.State.Setup.Name)
		}
	}
	return p, err
}

// sinceRead says what became of a chart file, "" when nothing did or nobody can tell.
func sinceRead(path string, hash [32]byte) string {
	data, err := frame.ReadFile(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return "is no longer there"
	case err != nil || sha256.Sum256(data) == hash:
		return ""
	}
	return "has changed since it was read"
}
