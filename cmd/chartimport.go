package cmd

import (
	"fmt"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"strandwise/chart"
	"strandwise/chart/picture"
	"strandwise/cmd/answer"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
)

// pictureOptions are the flags of chart import.
type pictureOptions struct {
	columns, rows int
	cell          string
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
	set.StringVar(&o.cell, "cell", "", "pixels from one stitch to the next and from one row to the next: `WxH` (default: found)")
	set.IntVar(&o.yarns, "yarns", 0, fmt.Sprintf("how many yarns to gather the colors into, at most %d: `N` (default: as many as are clearly apart, at most 8)", picture.MaxYarns))
	set.BoolVar(&o.crop, "crop", false, "find the chart in a larger picture first")
	set.StringVar(&o.title, "title", "", "title of the chart: `TEXT` (default: the name of the file)")
	set.StringVar(&o.like, "yarns-of", "", "a chart file whose yarns to use, each color becoming the nearest: `FILE`")
	set.StringVar(&o.blank, "blank", "", "what a blank cell of a table or a transparent one of a picture is, as it would stand in a table: `YARN`, or "+picture.NoStitch+" (default: asked)")
	set.StringVarP(&o.out, "output", "o", "", "the chart file to write: `FILE`; - is standard output (default: the name of the picture, ending in .chart)")
	set.BoolVar(&o.force, "force", false, "replace a file that is there")
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
	if o.cell != "" {
		var err error
		if options.CellWidth, options.CellHeight, err = pixels("cell", o.cell); err != nil {
			return nil, nil, err
		}
		if o.columns > 0 || o.rows > 0 {
			return nil, nil, frame.Usage("--cell and --column-count or --row-count both say where the cells are").Hint("one of the two")
		}
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
