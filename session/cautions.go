package session

// What a knitter is warned of where strands lie inside an item for babies, hands or
// feet (common practice; health bodies' own rules come first). They stand at the
// cast-on, at the first row of a part, on cards and in the review.
var strandCautions = []string{
	"Loose strands inside have injured babies' fingers and toes. More catches do not remove the hazard, and no spacing is offered as enough.",
	"For babies' hands and feet choose a pattern without floats, or line the item.",
	"Turn the item inside out and look before each use. A swollen or discolored finger or toe: medical help at once.",
	"Local rules apply to what is sold or given away.",
}

// HandCautions are for the knitter's own hands.
var HandCautions = []string{
	"Pause now and then and let the hands rest.",
	"Pain, tingling or numbness: stop; if it stays, ask a doctor or therapist.",
}

// Cautions gives the warnings that go with an item, none for most.
func (i Item) Cautions() []string {
	if !i.Wary() {
		return nil
	}
	return strandCautions
}

// cautionsAt gives the cautions of a row: at the first of each part.
func (p *Piece) cautionsAt(row int) []string {
	if !p.partPlace(row).Begins {
		return nil
	}
	return p.State.Setup.Item.Cautions()
}
