package session

import (
	"slices"

	"strandwise/chart"
	"strandwise/floats"
)

// HeatMap is where on the chart of a part catches were made, over all its finished rows and all
// their repeats. A row of blocks is one repeat of each beside the other.
type HeatMap struct {
	Part   string  `json:"part"`
	Number int     `json:"number"` // of the part, from 1
	Rows   [][]int `json:"rows"`   // catches made by row of the chart, then by column; index 0 is row 1 and column 1

	Cells [][]chart.Cell `json:"-"` // the chart alike; yarns index those of the fabric
}

// HeatMaps counts the catches made, part by part, those with none left out, in time linear in the stitches.
func (p *Piece) HeatMaps() (hot []HeatMap) {
	maps := make([]HeatMap, len(p.Layout.Parts))
	for i, row := range p.Layout.Fabric.Rows {
		m := &maps[row.Part]
		m.know(row)
		if i < p.State.Row {
			for _, caught := range p.State.DoneRow(i + 1).Used {
				m.Rows[row.ChartRow-1][row.InOrder()[row.InPattern(caught.Stitch)].Column]++
			}
		}
	}
	for i, m := range maps {
		if _, _, most := m.Hottest(); most > 0 {
			from, _ := p.Layout.planOf(i)
			m.Part, m.Number = p.Layout.Parts[i].Title(), i-from+1
			hot = append(hot, m)
		}
	}
	return hot
}

// know makes room for a row of the chart, and for those below that a change of plan left out.
func (m *HeatMap) know(row floats.Row) {
	for len(m.Rows) < row.ChartRow {
		m.Rows = append(m.Rows, make([]int, len(row.Cells)))
		m.Cells = append(m.Cells, slices.Repeat([]chart.Cell{{Yarn: chart.NoYarn}}, len(row.Cells)))
	}
	at := row.ChartRow - 1
	if len(m.Rows[at]) != len(row.Cells) {
		m.Rows[at] = make([]int, len(row.Cells))
	}
	m.Cells[at] = row.Cells
}

// Hottest is the stitch with the most catches, row and column from 1, the first of several.
func (m *HeatMap) Hottest() (row, column, catches int) {
	for r, counts := range m.Rows {
		for c, n := range counts {
			if n > catches {
				row, column, catches = r+1, c+1, n
			}
		}
	}
	return row, column, catches
}
