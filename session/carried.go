package session

// Carried reports whether a yarn is carried behind a stitch of a row, so that it can be
// caught there. Stitches count over the whole row, from 1; a yarn is an index into the
// fabric's. Behind a row the piece does not have none is carried.
func (p *Piece) Carried(row, stitch, yarn int) bool {
	return row >= 1 && row <= p.Rows() && p.passing(row).under(yarn, stitch) >= 0
}
