package chart

import "fmt"

// Warning says that a row uses up another number of stitches than the row below left. The
// chart can be worked all the same: stitches may come from elsewhere, or rest.
type Warning struct {
	Row  int `json:"row"`  // from 1; the row below is Row-1
	Uses int `json:"uses"` // stitches the row uses up
	Left int `json:"left"` // stitches the row below leaves
}

// String is the warning as a sentence without a stop.
func (w Warning) String() string {
	return fmt.Sprintf("row %d uses up %s, but row %d leaves %d", w.Row, Counted(w.Uses, "stitch"), w.Row-1, w.Left)
}

// Warnings returns all warnings, lowest row first.
func (c *Chart) Warnings() []Warning {
	var warnings []Warning
	left := 0
	for row := 1; row <= c.Height(); row++ {
		uses, leaves := c.StitchSums(row)
		if row > 1 && uses != left {
			warnings = append(warnings, Warning{row, uses, left})
		}
		left = leaves
	}
	return warnings
}

// StitchSums returns the stitches that one repeat of a row, from 1, uses up and leaves.
func (c *Chart) StitchSums(row int) (uses, leaves int) {
	for _, cell := range c.Cells(row) {
		if !cell.IsEmpty() {
			uses += cell.Technique.Uses()
			leaves += cell.Technique.Makes()
		}
	}
	return uses, leaves
}
