package store

import (
	"context"
	"crypto/sha256"
	"fmt"
)

// ImportOptions say how to import.
type ImportOptions struct {
	DryRun bool // say what would be done and write nothing
	// KeepApart imports a piece that conflicts as a piece of its own beside the
	// one in the store. Without it a conflict refuses the whole import.
	KeepApart bool
	// Settle, which may be nil, ends the import in the same transaction, with what was
	// done; its error refuses the whole. A dry run does without.
	Settle func(*Tx, Imported) error
}

// Fate is what becomes of a piece of the import.
type Fate int

// The fates.
const (
	FateNew      Fate = iota + 1 // the store did not have it
	FateSame                     // every event was there already
	FateLonger                   // the file continues the log of the store
	FateShorter                  // the store has all of it and more
	FateConflict                 // from some event on the two differ
	FateApart                    // as conflict, and taken in as a piece of its own
)

// ImportedPiece is what was done with one piece.
type ImportedPiece struct {
	UID   UID
	ID    PieceID // in this store; 0 when it was not taken in
	Info  []byte  // as in the file
	Fate  Fate
	Added uint64 // events
	Equal uint64 // events that were there already
	At    uint64 // conflict: number of the first event that differs
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
	for _, p := range r.Pieces {
		if p.changes() {
			return true
		}
	}
	return r.Charts > 0 || r.Settings > 0
}

// Import takes in an export that was read. First it is found out what is to be done, then a
// backup is made, then all is done in one transaction or not at all. Events that are there
// already are skipped, so importing a file twice does no harm. A log that differs from the
// store's at some number is a conflict (ClassConflict), named by piece and event. Settings the
// store has stay as they are; their names are in Kept when the file says otherwise.
func (s *Store) Import(ctx context.Context, from *Parcel, o ImportOptions) (Imported, error) {
	var result Imported
	run := func(write bool) error {
		return s.run(ctx, verifyLimit, write, func(tx *Tx) error {
			i := &importer{tx: tx, from: from, options: o}
			err := i.compare()
			result = i.result
			if err != nil || !write {
				return err
			}
			for _, do := range i.pending {
				if err := do(&result); err != nil {
					return err
				}
			}
			if o.Settle == nil {
				return nil
			}
			return o.Settle(tx, result)
		})
	}
	if err := run(false); err != nil || o.DryRun || !result.Changes() {
		return result, err
	}
	backup, fault := s.Backup(ctx, ReasonImport)
	err := run(true)
	result.Backup, result.BackupFault = backup.Path, fault
	return result, err
}

// importer compares a parcel with a store and lists what is to be done to take in what is new.
type importer struct {
	tx      *Tx
	from    *Parcel
	options ImportOptions
	result  Imported
	pending []func(*Imported) error
}

func (i *importer) compare() error {
	i.result.File = i.from.counts()
	for _, chart := range i.from.Charts {
		if i.tx.btx.Bucket(bucketCharts).Get(chart.Hash[:]) == nil {
			i.result.Charts++
			i.later(func(*Imported) error { _, err := i.tx.PutChart(chart.Bytes); return err })
		}
	}
	for _, setting := range i.from.Settings {
		switch have, ok := i.tx.Setting(setting.Name); {
		case !ok:
			i.result.Settings++
			i.later(func(*Imported) error { return i.tx.PutSetting(setting.Name, setting.Value) })
		case string(have) != string(setting.Value):
			i.result.Kept = append(i.result.Kept, setting.Name)
		}
	}
	for _, p := range i.from.Pieces {
		if err := i.piece(p); err != nil {
			return err
		}
	}
	return i.conflicts()
}

// later is done when all has been compared, if anything is to be done.
func (i *importer) later(do func(*Imported) error) { i.pending = append(i.pending, do) }

func (i *importer) conflicts() error {
	var all []ImportedPiece
	for _, p := range i.result.Pieces {
		if p.Fate == FateConflict {
			all = append(all, p)
		}
	}
	if len(all) == 0 {
		return nil
	}
	return &Error{
		Class: ClassConflict,
		Path:  i.from.Name,
		Piece: all[0].ID,
		Seq:   all[0].At,
		What:  fmt.Sprintf("the file and the store differ from this event on (pieces in conflict: %d)", len(all)),
		Next:  "import with the conflicting pieces kept apart, and compare the two",
	}
}

// piece compares one piece, and again under an identity of its own where it is to be kept apart.
func (i *importer) piece(p *ParcelPiece) error {
	done, err := i.match(p)
	if err == nil && done.Fate == FateConflict && i.options.KeepApart {
		p = p.apart()
		at := done.At
		done, err = i.match(p)
		if done.At = at; done.Fate == FateNew {
			done.Fate = FateApart
		}
	}
	place := len(i.result.Pieces)
	i.result.Pieces = append(i.result.Pieces, done)
	if err != nil || !done.changes() {
		return err
	}
	i.later(func(r *Imported) (err error) {
		r.Pieces[place].ID, err = i.take(done, p)
		return err
	})
	return nil
}

// apart is the piece under an identity of its own, made from the old one and the
// end of the log, so that the same file leads to the same piece again.
func (p *ParcelPiece) apart() *ParcelPiece {
	sum := sha256.Sum256(fmt.Appendf(nil, "apart %x %d %x", p.UID, p.tail().Seq, p.tail().CRC))
	other := &ParcelPiece{UID: UID(sum[:8]), Info: p.Info}
	for _, r := range p.Records {
		r.CRC = crcOf(encodeEvent(other.UID, other.tail().CRC, r))
		other.Records = append(other.Records, r)
	}
	return other
}

func (i *importer) match(p *ParcelPiece) (done ImportedPiece, err error) {
	done = ImportedPiece{UID: p.UID, Info: p.Info}
	if done.ID, err = i.tx.pieceOf(p.UID); err != nil {
		done.Fate, done.Added = FateNew, uint64(len(p.Records))
		return done, nil
	}
	here := uint64(0)
	for r, err := range i.tx.Records(done.ID) {
		if err != nil {
			return done, err
		}
		if here++; done.Equal+1 == here && here <= uint64(len(p.Records)) && sameRecord(r, p.Records[here-1]) {
			done.Equal = here
		}
	}
	switch rest := uint64(len(p.Records)) - done.Equal; {
	case done.Equal < here && rest > 0:
		done.Fate, done.At = FateConflict, done.Equal+1
	case done.Equal < here:
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
func (i *importer) take(done ImportedPiece, p *ParcelPiece) (id PieceID, err error) {
	if id = done.ID; id == 0 {
		id, err = i.tx.newPiece(0, p.UID, p.Info)
	} else {
		err = i.tx.SetInfo(id, p.Info)
	}
	if err != nil {
		return id, err
	}
	if err := i.tx.appendAll(id, p.Records[done.Equal:]); err != nil {
		return id, err
	}
	if tail, err := i.tx.Tail(id); err != nil || tail != p.tail() {
		return id, damagedEvent(id, tail.Seq, "the imported event came out otherwise than in the file")
	}
	return id, nil
}
