package session

import (
	"fmt"
	"regexp"
	"strconv"

	"strandwise/floats"
)

// PlaceOf is the place of a stitch counted over the whole row, from 1.
func (p *Piece) PlaceOf(row, stitch int) Place { return placeIn(stitch, p.Row(row).RepeatStitches()) }

// PlaceWords tells a stitch of a row: "repeat 3, stitch 9", or "stitch 9" where the row has
// one repeat.
func (p *Piece) PlaceWords(row, stitch int) string {
	at := p.PlaceOf(row, stitch)
	if p.Row(row).Repeats == 1 {
		return fmt.Sprintf("stitch %d", at.Stitch)
	}
	return fmt.Sprintf("repeat %d, stitch %d", at.Repeat, at.Stitch)
}

// PlaceError tells that a place in the row to work cannot be what was given.
type PlaceError struct {
	What  string
	Try   string // the place to give instead, or the command; may be empty
	Wrong bool   // it is not written as places are
}

func (e *PlaceError) Error() string { return e.What }

var placeForm = regexp.MustCompile(`^(\d{1,7})?(?:@(\d{1,7}))?$`)

// ParsePlace reads how far the row to work is: the stitches worked so far over the whole
// row ("38"), those of one repeat and all before it ("14@3"), or the repeats done ("@3").
// There must be such a row. Errors are *PlaceError.
func (p *Piece) ParsePlace(word string) (stitch int, err error) {
	row := p.State.Row + 1
	r := p.Row(row)
	m := placeForm.FindStringSubmatch(word)
	if m == nil || word == "" {
		return 0, &PlaceError{What: fmt.Sprintf("pause takes how far the %s is, not %q", p.rowWord(), word), Try: p.placeForms(row), Wrong: true}
	}
	stitch, _ = strconv.Atoi(m[1])
	if m[2] != "" {
		rep, _ := strconv.Atoi(m[2])
		if m[1] == "" {
			stitch = r.RepeatStitches()
		}
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

// placeForms show how a place is given in a row.
func (p *Piece) placeForms(row int) string {
	text := "strandwise pause 14 after 14 stitches"
	if p.Row(row).Repeats > 1 {
		text += ", pause 4@2 after stitch 4 of repeat 2, pause @2 after repeat 2"
	}
	return text
}

// ColumnOf is the column of a stitch over all repeats, both from 1; 0 when the row has
// no such stitch.
func ColumnOf(r *floats.Row, stitch int) int {
	if stitch < 1 || stitch > r.Stitches() {
		return 0
	}
	n := r.RepeatStitches()
	return r.ColumnOf((stitch-1)/n, r.InOrder()[(stitch-1)%n].Column) + 1
}
