package session

import (
	"regexp"
	"strconv"
	"strings"

	"strandwise/floats"
)

// PlaceOf is the place of a stitch counted over the whole row, from 1.
func (p *Piece) PlaceOf(row, stitch int) floats.Place { return p.Row(row).PlaceOf(stitch) }

// PlaceWords tells a stitch of a row: "stitch 9", "repeat 3, stitch 9", "block 2, repeat 3, stitch 9".
func (p *Piece) PlaceWords(row, stitch int) string { return placeWords(p.Row(row).Course, stitch) }

var placeForm = regexp.MustCompile(`^(?:(\d{1,3})/)?(\d{1,7})?(?:@(\d{1,7}))?$`)

// placeSaid is a place of which block, stitch and repeat are given, or left empty.
func placeSaid(digits []string) floats.Place {
	var n [3]int
	for i := range n {
		n[i], _ = strconv.Atoi(digits[i])
	}
	return floats.Place{Block: n[0], Stitch: n[1], Repeat: n[2]}
}

// ParsePlace reads how far the row to work, which there must be, is: the stitches worked so far ("38"),
// those of one repeat and all before it ("14@3"), or the repeats done ("@3"); in a row of blocks behind the
// number of the block ("2/14@3", "2/14"). Errors are *RefusedError.
func (p *Piece) ParsePlace(word string) (stitch int, err error) {
	row := p.State.Row + 1
	r := p.Row(row)
	m := placeForm.FindStringSubmatch(word)
	if m == nil || m[2] == "" && m[3] == "" {
		e := refuse("pause takes how far the %s is, not %q", p.rowWord(), word).instead("%s", p.placeForms(row))
		e.Unreadable = true
		return 0, e
	}
	stitch = placeSaid(m[1:]).Stitch
	if m[1] != "" || m[3] != "" {
		if stitch, err = p.placeIn(row, word, m); err != nil {
			return 0, err
		}
	}
	switch n := r.Stitches(); {
	case stitch == n:
		return 0, refuse("that is the whole %s, %s", p.rowWord(), plural(n, "stitch")).instead("strandwise knit")
	case stitch > n:
		return 0, refuse("%s %d has %s, so %d is too many", p.rowWord(), row, plural(n, "stitch"), stitch).instead("strandwise pause %d", n-1)
	}
	return stitch, nil
}

// placeIn is the stitch over the whole row of a place given by block, stitch and repeat.
func (p *Piece) placeIn(row int, word string, m []string) (int, error) {
	r, at := p.Row(row), placeSaid(m[1:])
	b := r.Block(at.Block)
	if b == nil && at.Block == 0 {
		return 0, refuse("%s %d has %s: say which", p.rowWord(), row, plural(len(r.Blocks), "block")).
			instead("strandwise pause 2/%s", strings.TrimPrefix(word, "0/"))
	}
	if b == nil {
		return 0, refuse("%s %d has %s, so there is no %s", p.rowWord(), row, plural(len(r.Blocks), "block"), word).instead("strandwise show")
	}
	if m[2] == "" {
		at.Stitch = b.Stitches
	}
	if m[3] == "" {
		at.Repeat = 1
	}
	if at.Repeat < 1 || at.Repeat > b.Repeats || at.Stitch > b.Stitches {
		return 0, refuse("%s %d has %s of %s%s, so there is no %s",
			p.rowWord(), row, plural(b.Repeats, "repeat"), plural(b.Stitches, "stitch"), ofBlock(r.Course, b), word).instead("strandwise show")
	}
	return r.StitchAt(at), nil
}

func (p *Piece) placeForms(row int) string {
	text := "strandwise pause 14 after 14 stitches"
	switch r := p.Row(row); {
	case len(r.Blocks) > 1:
		text += ", pause 2/4@3 after stitch 4 of repeat 3 of block 2, pause 2/@3 after that repeat"
	case r.Repeats() > 1:
		text += ", pause 4@2 after stitch 4 of repeat 2, pause @2 after repeat 2"
	}
	return text
}

// ColumnOf is the column of a stitch over all repeats, both from 1; 0 when the row has no such stitch.
func ColumnOf(r *floats.Row, stitch int) int {
	if stitch < 1 || stitch > r.Stitches() {
		return 0
	}
	return r.Stitch(stitch).Column + 1
}
