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
		if p.Added > 0 || p.Fate == FateNew {
			return true
		}
	}
	return r.Charts > 0 || r.Settings > 0
}

// Import takes in an export that was read. First it is found out what is to be done, then a
// backup is made, then all is done in one transaction or not at all. Events that
// are there already are skipped, so importing a file twice does no harm. A log
// that differs from the store's at some number is a conflict (ClassConflict), named by
// piece and event. Settings the store has stay as they are; their names are in
// Kept when the file says otherwise.
func (s *Store) Import(ctx context.Context, from *Parcel, o ImportOptions) (Imported, error) {
	plan, err := s.planImport(ctx, from, o)
	if err != nil || o.DryRun || !plan.Changes() {
		return plan, err
	}
	backup, fault := s.Backup(ctx, ReasonImport)
	result := plan
	err = s.raised(ctx, func() error {
		return s.update(ctx, verifyLimit, func(tx *Tx) error {
			i := &importer{tx: tx, from: from, options: o}
			err := i.run()
			result = i.result
			if err == nil && o.Settle != nil {
				err = o.Settle(tx, result)
			}
			return err
		})
	})
	result.Backup, result.BackupFault = backup.Path, fault
	return result, err
}

// planImport finds out what an import would do.
func (s *Store) planImport(ctx context.Context, from *Parcel, o ImportOptions) (plan Imported, err error) {
	err = s.raised(ctx, func() error {
		return s.view(ctx, verifyLimit, func(tx *Tx) error {
			i := &importer{tx: tx, from: from, options: o, dry: true}
			err := i.run()
			plan = i.result
			return err
		})
	})
	return plan, err
}

// importer compares a parcel with a store and takes in what is new. Dry, it only
// compares.
type importer struct {
	tx      *Tx
	from    *Parcel
	options ImportOptions
	dry     bool
	result  Imported
}

// run does the whole import.
func (i *importer) run() error {
	i.result.File = i.from.Counts
	if err := i.charts(); err != nil {
		return err
	}
	if err := i.settings(); err != nil {
		return err
	}
	for _, p := range i.from.Pieces {
		done, err := i.piece(p)
		if err != nil {
			return err
		}
		i.result.Pieces = append(i.result.Pieces, done)
	}
	return i.conflicts()
}

// conflicts is the refusal that names the first conflict and counts them.
func (i *importer) conflicts() error {
	var first *ImportedPiece
	count := 0
	for n, p := range i.result.Pieces {
		if p.Fate == FateConflict {
			if count++; first == nil {
				first = &i.result.Pieces[n]
			}
		}
	}
	if first == nil {
		return nil
	}
	return &Error{
		Class: ClassConflict,
		Path:  i.from.Name,
		Piece: first.ID,
		Seq:   first.At,
		What:  fmt.Sprintf("the file and the store differ from this event on (pieces in conflict: %d)", count),
		Next:  "import with the conflicting pieces kept apart, and compare the two",
	}
}

// charts takes in the charts.
func (i *importer) charts() error {
	b, err := i.tx.bucket(bucketCharts)
	if err != nil {
		return err
	}
	for _, chart := range i.from.Charts {
		if b.Get(chart.Hash[:]) != nil {
			continue
		}
		i.result.Charts++
		if i.dry {
			continue
		}
		if _, err := i.tx.PutChart(chart.Bytes); err != nil {
			return err
		}
	}
	return nil
}

// settings takes in the settings the store does not have.
func (i *importer) settings() error {
	for _, setting := range i.from.Settings {
		have, ok, err := i.tx.Setting(setting.Name)
		if err != nil {
			return err
		}
		if ok {
			if string(have) != string(setting.Value) {
				i.result.Kept = append(i.result.Kept, setting.Name)
			}
			continue
		}
		i.result.Settings++
		if i.dry {
			continue
		}
		if err := i.tx.PutSetting(setting.Name, setting.Value); err != nil {
			return err
		}
	}
	return nil
}

