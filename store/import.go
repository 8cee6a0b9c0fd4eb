package store

import (
	"cmp"
	"context"
	"crypto/sha256"
	"fmt"
	"slices"
)

// ImportOptions say how to import.
type ImportOptions struct {
	DryRun bool // say what would be done and write nothing
	// KeepApart imports a piece that conflicts as a piece of its own beside the
	// one in the store. Without it a conflict refuses the whole import.
	KeepApart bool
	// Settle, which may be nil, is called with what is found out before anything is written, and ends
	// the import in the same transaction, with what was done; its error refuses the whole.
	Settle func(*Tx, Imported) error
}

// Fate is what becomes of a piece of the import, as answers to programs tell it.
type Fate string

// The fates.
const (
	FateNew      Fate = "new"      // the store did not have it
	FateSame     Fate = "same"     // every event was there already
	FateLonger   Fate = "longer"   // the file continues the log of the store
	FateShorter  Fate = "shorter"  // the store has all of it and more
	FateConflict Fate = "conflict" // from some event on the two differ
	FateApart    Fate = "apart"    // as conflict, and taken in as a piece of its own
)

// ImportedPiece is what was done with one piece.
type ImportedPiece struct {
	UID   UID     `json:"-"`
	ID    PieceID `json:"-"` // in this store; 0 when it was not taken in
	Info  []byte  `json:"-"` // as in the file
	Fate  Fate    `json:"fate"`
	Added uint64  `json:"added"`
	Equal uint64  `json:"equal"`
	At    uint64  `json:"-"` // conflict: number of the first event that differs
}

func (p ImportedPiece) changes() bool { return p.Added > 0 || p.Fate == FateNew }

// Imported is what Import did, or with DryRun would do.
type Imported struct {
	File     Counts // what the file holds
	Charts   int    // new ones
	Settings int    // new ones
	Kept     []string
	Pieces   []ImportedPiece
	Backup   string // made before
	// BackupFault says why none could be made; the import went on.
	BackupFault error
}

// Changes reports whether there is anything to do.
func (r Imported) Changes() bool {
	return r.Charts > 0 || r.Settings > 0 || slices.ContainsFunc(r.Pieces, ImportedPiece.changes)
}

// Import takes in what is new of an export, in one transaction or not at all, after a backup. A
// log that differs from the store's at some number is a conflict (ClassConflict), named by piece
// and event. Settings the store has stay as they are; their names are in Kept when the file says
// otherwise. Where there is no store one is made with what the file holds (ClassExists when another
// process makes one meanwhile).
func (s *Store) Import(ctx context.Context, from *Parcel, o ImportOptions) (r Imported, err error) {
	take := func(tx *Tx) (err error) {
		r, err = tx.takeIn(from, o.KeepApart)
		if err == nil && o.Settle != nil {
			err = o.Settle(tx, r)
		}
		return err
	}
	there, err := s.Exists()
	switch {
	case err != nil:
		return r, err
	case !there && isLink(s.path):
		return r, s.found()
	case !there && o.DryRun:
		return from.asNew(), nil
	case !there:
		err = s.CreateWith(ctx, take)
		return r, err
	}
	if err = s.run(ctx, verifyLimit, false, take); err != nil || o.DryRun || !r.Changes() {
		return r, err
	}
	backup, fault := s.Backup(ctx, ReasonImport)
	err = s.run(ctx, verifyLimit, true, take)
	r.Backup, r.BackupFault = backup.Path, fault
	return r, err
}

func (p *Parcel) asNew() Imported {
	r := Imported{File: p.counts(), Charts: len(p.Charts), Settings: len(p.Settings)}
	for _, piece := range p.Pieces {
		r.Pieces = append(r.Pieces, ImportedPiece{UID: piece.UID, Info: piece.Info, Fate: FateNew, Added: uint64(len(piece.Records))})
	}
	return r
}

