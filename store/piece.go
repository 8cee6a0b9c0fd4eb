package store

import (
	"bytes"
	"cmp"
	"crypto/rand"
	"slices"

	"go.etcd.io/bbolt"
)

func (tx *Tx) heads() (all []listed) {
	c := tx.btx.Bucket(bucketHeads).Cursor()
	for k, v := c.First(); k != nil; k, v = c.Next() {
		h, _ := decodeHead(k, v) // as it could be when the transaction began
		all = append(all, h)
	}
	return all
}

func (tx *Tx) head(id PieceID) (listed, error) {
	k := key(uint64(id))
	h, found := decodeHead(k, tx.btx.Bucket(bucketHeads).Get(k))
	if !found {
		return h, ErrNoPiece
	}
	return h, nil
}

func (tx *Tx) putHead(h listed) error {
	k := key(uint64(h.id))
	h.Format = valueFormat
	return tx.put(tx.btx.Bucket(bucketHeads), k, encode(k, h.pieceHead, nil))
}

// Pieces lists all pieces in the order they were made.
func (tx *Tx) Pieces() (ids []PieceID) {
	for _, h := range tx.heads() {
		ids = append(ids, h.id)
	}
	return ids
}

func (tx *Tx) pieceOf(uid UID) (PieceID, error) {
	heads := tx.heads()
	i := slices.IndexFunc(heads, func(h listed) bool { return h.UID == uid })
	if i < 0 {
		return 0, ErrNoPiece
	}
	return heads[i].id, nil
}

// NewPiece makes a piece with an empty log. The info is kept as it is.
func (tx *Tx) NewPiece(info []byte) (PieceID, error) {
	var uid UID
	_, _ = rand.Read(uid[:]) // it never fails
	return tx.newPiece(0, uid, info)
}

// newPiece makes a piece under the number asked for, or the next one where that was passed.
func (tx *Tx) newPiece(asked PieceID, uid UID, info []byte) (PieceID, error) {
	pieces, err := tx.bucket(bucketPieces)
	if err != nil {
		return 0, err
	}
	n := max(uint64(asked), pieces.Sequence()+1)
	if err := pieces.SetSequence(n); err != nil {
		return 0, err
	}
	if last, _ := tx.btx.Bucket(bucketHeads).Cursor().Last(); bytes.Compare(last, key(n)) >= 0 {
		return 0, damaged("the number for a new piece, %d, is taken", n)
	}
	b, err := pieces.CreateBucket(key(n))
	if err != nil {
		return 0, damaged("piece %d is there but not listed", n)
	}
	_, err = b.CreateBucket(keyLog)
	h := listed{id: PieceID(n), pieceHead: pieceHead{UID: uid}}
	return h.id, cmp.Or(err, tx.putInfo(openPiece{listed: h, bucket: b}, info))
}

// Info is what was kept with a piece.
func (tx *Tx) Info(id PieceID) ([]byte, error) {
	p, err := tx.piece(id)
	if err != nil {
		return nil, err
	}
	value := p.bucket.Get(keyInfo)
	info, uid, ok := decodeInfo(value)
	if !ok || uid != p.UID || crcOf(value) != p.Info {
		return nil, damagedEvent(id, 0, "what is known of the piece does not match its checksum")
	}
	return info, nil
}

// SetInfo replaces what is kept with a piece.
func (tx *Tx) SetInfo(id PieceID, info []byte) error {
	if _, err := tx.Info(id); err != nil {
		return err
	}
	p, err := tx.logged(id)
	if err != nil {
		return err
	}
	return tx.putInfo(p, info)
}

func (tx *Tx) putInfo(p openPiece, info []byte) error {
	value := encode(keyInfo, infoHead{valueFormat, p.UID}, info)
	p.Info = crcOf(value)
	return cmp.Or(tx.putHead(p.listed), p.bucket.Put(keyInfo, value))
}

// RemovePiece takes out a piece and its log. Its number is not given to another.
func (tx *Tx) RemovePiece(id PieceID) error {
	if _, err := tx.logged(id); err != nil {
		return err
	}
	k := key(uint64(id))
	return cmp.Or(tx.btx.Bucket(bucketPieces).DeleteBucket(k), tx.remove(tx.btx.Bucket(bucketHeads), k))
}

type openPiece struct {
	listed
	bucket, log *bbolt.Bucket
}

func (tx *Tx) piece(id PieceID) (p openPiece, err error) {
	if p.listed, err = tx.head(id); err != nil {
		return p, err
	}
	pieces, err := tx.bucket(bucketPieces)
	if err != nil {
		return p, err
	}
	p.bucket = pieces.Bucket(key(uint64(id)))
	return p, tx.sound(id, p.bucket, "the piece is listed but not there")
}

func (tx *Tx) logged(id PieceID) (openPiece, error) {
	p, err := tx.piece(id)
	if err != nil {
		return p, err
	}
	p.log = p.bucket.Bucket(keyLog)
	return p, tx.sound(id, p.log, "the log of the piece is missing")
}

func (tx *Tx) sound(id PieceID, b *bbolt.Bucket, missing string) error {
	if b == nil {
		return damagedEvent(id, 0, "%s", missing)
	}
	fault := tx.fault(b)
	if e, ok := fault.(*Error); ok && e.Piece == 0 {
		e.Piece = id
	}
	return fault
}
