package cmd

import (
	"encoding/binary"
	"encoding/hex"

	"strandwise/session"
	"strandwise/store"
)

// A long log is read event by event from many pages, each event held against its
// checksum, and folded. So that a step on a piece of 5,000 events takes hardly longer
// than on one of 50, the cache keeps a brief of the piece, made anew now and then. It
// says up to which event it goes and that event's checksum, which stands for all before
// it; the store finds that event in the log and reads on from there. A brief that does
// not fit the log, or is none, is passed over. Only the commands of every row read it:
// what tells of the whole log reads the whole log, and so does `store check`.
//
// What is kept is the number and the checksum of the mark, as varints, and the brief.

// briefEvery is how many events come between one brief and the next.
const briefEvery = 32

// briefName names the brief of a piece in the cache.
func briefName(tx *store.Tx, id store.PieceID) ([]byte, error) {
	uid, err := tx.UID(id)
	return []byte("brief " + hex.EncodeToString(uid[:])), err
}

// readBrief gives the state of a piece by its brief and what was logged since, and up to
// which event the brief goes. The state is nil where the whole log is to be read.
func readBrief(tx *store.Tx, id store.PieceID) (s *session.State, upTo uint64, err error) {
	name, err := briefName(tx, id)
	if err != nil {
		return nil, 0, err
	}
	kept, ok := tx.Cache(name)
	if !ok {
		return nil, 0, nil
	}
	mark, brief, ok := splitBrief(kept)
	if !ok {
		return nil, 0, nil
	}
	since, err := readOn(tx, id, make([]session.Record, 0, briefEvery+roomToGrow), mark)
	if err != nil {
		return nil, 0, nil // reading the whole log tells what is wrong, if it is not the mark alone
	}
	// The value is gone with the transaction, the state is needed after it.
	s, ok, err = session.Continue(append([]byte(nil), brief...), since)
	if !ok {
		return nil, 0, nil
	}
	return s, mark.Seq, err
}

// keepBrief makes a new brief of a piece when many events have come since the one it was
// read by, or since it was begun.
func keepBrief(tx *store.Tx, id store.PieceID, s *session.State, upTo uint64) error {
	if s.LastSeq < upTo+briefEvery {
		return nil
	}
	name, err := briefName(tx, id)
	if err != nil {
		return err
	}
	mark, err := tx.Tail(id)
	if err != nil {
		return err
	}
	return tx.PutCache(name, joinBrief(mark, s.Brief()))
}

// dropBrief forgets the brief of a piece that goes.
func dropBrief(tx *store.Tx, id store.PieceID) error {
	name, err := briefName(tx, id)
	if err != nil {
		return err
	}
	return tx.DeleteCache(name)
}

func joinBrief(mark store.Mark, brief []byte) []byte {
	b := binary.AppendUvarint(binary.AppendUvarint(nil, mark.Seq), uint64(mark.CRC))
	return append(b, brief...)
}

func splitBrief(kept []byte) (mark store.Mark, brief []byte, ok bool) {
	seq, n := binary.Uvarint(kept)
	if n <= 0 {
		return mark, nil, false
	}
	crc, m := binary.Uvarint(kept[n:])
	if m <= 0 || crc>>32 != 0 {
		return mark, nil, false
	}
	return store.Mark{Seq: seq, CRC: uint32(crc)}, kept[n+m:], true
}
