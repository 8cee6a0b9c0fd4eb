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

// Report is what Check found.
type Report struct {
	Path     string
	Contents Contents
	Problems []Problem // empty for a sound store
	Warnings []Warning
	// PageCheck says how bbolt's own examination went: "sound", or why it was not
	// made. What it finds is among the Problems.
	PageCheck string
	Original  string // what bbolt said of it, for a report
}

// Check reads the whole store, refolding nothing but verifying every byte that is
// in use, and changes nothing. Damage is in the report, not in the error; the
// error is for a store that cannot be read at all, or is none.
func (s *Store) Check(ctx context.Context) (Report, error) {
	r := Report{Path: s.path}
	var err error
	r.Contents, r.Problems, r.Warnings, err = s.verify(ctx)
	if err != nil {
		return r, err
	}
	if len(r.Problems) > 0 {
		r.PageCheck = "not made, since the pages are known to be damaged"
		return r, nil
	}
	var found []Problem
	r.PageCheck, found, r.Original = s.checkInChild(ctx)
	r.Problems = append(r.Problems, found...)
	return r, nil
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
	if v.tx.file.oneBad {
		v.note(damaged(headerDamage))
	}
	err := v.tx.beginHeads()
	var older *olderError
	if errors.As(err, &older) {
		v.contents.Schema = older.have
		return v.pages()
	}
	if err != nil {
		return err
	}
	for _, read := range []func() error{v.origin, v.pieces, v.tx.sameCharts, v.charts, v.tx.sameSettings, v.settings, v.cache, v.pages} {
		if err := read(); err != nil {
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
	_, err := v.tx.origin()
	return err
}

// pieces reads every piece and its log, and makes sure that none is there without
// being listed.
func (v *verifier) pieces() error {
	for _, h := range v.tx.heads() {
		v.contents.Pieces++
		if _, err := v.tx.Info(h.id); err != nil {
			v.note(err)
		}
		for _, err := range v.tx.Records(h.id) {
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
			if _, found := v.tx.head(PieceID(big.Uint64(k))); found {
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
	return b.ForEach(func(k, chart []byte) error {
		v.contents.Charts++
		if hash := sha256.Sum256(chart); string(hash[:]) != string(k) {
			v.note(damaged("the stored chart %x does not match its checksum", k[:min(4, len(k))]))
		}
		return nil
	})
}

// settings counts the settings, which were held against the summary.
func (v *verifier) settings() error {
	names, err := v.tx.Settings()
	v.contents.Settings = len(names)
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

// pages compares what was found when the file was opened with the free list: every page
// must be either in use, once, or free.
func (v *verifier) pages() error {
	in := v.tx.file.headers
	v.contents.Pages = int(in.pages)
	if info, err := v.tx.file.file.Stat(); err == nil {
		v.contents.Bytes = info.Size()
	}
	if err := v.tx.survey.first(); err != nil {
		return err
	}
	freed, err := readFreeList(v.tx.file.file, in.header)
	if err != nil {
		return err
	}
	v.contents.Free = len(freed)
	return everyPageOnce(v.tx.survey, freed)
}

// everyPageOnce compares the pages in use with the pages free.
func everyPageOnce(s *survey, freed []uint64) error {
	list, err := readPage(s.file, s.in.free, s.in.pages)
	if err != nil {
		return err
	}
	after := s.in.free + uint64(len(list)/pageSize)
	for id := uint64(2); id < s.in.pages; id++ {
		_, used := s.owners[id]
		_, free := slices.BinarySearch(freed, id)
		switch lists := id >= s.in.free && id < after; {
		case lists && used:
			return damaged("page %d is in use and holds the list of free pages", id)
		case used && free:
			return usedAndFree(id)
		case !lists && !used && !free:
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
