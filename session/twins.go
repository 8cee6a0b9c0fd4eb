package session

import "slices"

// Twin is an earlier row that begins like this one.
type Twin struct {
	Row     int  `json:"row"`      // from 1
	PartsAt int  `json:"parts_at"` // the stitch of the repeat at which they part, from 1; 0 when alike throughout
	Caught  bool `json:"-"`        // alike throughout, its catches too
}

// twin finds the twin of a row among the rows of its chart below it, in the same
// copy upward.
func (p *Piece) twin(row int) *Twin {
	r := p.Row(row)
	c := p.Layout.Charts[r.Part]
	if c == nil {
		return nil
	}
	first := row - r.ChartRow // the row before the copy's first
	lowest := r.ChartRow      // of the chart; rows below a change of chart are not of it
	for lowest > 1 && p.Row(first+lowest-1).Part == r.Part {
		lowest--
	}
	other, partsAt := c.Twin(r.ChartRow, lowest, func(chartRow int) bool {
		return chartRow >= lowest && p.Row(first+chartRow).FromLeft
	})
	if other == 0 {
		return nil
	}
	alike := partsAt == 0 && slices.Equal(p.Shown(row), p.Shown(first+other))
	return &Twin{Row: first + other, PartsAt: partsAt, Caught: alike}
}
