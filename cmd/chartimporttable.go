package cmd

import (
	"bytes"
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"strandwise/chart"
	"strandwise/chart/picture"
	"strandwise/cmd/document"
	"strandwise/cmd/frame"
)

// pictureSigns are the first bytes of the pictures that are read (the formats' own
// specifications).
var pictureSigns = []string{"\x89PNG", "\xff\xd8", "GIF8", "<?xml", "<svg"}

// isTable tells a table by the ending of its name; without a known one by its bytes.
func isTable(title string, data []byte) bool {
	for _, sign := range pictureSigns {
		if bytes.HasPrefix(data, []byte(sign)) {
			return false
		}
	}
	if bytes.HasPrefix(data, []byte("\xff\xfe")) || bytes.HasPrefix(data, []byte("\xfe\xff")) {
		return true // UTF-16 text
	}
	switch strings.ToLower(filepath.Ext(title)) {
	case ".csv", ".tsv", ".tab", ".txt":
		return true
	case ".png", ".jpg", ".jpeg", ".gif", ".svg":
		return false
	}
	return !bytes.Contains(data[:min(len(data), 512)], []byte{0})
}

// knownYarns are those of the chart whose yarns are to be used, nil where none is.
func (o *pictureOptions) knownYarns(a *frame.App) ([]chart.Yarn, error) {
	if o.like == "" {
		return nil, nil
	}
	like, _, err := readChart(a, o.like)
	if err != nil {
		return nil, err
	}
	return like.Yarns, nil
}

// readTable reads a table, and asks what its blank cells are.
func (o *pictureOptions) readTable(a *frame.App, title string, data []byte, options picture.TableOptions) (*chart.Chart, *picture.Report, error) {
	if o.columns != 0 || o.rows != 0 || o.cell != (pair{}) || o.yarns != 0 || o.crop {
		return nil, nil, frame.Usage("--column-count, --row-count, --cell, --yarns and --crop are for pictures, and %s is a table", title).Hint("leave them out")
	}
	c, report, err := picture.ImportTable(data, options)
	if blank := (*picture.BlankError)(nil); errors.As(err, &blank) {
		if options.Blank, err = askBlank(a, title, blank); err != nil {
			return nil, nil, err
		}
		c, report, err = picture.ImportTable(data, options)
	}
	return c, report, importFault(title, err)
}

// askBlank asks which yarn the blank cells of a table are. Without a terminal, and without
// an answer, the table is refused.
func askBlank(a *frame.App, title string, blank *picture.BlankError) (string, error) {
	refused := frame.BadInput("%s: %v", title, blank).Because(blank).
		Hint("--blank YARN, as it would stand in a cell, or --blank %s", picture.NoStitch)
	if !a.CanAsk() {
		return "", refused
	}
	a.WarnBefore(document.Document{Blocks: []document.Block{document.Line{Text: document.Words(fmt.Sprintf("%s: %v.", title, blank))}}})
	answer, err := a.Ask("Which yarn are blank cells? Its symbol, color or name, or " + picture.NoStitch + ": ")
	if err == nil && answer == "" {
		err = refused
	}
	return answer, err
}

// near refuses, where nobody can be asked, colors that are near none of the yarns they were to
// be; the preview tells of them where somebody can.
func (o *pictureOptions) near(a *frame.App, title string, taken []picture.Match) error {
	if o.dryRun || a.Flags.Yes || a.CanAsk() {
		return nil
	}
	for _, m := range taken {
		if m.Far() {
			return frame.BadInput("%s: no yarn of %s is near %s %s: the nearest is %s, %.1f away, and %d is where colors can be told apart",
				title, o.like, m.From.Name, m.From.Color, m.To.Name, m.DeltaE, chart.AlikeDeltaE).
				Hint("--yes, to take it for %s all the same", m.To.Name).
				Hint("without --yarns-of; then strandwise chart turn --yarn, which maps and renames yarns")
		}
	}
	return nil
}
