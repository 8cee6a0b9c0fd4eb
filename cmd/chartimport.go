package cmd

import (
	"bytes"
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"strandwise/chart"
	"strandwise/chart/picture"
	"strandwise/cmd/answer"
	"strandwise/cmd/document"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
)

// pictureOptions are the flags of chart import.
type pictureOptions struct {
	columns, rows int
	cell          pair // pixels; zero where none is given
	yarns         int
	title         string
	like, blank   string
	crop          bool
	out           string
	force, dryRun bool
}

func newChartImport(a *frame.App) *cobra.Command {
	o := &pictureOptions{}
	c := a.Leaf(frame.Spec{Use: "import PICTURE|TABLE", JSON: true}, o.run)
	set := c.Flags()
	set.IntVar(&o.columns, "column-count", 0, "how many stitches across the picture is: `N` (default: found)")
	set.IntVar(&o.rows, "row-count", 0, "how many rows: `N` (default: found)")
	set.Var(readInto(&o.cell, pixels), "cell", "pixels from one stitch to the next and from one row to the next: `WxH` (default: found)")
	set.IntVar(&o.yarns, "yarns", 0, fmt.Sprintf("how many yarns to gather the colors into, at most %d: `N` (default: as many as are clearly apart, at most 8)", picture.MaxYarns))
	set.BoolVar(&o.crop, "crop", false, "find the chart in a larger picture first")
	set.StringVar(&o.title, "title", "", "title of the chart: `TEXT` (default: the name of the file)")
	set.StringVar(&o.like, "yarns-of", "", "a chart file whose yarns to use, each color becoming the nearest: `FILE`")
	set.StringVar(&o.blank, "blank", "", "what a blank cell of a table or a transparent one of a picture is, as it would stand in a table: `YARN`, or "+picture.NoStitch+" (default: asked)")
	set.StringVarP(&o.out, "output", "o", "", "the chart file to write: `FILE`; - is standard output (default: the name of the picture, ending in .chart)")
	addForce(set, &o.force)
	set.BoolVar(&o.dryRun, "dry-run", false, "show what would be made and write nothing")
	return c
}

func (o *pictureOptions) run(a *frame.App, args []string) error {
	data, title, err := a.ReadInput(args[0])
	if err != nil {
		return err
	}
	c, report, err := o.read(a, title, data)
	if err != nil {
		return err
	}
	if err := o.near(a, title, report.Taken); err != nil {
		return err
	}
	preview := answer.NewImport(title, c, report)
	preview.File, preview.Written = o.target(args[0]), !o.dryRun
	if o.dryRun {
		return a.Answer(1, preview)
	}
	if err := o.agree(a, preview); err != nil {
		return err
	}
	if err := writeChart(a, preview.File, o.force, c); err != nil || !a.Flags.JSON {
		return err
	}
	return a.AnswerJSON(1, preview)
}

// read reads a picture by its first bytes, and anything else as a table.
func (o *pictureOptions) read(a *frame.App, title string, data []byte) (*chart.Chart, *picture.Report, error) {
	name := o.title
	if name == "" && title != frame.StdinTitle {
		name = stored.ChartName(title)
	}
	if len(data) == 0 {
		return nil, nil, importFault(title, fmt.Errorf("it is empty"))
	}
	yarns, err := o.knownYarns(a)
	if err != nil {
		return nil, nil, err
	}
	if isTable(title, data) {
		return o.readTable(a, title, data, picture.TableOptions{Title: name, Yarns: yarns, Blank: o.blank})
	}
	options := picture.Options{Title: name, Columns: o.columns, Rows: o.rows, Yarns: o.yarns, Crop: o.crop, Blank: o.blank}
	if i := chart.YarnNamed(yarns, o.blank); i != chart.NoYarn {
		options.Blank = yarns[i].Color.String()
	}
	if o.columns < 0 || o.rows < 0 || o.yarns < 0 || o.yarns > picture.MaxYarns {
		return nil, nil, frame.Usage("--column-count and --row-count take a whole number from 1, --yarns one from 1 to %d", picture.MaxYarns).Hint("leave out what is not known")
	}
	if options.CellWidth, options.CellHeight = o.cell.across, o.cell.up; o.cell != (pair{}) && (o.columns > 0 || o.rows > 0) {
		return nil, nil, frame.Usage("--cell and --column-count or --row-count both say where the cells are").Hint("one of the two")
	}
	c, report, err := picture.Import(data, options)
	if err == nil && report.Reading == picture.Drawn && o.title != "" {
		c.Title = o.title
		err = c.Validate()
	}
	if err == nil && len(yarns) > 0 {
		c, report.Taken = picture.TakeYarns(c, yarns)
	}
	return c, report, importFault(title, err)
}

// importFault is one line: the file and what is wrong; what to do stands behind the
// semicolon of the reader's message.
func importFault(title string, err error) error {
	if err == nil {
		return nil
	}
	what, advice, found := strings.Cut(err.Error(), "; ")
	f := frame.BadInput("%s: %s", title, what).Because(err)
	if !found {
		advice = "another file, or save it anew as PNG or CSV"
	}
	return f.Hint("%s", advice)
}

// agree shows what was found and asks where something was guessed.
func (o *pictureOptions) agree(a *frame.App, preview *answer.Import) error {
	if asks := preview.Guessed() && !a.Flags.Yes; !a.Flags.JSON && (asks || !a.Display().Quiet) {
		a.Tell(preview.Document())
	}
	if !preview.Guessed() {
		return nil
	}
	return a.Confirm("write this chart")
}

// target is the chart file to write.
func (o *pictureOptions) target(name string) string {
	switch {
	case o.out != "":
		return o.out
	case name == frame.FromStdin:
		return frame.FromStdin
	}
	return strings.TrimSuffix(name, filepath.Ext(name)) + chartEnding
}

// chartEnding is the ending of chart files.
const chartEnding = ".chart"

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
