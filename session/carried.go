package session

// Carried reports whether a yarn is carried behind a stitch of the row to work next,
// so that it can be caught there. Stitches count over the whole row, from 1; a yarn
// is an index into the fabric's. With no row left no yarn is carried.
func (p *Piece) Carried(stitch, yarn int) bool {
	return p.State.Row < p.Rows() && p.passing(p.State.Row+1).under(yarn, stitch) >= 0
}
