package cmd

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"strandwise/chart"
	"strandwise/cmd/frame"
	"strandwise/cmd/render"
	"strandwise/cmd/stored"
)

// pictureOptions are the flags of chart import.
type pictureOptions struct {
	columns, rows int
	cell          string
	yarns         int
	title         string
	like          string
	crop          bool
	blank         string
	out           string
	force, dryRun bool
}

func newChartImport(a *frame.App) *cobra.Command {
	o := &pictureOptions{}
	c := a.Leaf(frame.Spec{
		Use:   "import PICTURE|TABLE",
		Short: "make a chart from a picture or a table",
		Long: "Makes a chart file from a picture (PNG, JPEG or GIF) or a table (CSV). A picture of one pixel a stitch is taken exactly. In a larger one each stitch is a cell: give --column-count and --row-count, or --cell, or let the grid be found. The colors are gathered into yarns, and what is transparent is an empty cell.\n\n" +
			"A table has one line for each row, the top row first, with a symbol or a color as #RRGGBB in each cell.\n\n" +
			"What was found is shown first. Where something was guessed you are asked before the chart is written, unless --yes is given.",
		Examples: []string{
			"strandwise chart draw example:lantern-band --bare --cell 12x10 -o lanterns.png",
			"strandwise chart import lanterns.png --cell 12x10 -o lanterns.chart",
		},
		Least: 1, Most: 1, JSON: true,
	}, func(ctx context.Context, args []string) error { return runChartImport(ctx, a, o, args[0]) })
	set := c.Flags()
	set.IntVar(&o.columns, "column-count", 0, "how many stitches across the picture is: `N` (default: found)")
	set.IntVar(&o.rows, "row-count", 0, "how many rows: `N` (default: found)")
	a.RenamedFlags(set, map[string]string{"columns": "column-count", "rows": "row-count"})
	set.StringVar(&o.cell, "cell", "", "pixels from one stitch to the next and from one row to the next: `WxH` (default: found)")
	set.IntVar(&o.yarns, "yarns", 0, fmt.Sprintf("how many yarns to gather the colors into, at most %d: `N` (default: as many as are clearly apart, at most 8)", chart.MaxImportYarns))
	set.BoolVar(&o.crop, "crop", false, "find the chart in a larger picture first")
	set.StringVar(&o.blank, "blank", "", "the yarn of transparent cells, its symbol, name or color: `YARN` (default: no stitch, and asked)")
	set.StringVar(&o.title, "title", "", "title of the chart: `TEXT` (default: the name of the file)")
	set.StringVar(&o.like, "yarns-of", "", "a chart file whose yarns the symbols of a table stand for: `FILE`")
	set.StringVarP(&o.out, "output", "o", "", "the chart file to write: `FILE`; - is standard output (default: the name of the picture, ending in .chart)")
	set.BoolVar(&o.force, "force", false, "replace a file that is there")
	set.BoolVar(&o.dryRun, "dry-run", false, "show what would be made and write nothing")
	return c
}

func runChartImport(ctx context.Context, a *frame.App, o *pictureOptions, name string) error {
	data, title, err := a.ReadInput(ctx, name)
	if err != nil {
		return err
	}
	c, report, err := o.read(ctx, a, title, data)
	if err != nil {
		return err
	}
	preview := &render.Import{Name: title, Chart: c, Report: report}
	if a.Flags.JSON {
		return o.answer(ctx, a, name, preview)
	}
	if o.dryRun {
		return render.WriteImport(a.Out, preview, look(a))
	}
	if err := o.agree(ctx, a, preview); err != nil {
		return err
	}
	return writeChart(a, ctx, o.target(name), o.force, c)
}

