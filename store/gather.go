package store

import "slices"

// gather reads everything but the cache, holds every part against what vouches for it, and
// notes what is wrong. What it gives is good after the transaction too.
func (tx *Tx) gather(note func(error)) *Parcel {
	p := &Parcel{}
	for _, h := range tx.heads() {
		p.Pieces = append(p.Pieces, tx.gatherPiece(h, note))
	}
	if err := tx.sameTally(tallyCharts); err != nil {
		note(err)
	}
	if b, err := tx.bucket(bucketCharts); err == nil {
		c := b.Cursor()
		for k, chart := c.First(); k != nil; k, chart = c.Next() {
			if len(k) != len(Hash{}) {
				note(damaged("a stored chart has no proper name"))
				continue
			}
			if err := soundChart(Hash(k), chart); err != nil {
				note(err)
			}
			p.Charts = append(p.Charts, ParcelChart{Hash: Hash(k), Bytes: slices.Clone(chart)})
		}
	}
	if err := tx.sameTally(tallySettings); err != nil {
		note(err)
		return p
	}
	p.Settings = tx.settings()
	return p
}

func (tx *Tx) gatherPiece(h listed, note func(error)) *ParcelPiece {
	info, err := tx.Info(h.id)
	if err != nil {
		note(err)
	}
	p := &ParcelPiece{UID: h.UID, Info: slices.Clone(info)}
	for r, err := range tx.Records(h.id) {
		if err != nil {
			note(err)
			continue
		}
		r.Payload = slices.Clone(r.Payload)
		p.Records = append(p.Records, r)
	}
	return p
}
