package store

import (
	"context"
	"crypto/sha256"
	"errors"
	"slices"
	"sync/atomic"
	"time"
)

// Problem is one thing found wrong. Piece and Seq are 0 where it is not one
// piece, or not one event, that is at fault.
type Problem struct {
	Piece PieceID
	Seq   uint64
	What  string
}

// Contents counts what a store holds.
type Contents struct {
	Schema   int
	Pieces   int
	Events   int
	Charts   int
	Settings int
	Pages    int // of 4 KiB, the free ones among them
	Free     int
	Bytes    int64 // length of the file
}

// verifyLimit bounds a reading of the whole file, which may be far longer than a
// step.
const verifyLimit = 2 * time.Minute

// verifier reads everything there is and notes what is wrong.
type verifier struct {
	tx       *Tx
	contents Contents
	problems []Problem
	warnings []Warning
}

// verify reads the whole store and holds every part against what vouches for it:
// pages against the tree and the free list, events against their chain, charts
// against their hashes, all against the summary.
func (s *Store) verify(ctx context.Context) (Contents, []Problem, []Warning, error) {
	var done atomic.Pointer[verifier] // left empty when the reading was given up
	err := s.guardedFor(ctx, verifyLimit, func(g *guard) error {
		return s.read(g.ctx, func(tx *Tx) error {
			v := &verifier{tx: tx}
			err := v.run()
			v.warnings = tx.Warnings()
			done.Store(v)
			return err
		})
	})
	v := done.Load()
	if v == nil {
		v = &verifier{}
	}
	if ClassOf(err) == ClassDamaged {
		v.note(err)
		err = nil
	}
	return v.contents, v.problems, v.warnings, err
}

// run verifies one state. A store of an older schema is verified as to its pages.
func (v *verifier) run() error {
	v.contents.Schema = schema
	err := v.tx.begin()
	var older *olderError
	if errors.As(err, &older) {
		v.contents.Schema = older.have
		return v.pages()
	}
	if err != nil {
		return err
	}
	for _, part := range []func() error{v.origin, v.pieces, v.charts, v.settings, v.cache, v.pages} {
		if err := part(); err != nil {
			v.note(err)
		}
	}
	return nil
}

// note keeps a fault, once.
func (v *verifier) note(err error) {
	p := Problem{What: err.Error()}
	var e *Error
	if errors.As(err, &e) {
		p = Problem{Piece: e.Piece, Seq: e.Seq, What: e.What}
	}
	same := func(q Problem) bool { return q.What == p.What && (p.Piece == 0 || q.Piece == p.Piece) }
	if !slices.ContainsFunc(v.problems, same) {
		v.problems = append(v.problems, p)
	}
}

// origin reads what is known of the store's making.
func (v *verifier) origin() error {
	_, err := v.tx.Origin()
	return err
}

// pieces reads every piece and its log, and makes sure that none is there without
// being listed.
func (v *verifier) pieces() error {
	for _, h := range v.tx.allHeads() {
		v.contents.Pieces++
		if _, err := v.tx.Info(h.id); err != nil {
			v.note(err)
		}
		for _, err := range v.tx.Records(h.id, Mark{}) {
			if err != nil {
				v.note(err)
				continue
			}
			v.contents.Events++
		}
	}
	b, err := v.tx.bucket(bucketPieces)
	if err != nil {
		return err
	}
	return b.ForEach(func(k, _ []byte) error {
		if len(k) == 8 {
			if _, found := find(v.tx.allHeads(), PieceID(big.Uint64(k))); found {
				return nil
			}
		}
		return damaged("there is a piece that is not listed (%x)", k)
	})
}

// charts reads every chart.
func (v *verifier) charts() error {
	b, err := v.tx.bucket(bucketCharts)
	if err != nil {
		return err
	}
	var seen tally
	err = b.ForEach(func(k, chart []byte) error {
		v.contents.Charts++
		seen.add(k, nil)
		if hash := sha256.Sum256(chart); string(hash[:]) != string(k) {
			v.note(damaged("the stored chart %x does not match its checksum", k[:min(4, len(k))]))
		}
		return nil
	})
	if err == nil && seen != v.tx.summary.charts {
		err = damaged("the charts are not the ones written last")
	}
	return err
}

// settings reads every setting.
func (v *verifier) settings() error {
	err := v.tx.readSettings()
	v.contents.Settings = len(v.tx.settings)
	return err
}

// cache reads every cached value.
func (v *verifier) cache() error {
	b, err := v.tx.bucket(bucketCache)
	if err != nil {
		return err
	}
	return b.ForEach(func(k, _ []byte) error {
		if _, ok := v.tx.Cache(k); !ok {
			return damaged("a cached value does not match its checksum; it is not used")
		}
		return nil
	})
}

// pages walks all that can be reached and compares it with the free list: every
// page must be either in use, once, or free.
func (v *verifier) pages() error {
	l := v.tx.opened.look
	v.contents.Pages = int(l.pages)
	if info, err := v.tx.opened.file.Stat(); err == nil {
		v.contents.Bytes = info.Size()
	}
	w := newWalker(v.tx.opened.file, l)
	if err := w.deep(l.root); err != nil {
		return err
	}
	freed, err := readFreeList(v.tx.opened.file, l.header)
	if err != nil {
		return err
	}
	v.contents.Free = len(freed)
	return everyPageOnce(w, l.header, freed)
}

// everyPageOnce compares the pages reached with the pages free.
func everyPageOnce(w *walker, h header, freed []uint64) error {
	list, err := readPage(w.f, h.free, h.pages, make([]byte, pageSize))
	if err != nil {
		return err
	}
	for id := uint64(2); id < h.pages; id++ {
		used := w.seen[id/64]&(1<<(id%64)) != 0
		if id >= h.free && id < h.free+uint64(len(list)/pageSize) {
			if used {
				return damaged("page %d is in use and holds the list of free pages", id)
			}
			continue
		}
		_, free := slices.BinarySearch(freed, id)
		if used && free {
			return usedAndFree(id)
		}
		if !used && !free {
			return damaged("page %d is neither in use nor listed as free", id)
		}
	}
	return nil
}

// sound is the error of a store that does not verify, or nil.
func (s *Store) sound(ctx context.Context) (Contents, error) {
	contents, problems, _, err := s.verify(ctx)
	if err != nil || len(problems) == 0 {
		return contents, err
	}
	p := problems[0]
	e := damagedEvent(p.Piece, p.Seq, "%s", p.What)
	e.Path = s.path
	return contents, e
}
