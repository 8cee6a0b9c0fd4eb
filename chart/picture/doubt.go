package picture

import (
	"errors"

	"strandwise/chart"
)

// What a picture cannot tell is asked, or refused where no reading can be right: a chart in signs has no colors,
// transparent cells may be a yarn, and many doubtful cells mean that the grid lies elsewhere.

const (
	signedShare   = 0.10 // share of cells with a sign in them from which a chart may be one of signs
	coloredShare  = 0.02 // share of plain cells in other colors up to which it is
	allSigned     = 0.30 // share of cells with a sign in them from which it is, whatever the colors
	nearDeltaE    = 3.0  // CIEDE2000 of two yarns that may be one
	plainColors   = 2    // colors up to which a picture is not dithered
	doubtfulShare = 0.05 // share of doubtful cells from which the grid itself is doubted
)

// checkSigns refuses a chart drawn in signs, all on one color, and asks about signs in colored cells.
func checkSigns(cells [][]colorCell, c *chart.Chart, report *Report) error {
	all, signed, colored := 0, 0, 0
	ground := c.Yarns[0].Color.Lab()
	for _, row := range cells {
		for _, cell := range row {
			all++
			switch {
			case cell.signed:
				signed++
			case !cell.empty && chart.DeltaE(cell.color.Lab(), ground) > ApartDeltaE:
				colored++
			}
		}
	}
	switch {
	case float64(signed) < signedShare*float64(all):
	case float64(colored) <= coloredShare*float64(all) || report.Reading != GivenGrid && float64(signed) >= allSigned*float64(all):
		return errors.New("these are symbols, not colors: only pictures in the colors of the yarns are read; write the chart as a table with a symbol in each cell")
	default:
		report.ask("%d cells have something drawn in them, which was not read", signed)
	}
	return nil
}

func (r *Report) askAboutChart(c *chart.Chart, o Options) {
	if c.Empty != 0 && o.Blank == "" {
		r.ask("part of the picture is transparent, which was read as no stitch: if it is a yarn, --blank YARN")
	}
	if r.Reading == OnePixel && (r.Colors > MaxYarns || r.Colors > plainColors && max(r.Width, r.Height) > iconSide) {
		r.ask("each pixel was read as a stitch, in %d colors: if it is not, %s", r.Colors, giveGrid)
	}
	if len(c.Yarns) == 1 {
		r.ask("only one color was found")
	}
	if r.Reading != OnePixel && o.Yarns == 0 {
		for _, p := range c.Pairs() {
			if p.DeltaE < nearDeltaE {
				r.ask("%s and %s are nearly alike: if they are one yarn, --yarns %d", c.Yarns[p.A].Name, c.Yarns[p.B].Name, len(c.Yarns)-1)
				break
			}
		}
	}
	if all := r.Columns * r.Rows; float64(r.Doubtful) > doubtfulShare*float64(all) {
		r.ask("%d of %d cells are doubtful: the cells may lie elsewhere; crop the picture to the chart, or --crop", r.Doubtful, all)
	}
}