// read reads a picture by its first bytes, and anything else as a table.
func (o *pictureOptions) read(ctx context.Context, a *frame.App, title string, data []byte) (*chart.Chart, *chart.Report, error) {
	name := o.title
	if name == "" && title != frame.StdinTitle {
		name = stored.ChartName(title)
	}
	if len(data) == 0 {
		return nil, nil, importFault(title, fmt.Errorf("it is empty"))
	}
	if isTable(title, data) {
		return o.readTable(ctx, a, title, name, data)
	}
	options := chart.PictureOptions{Title: name, Columns: o.columns, Rows: o.rows, Yarns: o.yarns, Crop: o.crop, Blank: o.blank}
	if o.like != "" {
		return nil, nil, frame.Usage("--yarns-of is for tables, and %s is none", title).Hint("leave it out; rename the yarns in the chart file")
	}
	if o.columns < 0 || o.rows < 0 || o.yarns < 0 || o.yarns > chart.MaxImportYarns {
		return nil, nil, frame.Usage("--column-count and --row-count take a whole number from 1, --yarns one from 1 to %d", chart.MaxImportYarns).Hint("leave out what is not known")
	}
	if o.cell != "" {
		var err error
		if options.CellWidth, options.CellHeight, err = pixels("cell", o.cell); err != nil {
			return nil, nil, err
		}
		if o.columns > 0 || o.rows > 0 {
			return nil, nil, frame.Usage("--cell and --column-count or --row-count both say where the cells are").Hint("one of the two")
		}
	}
	c, report, err := chart.ImportPicture(data, options)
	if err == nil && report.Reading == chart.Drawn && o.title != "" {
		c.Title = o.title
		err = c.Validate()
	}
	return c, report, importFault(title, err)
}

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
	switch strings.ToLower(filepath.Ext(title)) {
	case ".csv", ".txt":
		return true
	case ".png", ".jpg", ".jpeg", ".gif", ".svg":
		return false
	}
	return !bytes.Contains(data[:min(len(data), 512)], []byte{0})
}

func (o *pictureOptions) readTable(ctx context.Context, a *frame.App, title, name string, data []byte) (*chart.Chart, *chart.Report, error) {
	options := chart.TableOptions{Title: name}
	if o.columns != 0 || o.rows != 0 || o.cell != "" || o.yarns != 0 || o.crop {
		return nil, nil, frame.Usage("--column-count, --row-count, --cell, --yarns and --crop are for pictures, and %s is a table", title).Hint("leave them out")
	}
	if o.like != "" {
		like, _, err := readChart(a, ctx, o.like)
		if err != nil {
			return nil, nil, err
		}
		options.Yarns = like.Yarns
	}
	c, report, err := chart.ImportCSV(data, options)
	return c, report, importFault(title, err)
}

// importFault is one line: the file and what is wrong; what to do stands behind the
// semicolon of the reader's message.
func importFault(title string, err error) error {
	if err == nil {
		return nil
	}
	what, advice, parted := strings.Cut(err.Error(), "; ")
	f := frame.BadInput("%s: %s", title, what).Because(err)
	if !parted {
		advice = "another file, or save it anew as PNG or CSV"
	}
	return f.Hint("%s", advice)
}

// agree shows what was found and asks where something was guessed.
func (o *pictureOptions) agree(ctx context.Context, a *frame.App, preview *render.Import) error {
	if a.Display().Quiet && (a.Flags.Yes || !preview.Guessed()) {
		return nil
	}
	var shown io.Writer = a.Err
	look := look(a)
	look.Paint = a.Display().PaintErr
	if err := render.WriteImport(shown, preview, look); err != nil {
		return err
	}
	if !preview.Guessed() {
		return nil
	}
	return a.Confirm(ctx, "write this chart")
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

// answer writes the file, unless for trial, and the JSON of what was found.
func (o *pictureOptions) answer(ctx context.Context, a *frame.App, name string, preview *render.Import) error {
	out := o.target(name)
	if out == frame.FromStdin {
		return frame.Usage("--json and the chart cannot both go to standard output").Hint("-o FILE")
	}
	if !o.dryRun {
		if preview.Guessed() {
			if err := a.Confirm(ctx, "write this chart"); err != nil {
				return err
			}
		}
		if err := writeChart(a, ctx, out, o.force, preview.Chart); err != nil {
			return err
		}
	}
	return a.AnswerJSON(1, render.ImportBody(preview, out, !o.dryRun))
}