// piece takes in one piece.
func (i *importer) piece(p *ParcelPiece) (ImportedPiece, error) {
	done, err := i.match(p)
	if err != nil || done.Fate != FateConflict || !i.options.KeepApart {
		return done, err
	}
	apart := p.apart()
	again, err := i.match(apart)
	again.At = done.At
	if again.Fate == FateNew {
		again.Fate = FateApart
	}
	return again, err
}

// apart is the piece under an identity of its own, made from the old one and the
// end of the log, so that the same file leads to the same piece again.
func (p *ParcelPiece) apart() *ParcelPiece {
	sum := sha256.Sum256(fmt.Appendf(nil, "apart %x %d %x", p.UID, p.tail().Seq, p.tail().CRC))
	other := &ParcelPiece{UID: UID(sum[:8]), Info: p.Info}
	before := uint32(0)
	for _, r := range p.Records {
		_, r.CRC = encodeEvent(other.UID, before, r)
		before = r.CRC
		other.Records = append(other.Records, r)
	}
	return other
}

// match compares a piece with the store's, and appends what continues it.
func (i *importer) match(p *ParcelPiece) (ImportedPiece, error) {
	done := ImportedPiece{UID: p.UID, Info: p.Info}
	id, err := i.tx.PieceOf(p.UID)
	if err != nil {
		done.Fate, done.Added = FateNew, uint64(len(p.Records))
		return done, i.add(&done, p)
	}
	done.ID = id
	tail, err := i.tx.Tail(id)
	if err != nil {
		return done, err
	}
	if done.Equal, err = i.common(id, p); err != nil {
		return done, err
	}
	rest := uint64(len(p.Records)) - done.Equal
	switch {
	case done.Equal < tail.Seq && rest > 0:
		done.Fate, done.At = FateConflict, done.Equal+1
	case done.Equal < tail.Seq:
		done.Fate = FateShorter
	case rest == 0:
		done.Fate = FateSame
	default:
		done.Fate, done.Added = FateLonger, rest
		return done, i.extend(id, p, done.Equal)
	}
	return done, nil
}

// common counts the events a log and a parcel begin with alike. The chain makes
// equal checksums at one number mean equal events up to it; each is compared all
// the same.
func (i *importer) common(id PieceID, p *ParcelPiece) (uint64, error) {
	equal := uint64(0)
	for r, err := range i.tx.Records(id) {
		if err != nil {
			return 0, err
		}
		if equal == uint64(len(p.Records)) || !sameRecord(r, p.Records[equal]) {
			break
		}
		equal++
	}
	return equal, nil
}

// sameRecord compares two events byte for byte.
func sameRecord(a, b Record) bool {
	return a.CRC == b.CRC && a.Seq == b.Seq && a.Kind == b.Kind && a.Time.Equal(b.Time) && string(a.Payload) == string(b.Payload)
}

// add makes a new piece.
func (i *importer) add(done *ImportedPiece, p *ParcelPiece) (err error) {
	if i.dry {
		return nil
	}
	if done.ID, err = i.tx.newPiece(0, p.UID, p.Info); err != nil {
		return err
	}
	return i.append(done.ID, p.Records)
}

// extend continues a log; what is known of the piece is then the file's, as it is
// the later.
func (i *importer) extend(id PieceID, p *ParcelPiece, equal uint64) error {
	if i.dry {
		return nil
	}
	if err := i.tx.SetInfo(id, p.Info); err != nil {
		return err
	}
	return i.append(id, p.Records[equal:])
}

// append adds events whose checksums must come out as in the file.
func (i *importer) append(id PieceID, records []Record) error {
	for _, r := range records {
		if _, err := i.tx.Append(id, r); err != nil {
			return err
		}
		if tail, err := i.tx.Tail(id); err != nil || tail != r.Mark() {
			return damagedEvent(id, r.Seq, "the imported event came out otherwise than in the file")
		}
	}
	return nil
}
