package store

import (
	"bytes"
	"io"
	"slices"

	"go.etcd.io/bbolt"
)

// The keys inside the bucket of a piece.
var (
	keyInfo = []byte("info")
	keyLog  = []byte("log")
)

// An info value is format 1, UID 8, the caller's bytes, CRC 4.
const (
	infoFormat = 1
	infoHead   = 9
)

// Pieces lists all pieces in the order they were made.
func (tx *Tx) Pieces() ([]PieceID, error) {
	heads := tx.heads()
	ids := make([]PieceID, len(heads))
	for i, h := range heads {
		ids[i] = h.id
	}
	return ids, nil
}

// UID is the identity of a piece in every store it is carried to.
func (tx *Tx) UID(id PieceID) (UID, error) {
	h, found := tx.head(id)
	if !found {
		return UID{}, ErrNoPiece
	}
	return h.uid, nil
}

// PieceOf finds the piece with a UID; ErrNoPiece when there is none.
func (tx *Tx) PieceOf(uid UID) (PieceID, error) {
	heads := tx.heads()
	i := slices.IndexFunc(heads, func(h pieceHead) bool { return h.uid == uid })
	if i < 0 {
		return 0, ErrNoPiece
	}
	return heads[i].id, nil
}

// NewPiece makes a piece with an empty log. The info is kept as it is.
func (tx *Tx) NewPiece(info []byte) (PieceID, error) {
	var uid UID
	if _, err := io.ReadFull(tx.store.options.Random, uid[:]); err != nil {
		return 0, tx.store.refused("cannot be given a new piece: no random numbers", err)
	}
	return tx.newPiece(0, uid, info)
}

// newPiece makes a piece with a known UID, under the number asked for where that is
// above all used so far, else under the next one.
func (tx *Tx) newPiece(asked PieceID, uid UID, info []byte) (PieceID, error) {
	if err := tx.change(); err != nil {
		return 0, err
	}
	pieces, err := tx.bucket(bucketPieces)
	if err != nil {
		return 0, err
	}
	if n := uint64(asked); n > pieces.Sequence()+1 {
		if err := pieces.SetSequence(n - 1); err != nil {
			return 0, err
		}
	}
	n, err := pieces.NextSequence()
	if err != nil {
		return 0, err
	}
	id := PieceID(n)
	if last, _ := tx.btx.Bucket(bucketHeads).Cursor().Last(); bytes.Compare(last, key(n)) >= 0 {
		return 0, damaged("the number for a new piece, %d, is taken", id)
	}
	b, err := pieces.CreateBucket(key(n))
	if err != nil {
		return 0, damaged("piece %d is there but not listed", id)
	}
	if _, err := b.CreateBucket(keyLog); err != nil {
		return 0, err
	}
	return id, tx.putInfo(b, pieceHead{id: id, uid: uid}, info)
}

// Info is what was kept with a piece; valid only inside the Tx.
func (tx *Tx) Info(id PieceID) ([]byte, error) {
	h, b, err := tx.piece(id)
	if err != nil {
		return nil, err
	}
	info, uid, crc, ok := decodeInfo(b.Get(keyInfo))
	if !ok || uid != h.uid || crc != h.info {
		return nil, damagedEvent(id, 0, "what is known of the piece does not match its checksum")
	}
	return info, nil
}

// decodeInfo reads an info value.
func decodeInfo(v []byte) (info []byte, uid UID, crc uint32, ok bool) {
	n := len(v) - 4
	if n < infoHead || v[0] != infoFormat {
		return nil, uid, 0, false
	}
	crc = big.Uint32(v[n:])
	return v[infoHead:n:n], UID(v[1:9]), crc, sumOf(keyInfo, v[:n]) == crc
}

// SetInfo replaces what is kept with a piece.
func (tx *Tx) SetInfo(id PieceID, info []byte) error {
	if err := tx.change(); err != nil {
		return err
	}
	if _, err := tx.Info(id); err != nil {
		return err
	}
	h, b, err := tx.piece(id)
	if err != nil {
		return err
	}
	return tx.putInfo(b, h, info)
}

// putInfo writes an info value and its checksum into the head.
func (tx *Tx) putInfo(b *bbolt.Bucket, h pieceHead, info []byte) error {
	v := make([]byte, 0, infoHead+len(info)+4)
	v = append(v, infoFormat)
	v = append(v, h.uid[:]...)
	v = append(v, info...)
	h.info = sumOf(keyInfo, v)
	if err := tx.putHead(h); err != nil {
		return err
	}
	return b.Put(keyInfo, big.AppendUint32(v, h.info))
}

// RemovePiece takes a piece and its whole log out of the store. Its number is not
// given to another. Backups made before still hold it.
func (tx *Tx) RemovePiece(id PieceID) error {
	if err := tx.change(); err != nil {
		return err
	}
	if _, _, err := tx.log(id); err != nil {
		return err
	}
	pieces, err := tx.bucket(bucketPieces)
	if err != nil {
		return err
	}
	if err := pieces.DeleteBucket(key(uint64(id))); err != nil {
		return err
	}
	return tx.btx.Bucket(bucketHeads).Delete(key(uint64(id)))
}

// ReplaceLog puts other events in the place of a piece's log, numbered from 1 whatever
// their numbers say. The piece keeps its number, UID and info. It is there to mend a
// salvaged log; nothing else may rewrite what was logged.
func (tx *Tx) ReplaceLog(id PieceID, records []Record) error {
	if err := tx.change(); err != nil {
		return err
	}
	if _, _, err := tx.log(id); err != nil {
		return err
	}
	h, b, err := tx.piece(id)
	if err != nil {
		return err
	}
	if err := b.DeleteBucket(keyLog); err != nil {
		return err
	}
	if _, err := b.CreateBucket(keyLog); err != nil {
		return err
	}
	h.tail = Mark{}
	if err := tx.putHead(h); err != nil {
		return err
	}
	for _, r := range records {
		if _, err := tx.Append(id, r); err != nil {
			return err
		}
	}
	return nil
}

// piece finds the head and the bucket of a piece.
func (tx *Tx) piece(id PieceID) (pieceHead, *bbolt.Bucket, error) {
	h, found := tx.head(id)
	if !found {
		return pieceHead{}, nil, ErrNoPiece
	}
	pieces, err := tx.bucket(bucketPieces)
	if err != nil {
		return pieceHead{}, nil, err
	}
	b := pieces.Bucket(key(uint64(id)))
	if b == nil {
		return pieceHead{}, nil, damagedEvent(id, 0, "the piece is listed but not there")
	}
	return h, b, blame(id, tx.fault(b))
}

// blame names the piece a fault of a page was found in.
func blame(id PieceID, fault error) error {
	if e, ok := fault.(*Error); ok && e.Piece == 0 {
		e.Piece = id
	}
	return fault
}
