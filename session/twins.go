package session

// Twin is an earlier row that begins like this one.
type Twin struct {
	Row     int // from 1
	PartsAt int // the stitch of the repeat at which they part, from 1; 0 when alike throughout
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
	other, partsAt := c.Twin(r.ChartRow, func(chartRow int) bool {
		at := first + chartRow
		return at >= 1 && p.Row(at).FromLeft
	})
	if other == 0 {
		return nil
	}
	return &Twin{Row: first + other, PartsAt: partsAt}
}
