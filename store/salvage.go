package store

import (
	"cmp"
	"context"
	"maps"
	"os"
	"slices"
)

// Gap is a stretch of events that could not be recovered, both ends included.
type Gap struct {
	From uint64 `json:"from"`
	To   uint64 `json:"to"`
}

// WithLost adds to the gaps of a log the next event that is lost.
func WithLost(gaps []Gap, seq uint64) []Gap {
	if n := len(gaps); n > 0 && gaps[n-1].To == seq-1 {
		gaps[n-1].To = seq
		return gaps
	}
	return append(gaps, Gap{From: seq, To: seq})
}

// SalvagedPiece is what was recovered of a piece.
type SalvagedPiece struct {
	UID        UID     `json:"-"`
	ID         PieceID `json:"-"`           // in the new file
	Info       []byte  `json:"-"`           // empty when nothing of it was found
	Events     uint64  `json:"events"`      // recovered
	FromBackup uint64  `json:"from_backup"` // of these, found in a backup only
	Gaps       []Gap   `json:"gaps"`        // events that could not be recovered, from and to included
}

// Salvaged is what Salvage did.
type Salvaged struct {
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
// file, which must not be there yet (ClassExists). Pieces keep their numbers as far as these are
// known, and events theirs; where one is lost, a record of KindLost stands in its place. Settings
// come from the store when they can be read, else from the newest backup in which they can. mend,
// which may be nil, is given what was gathered, to change it before it is written: when it fails
// there is no new file.
func (s *Store) Salvage(ctx context.Context, to string, mend func(*Parcel, []SalvagedPiece) error) (done Salvaged, err error) {
	target := s.other(to)
	if _, err := os.Lstat(to); err == nil {
		return done, target.exists()
	}
	h, err := s.gather(ctx, &done)
	if err != nil {
		return done, err
	}
	whole := &Parcel{Settings: h.settings}
	for _, chart := range h.charts {
		whole.AddChart(chart)
	}
	last := PieceID(0)
	for _, r := range h.sorted() {
		last = max(r.id, last+1)
		piece, found := r.piece(last)
		whole.Pieces = append(whole.Pieces, piece)
		done.Pieces = append(done.Pieces, found)
	}
	if whole.counts() == (Counts{}) {
		return done, damaged("nothing in this file or its backups can be recovered").at(s.path)
	}
	done.Charts, done.Settings = len(whole.Charts), len(whole.Settings)
	if mend != nil {
		if err := mend(whole, done.Pieces); err != nil {
			return done, err
		}
	}
	return done, target.CreateWith(ctx, func(tx *Tx) error {
		_, err := tx.takeIn(whole, false)
		return err
	})
}

func (s *Store) gather(ctx context.Context, done *Salvaged) (*harvest, error) {
	h := newHarvest()
	err := s.found()
	if err == nil {
		err = s.refused("cannot be read", h.file(s.path))
	}
	backups, unread := s.Backups()
	if err = cmp.Or(err, unread); err != nil {
		return nil, err
	}
	done.Sources = append(done.Sources, s.path)
	done.Sure = s.promises(ctx, h)
	known := s.tellSettings(ctx, h)
	h.backup = true // while the backups are read; what they tell of the end is older
	for _, b := range slices.Backward(backups) {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		if h.file(b.Path) != nil {
			continue
		}
		done.Sources = append(done.Sources, b.Path)
		known = known || s.other(b.Path).tellSettings(ctx, h)
	}
	if done.Sure { // a piece that the store no longer has was removed
		maps.DeleteFunc(h.pieces, func(_ UID, r *remains) bool { return !r.sure })
	}
	return h, nil
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
		r := h.remainsOf(head.UID)
		r.listed, r.sure = head, true
	}
	return err == nil
}

// tellSettings hands over the settings, when they can still be read.
func (s *Store) tellSettings(ctx context.Context, h *harvest) bool {
	var all []ParcelSetting
	err := s.work(ctx, s.options.Watch, false, func(tx *Tx) error {
		all = tx.settings()
		return nil
	})
	if err == nil {
		h.settings = all
	}
	return err == nil
}
