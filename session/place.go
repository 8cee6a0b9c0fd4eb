package session

import (
	"fmt"
	"regexp"
	"strconv"
)

// PlaceError tells that a place in the row to work cannot be what was given.
type PlaceError struct {
	What  string
	Try   string // the place to give instead, or the command; may be empty
	Wrong bool   // it is not written as places are
}

func (e *PlaceError) Error() string { return e.What }

var placeForm = regexp.MustCompile(`^(\d{1,7})(?:@(\d{1,7}))?$`)

// ParsePlace reads how far the row to work is: the stitches worked so far over the whole
// row ("38"), or those of one repeat and all before it ("14@3"). There must be such a row.
// Errors are *PlaceError.
func (p *Piece) ParsePlace(word string) (stitch int, err error) {
	row := p.State.Row + 1
	r := p.Row(row)
	m := placeForm.FindStringSubmatch(word)
	if m == nil {
		return 0, &PlaceError{What: fmt.Sprintf("pause takes the last stitch worked, not %q", word), Try: "strandwise pause 14, or 14@3 for stitch 14 of repeat 3", Wrong: true}
	}
	stitch, _ = strconv.Atoi(m[1])
	if m[2] != "" {
		rep, _ := strconv.Atoi(m[2])
		if rep < 1 || rep > r.Repeats || stitch > r.RepeatStitches() {
			what := fmt.Sprintf("%s %d has %s of %s, so there is no %s", p.rowWord(), row, plural(r.Repeats, "repeat"), plural(r.RepeatStitches(), "stitch"), word)
			return 0, &PlaceError{What: what, Try: "strandwise show"}
		}
		stitch += (rep - 1) * r.RepeatStitches()
	}
	switch n := r.Stitches(); {
	case stitch == n:
		return 0, &PlaceError{What: fmt.Sprintf("that is the whole %s, %s", p.rowWord(), plural(n, "stitch")), Try: "strandwise knit"}
	case stitch > n:
		what := fmt.Sprintf("%s %d has %s, so %d is too many", p.rowWord(), row, plural(n, "stitch"), stitch)
		return 0, &PlaceError{What: what, Try: fmt.Sprintf("strandwise pause %d", n-1)}
	}
	return stitch, nil
}
