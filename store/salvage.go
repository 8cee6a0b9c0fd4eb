package store

import (
	"cmp"
	"context"
	"maps"
	"os"
	"slices"
	"time"
)

// Gap is a stretch of events that could not be recovered, both ends included.
type Gap struct {
	From uint64 `json:"from"`
	To   uint64 `json:"to"`
}

// SalvagedPiece is what was recovered of a piece.
type SalvagedPiece struct {
	UID        UID     `json:"-"`
	ID         PieceID `json:"-"` // in the new file
	Info       []byte  `json:"-"`
	InfoLost   bool    `json:"-"`           // nothing of its info was found; it is empty
	Events     uint64  `json:"events"`      // recovered
	FromBackup uint64  `json:"from_backup"` // of these, found in a backup only
	Gaps       []Gap   `json:"gaps"`        // events that could not be recovered, from and to included
}

// Salvaged is what Salvage did.
type Salvaged struct {
	To       string
	Sources  []string // files read, the store first
	Pieces   []SalvagedPiece
	Charts   int
	Settings int
	// Sure says that the store still told which pieces it has and where their logs
	// end. Without that a removed piece may be back, and what was never finished
	// saving may be in.
	Sure bool
}

// Salvage gathers every event whose checksum holds from the store and its backups into a new
// store. It writes into the new file only, which must not be there yet (ClassExists). Pieces keep
// their numbers as far as these are known, and events theirs; where one is lost, a record of
// KindLost stands in its place. Settings come from the store when they can be read, else from the
// newest backup in which they can. What mend, which may be nil, makes of the new store belongs to
// it: when mend fails there is no new file.
func (s *Store) Salvage(ctx context.Context, to string, mend func(*Tx, Salvaged) error) (Salvaged, error) {
	done := Salvaged{To: to}
	target := At(to, s.options)
	if _, err := os.Lstat(to); err == nil {
		return done, target.exists()
	}
	h, settings, err := s.gather(ctx, &done)
	if err != nil {
		return done, err
	}
	if len(h.pieces) == 0 && len(settings) == 0 && len(h.charts) == 0 {
		return done, &Error{Class: ClassDamaged, Path: s.path, What: "nothing in this file or its backups can be recovered"}
	}
	err = target.CreateWith(ctx, func(tx *Tx) error {
		if err := sow(tx, h, settings, &done); err != nil || mend == nil {
			return err
		}
		return mend(tx, done)
	})
	return done, err
}

// gather reads the store and its backups, the newest first.
func (s *Store) gather(ctx context.Context, done *Salvaged) (*harvest, []ParcelSetting, error) {
	h := newHarvest()
	if err := s.found(); err != nil {
		return nil, nil, err
	}
	if err := h.file(s.path); err != nil {
		return nil, nil, s.refused("cannot be read", err)
	}
	done.Sources = append(done.Sources, s.path)
	done.Sure = s.promises(ctx, h)
	settings, known := s.knownSettings(ctx)
	backups, err := s.Backups()
	if err != nil {
		return nil, nil, err
	}
	h.backup = true // while the backups are read; what they tell of the end is older
	for _, b := range slices.Backward(backups) {
		if err := ctx.Err(); err != nil {
			return nil, nil, err
		}
		if h.file(b.Path) != nil {
			continue
		}
		done.Sources = append(done.Sources, b.Path)
		if !known {
			settings, known = s.other(b.Path).knownSettings(ctx)
		}
	}
	if done.Sure { // a piece that the store no longer has was removed
		maps.DeleteFunc(h.pieces, func(_ UID, r *remains) bool { return !r.sure })
	}
	return h, settings, nil
}

// promises notes which pieces the store has and where their logs end, when it can still tell.
func (s *Store) promises(ctx context.Context, h *harvest) bool {
	var heads []listed
	err := s.transact(ctx, s.options.Watch, false, func(tx *Tx) error {
		err := cmp.Or(tx.wholly(), tx.beginHeads())
		if err == nil {
			heads = tx.heads()
		}
		return err
	})
	for _, head := range heads {
		r := h.of(head.UID)
		r.listed, r.sure = head, true
	}
	return err == nil
}

// knownSettings reads the settings, when they can be read.
func (s *Store) knownSettings(ctx context.Context) (all []ParcelSetting, known bool) {
	err := s.work(ctx, s.options.Watch, false, func(tx *Tx) error {
		all = tx.settings()
		return nil
	})
	return all, err == nil
}

func sow(tx *Tx, h *harvest, settings []ParcelSetting, done *Salvaged) error {
	for _, chart := range h.charts {
		if _, err := tx.PutChart(chart); err != nil {
			return err
		}
	}
	for _, setting := range settings {
		if err := tx.PutSetting(setting.Name, setting.Value); err != nil {
			return err
		}
	}
	done.Charts, done.Settings = len(h.charts), len(settings)
	for _, r := range h.sorted() {
		p, err := sowPiece(tx, r)
		if err != nil {
			return err
		}
		done.Pieces = append(done.Pieces, p)
	}
	return nil
}

// sowPiece makes one piece, with a lost record wherever an event is missing.
func sowPiece(tx *Tx, r *remains) (SalvagedPiece, error) {
	info, known := r.info()
	p := SalvagedPiece{UID: r.UID, Info: info, InfoLost: !known}
	var err error
	if p.ID, err = tx.newPiece(r.id, r.UID, info); err != nil {
		return p, err
	}
	var records []Record
	for i, f := range r.chain() {
		if f == nil {
			p.lose(uint64(i) + 1)
			records = append(records, Record{Kind: KindLost, Time: time.Unix(0, 0).UTC()})
			continue
		}
		p.Events++
		if f.backup {
			p.FromBackup++
		}
		records = append(records, f.Record)
	}
	return p, tx.appendAll(p.ID, records)
}

func (p *SalvagedPiece) lose(seq uint64) {
	if n := len(p.Gaps); n > 0 && p.Gaps[n-1].To == seq-1 {
		p.Gaps[n-1].To = seq
		return
	}
	p.Gaps = append(p.Gaps, Gap{From: seq, To: seq})
}