// takeIn takes in what is new of a parcel, or where nothing can be written tells what that would be.
func (tx *Tx) takeIn(from *Parcel, apart bool) (r Imported, err error) {
	r.File = from.counts()
	write := tx.Writable()
	for _, chart := range from.Charts {
		if tx.btx.Bucket(bucketCharts).Get(chart.Hash[:]) != nil {
			continue
		}
		if r.Charts++; write {
			_, fault := tx.PutChart(chart.Bytes)
			err = cmp.Or(err, fault)
		}
	}
	for _, setting := range from.Settings {
		have, ok := tx.Setting(setting.Name)
		if ok && string(have) != string(setting.Value) {
			r.Kept = append(r.Kept, setting.Name)
		}
		if ok {
			continue
		}
		if r.Settings++; write {
			err = cmp.Or(err, tx.PutSetting(setting.Name, setting.Value))
		}
	}
	for _, p := range from.Pieces {
		done, fault := tx.takePiece(p, apart)
		r.Pieces = append(r.Pieces, done)
		if err = cmp.Or(err, fault); err != nil {
			return r, err
		}
	}
	return r, cmp.Or(err, r.conflict(from.Name))
}

func (r Imported) conflict(file string) error {
	var all []ImportedPiece
	for _, p := range r.Pieces {
		if p.Fate == FateConflict {
			all = append(all, p)
		}
	}
	if len(all) == 0 {
		return nil
	}
	err := problem(ClassConflict, "the file and the store differ from this event on (pieces in conflict: %d)", len(all))
	err.Path, err.Piece, err.Seq = file, all[0].ID, all[0].At
	return err
}

func (tx *Tx) takePiece(p *ParcelPiece, apart bool) (done ImportedPiece, err error) {
	done, err = tx.match(p)
	if err == nil && done.Fate == FateConflict && apart {
		at := done.At
		p = p.apart()
		done, err = tx.match(p)
		if done.At = at; done.Fate == FateNew {
			done.Fate = FateApart
		}
	}
	if err == nil && done.changes() && tx.Writable() {
		done.ID, err = tx.take(done, p)
	}
	return done, err
}

// apart is the piece under an identity of its own, made from the old one and the
// end of the log, so that the same file leads to the same piece again.
func (p *ParcelPiece) apart() *ParcelPiece {
	sum := sha256.Sum256(fmt.Appendf(nil, "apart %x %d %x", p.UID, p.tail().Seq, p.tail().CRC))
	other := &ParcelPiece{UID: UID(sum[:8]), Info: p.Info}
	for _, r := range p.Records {
		other.Add(r)
	}
	return other
}

func (tx *Tx) match(p *ParcelPiece) (done ImportedPiece, err error) {
	done = ImportedPiece{UID: p.UID, Info: p.Info}
	if done.ID, err = tx.pieceOf(p.UID); err != nil {
		done.Fate, done.Added = FateNew, uint64(len(p.Records))
		return done, nil
	}
	here, err := tx.Records(done.ID)
	if err != nil {
		return done, err
	}
	for i := 0; i < min(len(here), len(p.Records)) && sameRecord(here[i], p.Records[i]); i++ {
		done.Equal++
	}
	switch rest := uint64(len(p.Records)) - done.Equal; {
	case done.Equal < uint64(len(here)) && rest > 0:
		done.Fate, done.At = FateConflict, done.Equal+1
	case done.Equal < uint64(len(here)):
		done.Fate = FateShorter
	case rest == 0:
		done.Fate = FateSame
	default:
		done.Fate, done.Added = FateLonger, rest
	}
	return done, nil
}

// sameRecord compares two events byte for byte. The chain makes equal checksums at one
// number mean equal events up to it; each is compared all the same.
func sameRecord(a, b Record) bool {
	return a.CRC == b.CRC && a.Seq == b.Seq && a.Kind == b.Kind && a.Time.Equal(b.Time) && string(a.Payload) == string(b.Payload)
}

// take adds a new piece, or continues its log; what is known of the piece is then the
// file's, as it is the later. The last checksum, which vouches for all, must be the file's.
func (tx *Tx) take(done ImportedPiece, p *ParcelPiece) (id PieceID, err error) {
	if id = done.ID; id == 0 {
		id, err = tx.newPiece(p.ID, p.UID, p.Info)
	} else {
		err = tx.SetInfo(id, p.Info)
	}
	for _, r := range p.Records[done.Equal:] {
		if err == nil {
			_, err = tx.Append(id, r)
		}
	}
	if tail, _ := tx.Tail(id); err == nil && tail != p.tail() {
		err = damagedEvent(id, tail.Seq, "the imported event came out otherwise than in the file")
	}
	return id, err
}
