package cmd

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"net/http"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"strandwise/chart"
	"strandwise/chart/picture"
	"strandwise/cmd/answer"
	"strandwise/cmd/document"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
)

type pictureOptions struct {
	picture.Options
	cell   twoCounts // pixels; zero where none is given
	like   string
	out    outFile
	dryRun bool
}

func newChartImport(a *frame.App) *cobra.Command {
	o := &pictureOptions{}
	c := a.Leaf(frame.Spec{Use: "import PICTURE|TABLE", JSON: true}, o.run)
	set := c.Flags()
	set.IntVar(&o.Columns, "column-count", 0, "how many stitches across the picture is: `N` (default: found)")
	set.IntVar(&o.Rows, "row-count", 0, "how many rows: `N` (default: found)")
	set.Func("cell", "pixels from one stitch to the next and from one row to the next: `WxH` (default: found)", readInto(&o.cell, pixels))
	set.IntVar(&o.Yarns, "yarns", 0, fmt.Sprintf("how many yarns to gather the colors into, at most %d: `N` (default: as many as are clearly apart, at most 8)", picture.MaxYarns))
	set.BoolVar(&o.Crop, "crop", false, "find the chart in a larger picture first")
	set.StringVar(&o.Title, "title", "", "title of the chart: `TEXT` (default: the name of the file)")
	set.StringVar(&o.like, "yarns-of", "", "a chart file whose yarns to use, each color becoming the nearest: `FILE`")
	set.StringVar(&o.Blank, "blank", "", "what a blank cell of a table or a transparent one of a picture is, as it would stand in a table: `YARN`, or "+picture.NoStitch+" (default: asked)")
	o.out.add(set, "output", "o", "the chart file to write: `FILE`; - is standard output (default: the name of the picture, ending in .chart)")
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
	o.out.name = cmp.Or(o.out.name, beside(args[0]))
	preview.File, preview.Written = o.out.name, !o.dryRun
	if o.dryRun {
		return a.Answer(1, preview)
	}
	if asks := preview.Guessed() && !a.Flags.Yes; !a.Flags.JSON && (asks || !a.Display().Quiet) {
		a.Tell(preview.Document())
	}
	if preview.Guessed() {
		if err := a.Confirm("write this chart"); err != nil {
			return err
		}
	}
	if err := writeChart(a, &o.out, c); err != nil || !a.Flags.JSON {
		return err
	}
	return a.AnswerJSON(1, preview)
}

// read reads a picture by its first bytes, and anything else as a table.
func (o *pictureOptions) read(a *frame.App, title string, data []byte) (*chart.Chart, *picture.Report, error) {
	options := o.Options
	if o.Title == "" && title != frame.StdinTitle {
		options.Title = stored.ChartName(title)
	}
	if len(data) == 0 {
		return nil, nil, importFault(title, fmt.Errorf("it is empty"))
	}
	var yarns []chart.Yarn
	if o.like != "" {
		like, _, err := readChart(a, o.like)
		if err != nil {
			return nil, nil, err
		}
		yarns = like.Yarns
	}
	if isTable(title, data) {
		return o.readTable(a, title, data, picture.TableOptions{Title: options.Title, Yarns: yarns, Blank: o.Blank})
	}
	if min(o.Columns, o.Rows, o.Yarns) < 0 || o.Yarns > picture.MaxYarns {
		return nil, nil, frame.Usage("--column-count and --row-count take a whole number from 1, --yarns one from 1 to %d", picture.MaxYarns).Hint("leave out what is not known")
	}
	if i := chart.YarnNamed(yarns, o.Blank); i != chart.NoYarn {
		options.Blank = yarns[i].Color.String()
	}
	options.CellWidth, options.CellHeight = o.cell.across, o.cell.up
	if err := options.Check(); err != nil {
		return nil, nil, turnFault(err, "leave out --cell, or --column-count and --row-count")
	}
	c, report, err := picture.Import(data, options)
	if err == nil && report.Reading == picture.Drawn && o.Title != "" {
		c.Title = o.Title
		err = c.Validate()
	}
	if err == nil && len(yarns) > 0 {
		c, report.Taken = picture.TakeYarns(c, yarns)
	}
	return c, report, importFault(title, err)
}

// importFault is one line; what to do stands behind the semicolon of the reader's message.
func importFault(title string, err error) error {
	if err == nil {
		return nil
	}
	what, advice, _ := strings.Cut(err.Error(), "; ")
	return frame.BadInput("%s: %s", title, what).Because(err).Hint("%s", cmp.Or(advice, "another file, or save it anew as PNG or CSV"))
}

// beside is the chart file that a picture is written to where none is named.
func beside(picture string) string {
	if picture == frame.FromStdin {
		return frame.FromStdin
	}
	return strings.TrimSuffix(picture, filepath.Ext(picture)) + ".chart"
}

// isTable tells a table from a picture by its first bytes (net/http.DetectContentType; an SVG is text
// that begins with its tag); what these do not tell, the ending of its name does.
func isTable(title string, data []byte) bool {
	kind, ending := http.DetectContentType(data), strings.ToLower(filepath.Ext(title))
	if strings.HasPrefix(kind, "image/") || strings.HasPrefix(kind, "text/xml") || bytes.HasPrefix(data, []byte("<svg")) {
		return false
	}
	isText := strings.HasPrefix(kind, "text/") && !slices.Contains([]string{".png", ".jpg", ".jpeg", ".gif", ".svg"}, ending)
	return isText || slices.Contains([]string{".csv", ".tsv", ".tab", ".txt"}, ending)
}

func (o *pictureOptions) readTable(a *frame.App, title string, data []byte, options picture.TableOptions) (*chart.Chart, *picture.Report, error) {
	if o.Options != (picture.Options{Title: o.Title, Blank: o.Blank}) || o.cell != (twoCounts{}) {
		return nil, nil, frame.Usage("--column-count, --row-count, --cell, --yarns and --crop are for pictures, and %s is a table", title).Hint("leave them out")
	}
	c, report, err := picture.ImportTable(data, options)
	if blank, is := errors.AsType[*picture.BlankError](err); is {
		if options.Blank, err = askBlank(a, title, blank); err != nil {
			return nil, nil, err
		}
		c, report, err = picture.ImportTable(data, options)
	}
	return c, report, importFault(title, err)
}

// askBlank asks which yarn blank cells are; without an answer the table is refused.
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
