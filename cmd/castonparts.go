package cmd

import (
	"context"
	"crypto/sha256"
	"fmt"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"

	"strandwise/chart"
	"strandwise/floats"
	"strandwise/session"
)

// partRead is a part as it was named on the command line, with its chart.
type partRead struct {
	ref   session.PartRef
	chart *chart.Chart // nil for plain rows
	bytes []byte       // of the chart file
	title string       // of the file in messages
}

// partMost is the most repeats, copies or plain rows that a part can name.
const partMost = 100_000

// copies is what may follow a chart file: @12 or @12x2.
var copies = regexp.MustCompile(`^(.+)@(\d+)(?:x(\d+))?$`)

// plainRows is a symbol and a number of rows.
var plainRows = regexp.MustCompile(`^([^\d,:@#]):(\d+)$`)

// readParts reads the parts of a piece, charts included.
func (a *app) readParts(ctx context.Context, words []string) ([]partRead, error) {
	parts := make([]partRead, len(words))
	for i, word := range words {
		var err error
		if parts[i], err = a.readPart(ctx, word); err != nil {
			return nil, err
		}
	}
	namePlain(parts)
	laid := make([]floats.Part, len(parts))
	for i, p := range parts {
		laid[i] = p.ref.Part(p.chart)
	}
	return parts, floats.CheckSize(laid)
}

func (a *app) readPart(ctx context.Context, word string) (partRead, error) {
	if m := plainRows.FindStringSubmatch(word); m != nil {
		rows, err := partCount(word, "rows", m[2])
		symbol, _ := utf8.DecodeRuneInString(m[1])
		return partRead{ref: session.PartRef{Plain: symbol, Rows: rows}}, err
	}
	if symbol, rest, ok := strings.Cut(word, ":"); ok && utf8.RuneCountInString(symbol) == 1 && !strings.ContainsAny(rest, `/\.`) {
		return partRead{}, usage("part %s: after a symbol and a colon comes a number of plain rows", word).hint("%s:4", symbol)
	}
	return a.readChartPart(ctx, word)
}

func (a *app) readChartPart(ctx context.Context, word string) (partRead, error) {
	file, repeats, times := word, 1, 1
	if m := copies.FindStringSubmatch(word); m != nil {
		var err error
		file = m[1]
		if repeats, err = partCount(word, "repeats", m[2]); err != nil {
			return partRead{}, err
		}
		if m[3] != "" {
			if times, err = partCount(word, "times upward", m[3]); err != nil {
				return partRead{}, err
			}
		}
	} else if before, after, ok := strings.Cut(word, "@"); ok {
		return partRead{}, usage("part %s: after @ comes how often the chart stands in a round, then perhaps x and how often upward; %q is neither", word, after).
			hint("%s@12 or %s@12x2", before, before)
	}
	data, title, err := a.readInput(ctx, file)
	if err != nil {
		return partRead{}, err
	}
	c, err := chart.Parse(title, data)
	if err != nil {
		return partRead{}, err
	}
	name := c.Title
	if name == "" {
		name = chartName(title)
	}
	ref := session.PartRef{Name: name, Hash: sha256.Sum256(data), Repeats: repeats, Times: times, Rows: c.Height()}
	return partRead{ref, c, data, title}, nil
}

func partCount(word, what, digits string) (int, error) {
	n, err := strconv.Atoi(digits)
	if err != nil || n < 1 || n > partMost {
		return 0, usage("part %s: %s must be a whole number from 1 to %d, not %s", word, what, partMost, digits).hint("1 or more")
	}
	return n, nil
}

// namePlain names plain rows by their yarn, where a chart tells its name.
func namePlain(parts []partRead) {
	for i := range parts {
		ref := &parts[i].ref
		if ref.IsPlain() {
			ref.Name = fmt.Sprintf("plain %s", yarnNamed(parts, ref.Plain))
		}
	}
}

func yarnNamed(parts []partRead, symbol rune) string {
	for _, p := range parts {
		if p.chart == nil {
			continue
		}
		if y := p.chart.YarnIndex(symbol); y != chart.NoYarn {
			return p.chart.Yarns[y].Name
		}
	}
	return string(symbol)
}

func refs(parts []partRead) []session.PartRef {
	list := make([]session.PartRef, len(parts))
	for i, p := range parts {
		list[i] = p.ref
	}
	return list
}

// chartsOf finds the charts of parts that are not in the store yet.
func chartsOf(parts []partRead) session.Charts {
	return func(hash [32]byte) (*chart.Chart, error) {
		for _, p := range parts {
			if p.ref.Hash == hash && p.chart != nil {
				return p.chart, nil
			}
		}
		return nil, fmt.Errorf("no chart was read with the hash %x", hash)
	}
}

// chartName is the name of a chart file without its folder and ending.
func chartName(title string) string {
	base := filepath.Base(title)
	return strings.TrimSuffix(base, filepath.Ext(base))
}
