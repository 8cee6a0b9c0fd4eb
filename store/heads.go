package store

import "slices"

// The heads of a thousand pieces are summed up as a transaction begins, to be held against
// the summary, but a step is about one or two of them: each is unpacked when it is asked
// for, and all only for a list.

// headChange is a head as it is to be written, or that it is to be taken out.
type headChange struct {
	pieceHead
	gone bool
}

// sumHeads adds up the heads of all pieces and holds them against the summary.
func (tx *Tx) sumHeads() error {
	b := tx.btx.Bucket(bucketHeads)
	if b == nil {
		return damaged("the part %q of the store is missing", bucketHeads)
	}
	var seen tally
	sum := func(k, v []byte) error {
		h, ok := parseHead(k, v)
		if !ok {
			return damaged("the head of a piece cannot be read")
		}
		seen.add(k, v)
		tx.newest = h.id
		return nil
	}
	if err := tx.eachHead(uint64(b.Root()), b.ForEach, sum); err != nil {
		return err
	}
	if seen != tx.summary.heads {
		return damaged("the list of pieces is not the one written last")
	}
	return nil
}

// eachHead goes through the heads while their pages are examined, or through a bucket that
// is kept inside its parent's page.
func (tx *Tx) eachHead(root uint64, inside func(func(k, v []byte) error) error, do func(k, v []byte) error) error {
	if root == 0 {
		return inside(do)
	}
	defer func() { tx.walker.leaf = nil }()
	tx.walker.leaf = func(_ uint64, page []byte) error {
		for i := range int(native.Uint16(page[10:])) {
			e, _ := leafElement(page, i)
			if err := do(e.key, e.value); err != nil {
				return err
			}
		}
		return nil
	}
	err := tx.walker.walk(root, walking{flat: true})
	tx.walked[root] = err
	return err
}

// head finds the head of a piece.
func (tx *Tx) head(id PieceID) (h pieceHead, found bool) {
	if c, changed := tx.changes[id]; changed {
		return c.pieceHead, !c.gone
	}
	k := key(uint64(id))
	return parseHead(k, tx.btx.Bucket(bucketHeads).Get(k))
}

// allHeads lists the heads by number. The list is not to be changed.
func (tx *Tx) allHeads() []pieceHead {
	if tx.heads != nil {
		return tx.heads
	}
	tx.heads = make([]pieceHead, 0, min(tx.summary.heads.count, 1<<16))
	c := tx.btx.Bucket(bucketHeads).Cursor()
	for k, v := c.First(); k != nil; k, v = c.Next() {
		h, _ := parseHead(k, v) // as it could be when they were summed up
		tx.heads = append(tx.heads, h)
	}
	for _, c := range tx.changes {
		tx.list(c)
	}
	return tx.heads
}

// putHead notes that the head of a piece is to be written.
func (tx *Tx) putHead(h pieceHead) {
	tx.newest = max(tx.newest, h.id)
	tx.changeHead(headChange{pieceHead: h})
}

// dropHead notes that a piece is to be listed no more.
func (tx *Tx) dropHead(id PieceID) { tx.changeHead(headChange{pieceHead{id: id}, true}) }

func (tx *Tx) changeHead(c headChange) {
	if tx.changes == nil {
		tx.changes = map[PieceID]headChange{}
	}
	tx.changes[c.id] = c
	if tx.heads != nil {
		tx.list(c)
	}
}

// list brings the list of heads up to date with a change.
func (tx *Tx) list(c headChange) {
	i, found := find(tx.heads, c.id)
	switch {
	case c.gone && found:
		tx.heads = slices.Delete(tx.heads, i, i+1)
	case c.gone:
	case found:
		tx.heads[i] = c.pieceHead
	default:
		tx.heads = slices.Insert(tx.heads, i, c.pieceHead)
	}
}

// flushHead writes one head, or takes it out with its piece.
func (tx *Tx) flushHead(c headChange) error {
	b := tx.btx.Bucket(bucketHeads)
	k := key(uint64(c.id))
	if old := b.Get(k); old != nil {
		tx.summary.heads.remove(k, old)
	}
	if c.gone {
		return b.Delete(k)
	}
	v := c.encode()
	tx.summary.heads.add(k, v)
	return b.Put(k, v)
}
