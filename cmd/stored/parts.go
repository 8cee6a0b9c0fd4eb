package stored

import (
	"cmp"
	"crypto/sha256"
	"fmt"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"

	"strandwise/chart"
	"strandwise/cmd/frame"
	"strandwise/floats"
	"strandwise/session"
)

// Part is a part as it was named on the command line, with its chart.
type Part struct {
	Ref   session.PartRef
	Chart *chart.Chart // nil for plain rows
	Bytes []byte       // of the chart file
	Title string       // of the file in messages

	Beside []Part // the blocks beside it
}

// Blocks lists the blocks of parts one after the other, each with its chart.
func Blocks(parts []Part) []*Part {
	var all []*Part
	for i := range parts {
		all = append(all, &parts[i])
		all = append(all, Blocks(parts[i].Beside)...)
	}
	return all
}

// ref is the part as a cast-on keeps it, with its blocks.
func (p Part) ref() session.PartRef {
	ref := p.Ref
	if len(p.Beside) > 0 {
		ref.Beside = Refs(p.Beside)
	}
	return ref
}

// partMost is the most repeats, copies or plain rows that a part can name.
const partMost = 100_000

// copies is what may follow a chart file: @12 or @12x2.
var copies = regexp.MustCompile(`^(.+)@(\d+)(?:x(\d+))?$`)

// plainRows is a symbol and a number of rows, and how many stitches the last adds or takes.
var plainRows = regexp.MustCompile(`^([^\d,:@#]):(\d+)(?:(inc|dec)(\d+))?$`)

// steek is how many stitches a steek has.
var steek = regexp.MustCompile(`^steek(?:$|:(.*)$|@.*$)`)

// besides joins two blocks that stand side by side.
const besides = "+"

// ReadParts reads the parts of a piece, charts included.
func ReadParts(a *frame.App, words []string) ([]Part, error) {
	var parts []Part
	for at := 0; at < len(words); at++ {
		part, err := ReadPart(a, words[at])
		if err != nil {
			return nil, err
		}
		for at+1 < len(words) && words[at+1] == besides {
			if at += 2; at == len(words) {
				return nil, frame.Usage("after a %s comes the block that stands beside", besides).Hint("edge.chart + band.chart@8 + edge.chart")
			}
			block, err := ReadPart(a, words[at])
			if err != nil {
				return nil, err
			}
			part.Beside = append(part.Beside, block)
		}
		parts = append(parts, part)
	}
	namePlain(parts)
	laid := make([]floats.Part, len(parts))
	for i, p := range parts {
		var err error
		if laid[i], err = p.ref().Part(ChartsOf(parts)); err != nil {
			return nil, err
		}
	}
	return parts, floats.CheckSize(laid)
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

// readSteek reads how many stitches a steek has.
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

// readCopies tells a chart file from how often it stands side by side and upward.
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

// namePlain names plain rows by their yarn, where a chart tells its name.
func namePlain(parts []Part) {
	for _, p := range Blocks(parts) {
		if ref := &p.Ref; ref.IsPlain() {
			ref.Name = fmt.Sprintf("plain %s", yarnNamed(parts, ref.Plain))
		}
	}
}

func yarnNamed(parts []Part, symbol rune) string {
	for _, p := range Blocks(parts) {
		if p.Chart == nil {
			continue
		}
		if y := p.Chart.YarnIndex(symbol); y != chart.NoYarn {
			return p.Chart.Yarns[y].Name
		}
	}
	return string(symbol)
}

// Refs are the parts as a cast-on keeps them.
func Refs(parts []Part) []session.PartRef {
	list := make([]session.PartRef, len(parts))
	for i, p := range parts {
		list[i] = p.ref()
	}
	return list
}

// ChartsOf finds the charts of parts that are not in the store yet.
func ChartsOf(parts []Part) session.Charts {
	return func(hash [32]byte) (*chart.Chart, error) {
		for _, p := range Blocks(parts) {
			if p.Ref.Hash == hash && p.Chart != nil {
				return p.Chart, nil
			}
		}
		return nil, fmt.Errorf("no chart was read with the hash %x", hash)
	}
}

// ChartName is the name of a chart file without its folder and ending.
func ChartName(title string) string {
	base := filepath.Base(title)
	return strings.TrimSuffix(base, filepath.Ext(base))
}
