package floats

import "fmt"

// The largest piece that is begun or tried: more than any hand knits. A larger one that is
// in a store already still opens.
const (
	MostRows     = 2_000
	MostStitches = 4_000_000 // over all repeats
)

// TooLargeError tells that parts make a piece of more rows or stitches than it may have.
type TooLargeError struct{ Rows, Stitches int }

func (e *TooLargeError) Error() string {
	if e.Rows > MostRows {
		return fmt.Sprintf("%d rows are more than the %d a piece may have", e.Rows, MostRows)
	}
	return fmt.Sprintf("%d stitches are more than the %d a piece may have", e.Stitches, MostStitches)
}

// CheckSize returns a *TooLargeError for parts that make too large a piece. It counts
// cells, and lays nothing out.
func CheckSize(parts []Part) error {
	width, rows, stitches := 1, 0, 0
	for _, p := range parts {
		n := p.Rows
		if p.Chart != nil {
			n, width = p.Chart.Height()*p.Times, p.Chart.Width()*p.Repeats
		}
		rows, stitches = rows+n, stitches+n*width
		if rows > MostRows || stitches > MostStitches {
			return &TooLargeError{rows, stitches}
		}
	}
	return nil
}
