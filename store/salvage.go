package store

import (
	"bytes"
	"cmp"
	"context"
	"crypto/sha256"
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

// piece is what was found of a piece, with a lost record wherever an event is missing.
func (r *remains) piece(id PieceID) (*ParcelPiece, SalvagedPiece) {
	whole := &ParcelPiece{ID: id, UID: r.UID, Info: r.info()}
	p := SalvagedPiece{UID: r.UID, ID: id, Info: whole.Info}
	for i, f := range r.chain() {
		if f == nil {
			p.Gaps = WithLost(p.Gaps, uint64(i)+1)
			whole.Add(Record{Kind: KindLost, Time: time.Unix(0, 0).UTC()})
			continue
		}
		whole.Add(f.Record)
		p.Events++
		if f.backup {
			p.FromBackup++
		}
	}
	return whole, p
}

// found is one event. A number may have several: a commit that never became valid leaves its pages behind.
type found struct {
	rawEvent
	backup bool // found in a backup only
}

type remains struct {
	// The head with the furthest end, and the highest number; id is 0 when there was none.
	listed
	sure   bool     // the head is the one the store has now
	infos  [][]byte // as found
	sums   []uint32 // their checksums
	events map[uint64][]found
}

// harvest gathers whatever vouches for itself from the pages of damaged files: events and infos by
// their checksum, charts by their hash. Every page is tried, whether anything leads to it or not.
type harvest struct {
	pieces map[UID]*remains
	charts map[Hash][]byte
	backup bool // what is being read is a backup

	settings []ParcelSetting // of the newest file that tells
}

func newHarvest() *harvest {
	return &harvest{pieces: map[UID]*remains{}, charts: map[Hash][]byte{}}
}

func (h *harvest) file(path string) error {
	data, err := os.ReadFile(path)
	h.read(data)
	return err
}

// read gathers from the bytes of a file. The last page may be cut.
func (h *harvest) read(data []byte) {
	data = append(data, make([]byte, (pageSize-len(data)%pageSize)%pageSize)...)
	for at := 0; at < len(data); at += pageSize {
		length := uint64(pageSize)
		if more := page(data[at:]).more(); more < uint64(len(data)-at)/pageSize {
			length += more * pageSize
		}
		h.page(data[at:][:length])
	}
}

// page gathers from one page, taken for a leaf. The count is believed as far as it fits.
func (h *harvest) page(p page) {
	for i := range min(p.count(), (len(p)-pageHeader)/entrySize) {
		e, ok := p.element(i, true)
		switch {
		case !ok:
		case e.bucket && len(e.value) >= 2*pageHeader && e.root() == 0:
			h.page(e.value[pageHeader:])
		default:
			h.element(e)
		}
	}
}

func (h *harvest) element(e element) {
	if event, ok := decodeEvent(e.key, e.value); ok {
		h.event(event)
		return
	}
	if head, ok := decodeHead(e.key, e.value); ok {
		h.head(head)
		return
	}
	if info, uid, ok := decodeInfo(e.value); ok && bytes.Equal(e.key, keyInfo) {
		r := h.remainsOf(uid)
		r.infos = append(r.infos, info)
		r.sums = append(r.sums, crcOf(e.value))
		return
	}
	if len(e.key) == len(Hash{}) && sha256.Sum256(e.value) == [32]byte(e.key) {
		h.charts[Hash(e.key)] = bytes.Clone(e.value)
	}
}

func (h *harvest) remainsOf(uid UID) *remains {
	if h.pieces[uid] == nil {
		h.pieces[uid] = &remains{
			listed: listed{pieceHead: pieceHead{UID: uid}},
			events: map[uint64][]found{},
		}
	}
	return h.pieces[uid]
}

func (h *harvest) event(e rawEvent) {
	r := h.remainsOf(e.uid)
	if r.has(e.Seq, e.CRC) {
		return
	}
	r.events[e.Seq] = append(r.events[e.Seq], found{e, h.backup})
}

// head keeps the furthest end, unless the store itself still promises one.
func (h *harvest) head(head listed) {
	r := h.remainsOf(head.UID)
	if r.sure {
		return
	}
	if head.Tail.Seq > r.Tail.Seq || r.id == 0 {
		r.pieceHead = head.pieceHead
	}
	r.id = max(r.id, head.id)
}

func (r *remains) has(seq uint64, crc uint32) bool {
	return slices.ContainsFunc(r.events[seq], func(f found) bool { return f.CRC == crc })
}

// info is the one the head promised, else the first found, which is the newest.
func (r *remains) info() []byte {
	if len(r.infos) == 0 {
		return nil
	}
	return r.infos[max(0, slices.Index(r.sums, r.Info))]
}

func (h *harvest) sorted() []*remains {
	return slices.SortedFunc(maps.Values(h.pieces), func(a, b *remains) int {
		return cmp.Or(cmp.Compare(a.id-1, b.id-1), bytes.Compare(a.UID[:], b.UID[:])) // unknown, 0, comes last
	})
}

// chain chooses one event a number, from the end back: the one the later event continues, else
// one that continues an earlier event, else the first found. A number with none is left empty.
func (r *remains) chain() []*found {
	last := r.Tail.Seq
	if !r.sure {
		last = max(last, slices.Max(append(slices.Collect(maps.Keys(r.events)), 0)))
	}
	chosen := make([]*found, last)
	want, wanted := r.Tail.CRC, last == r.Tail.Seq
	for seq := last; seq > 0; seq-- {
		f := r.choose(seq, want, wanted)
		chosen[seq-1] = f
		if wanted = f != nil; wanted {
			want = f.before
		}
	}
	return chosen
}

func (r *remains) choose(seq uint64, want uint32, wanted bool) *found {
	events := r.events[seq]
	for _, fits := range []func(found) bool{
		func(f found) bool { return wanted && f.CRC == want },
		r.continues,
		func(found) bool { return true },
	} {
		if i := slices.IndexFunc(events, fits); i >= 0 {
			return &events[i]
		}
	}
	return nil
}

// continues reports whether an event continues one that was found, or begins its log.
func (r *remains) continues(f found) bool {
	return f.Seq == 1 && f.before == 0 || f.Seq > 1 && r.has(f.Seq-1, f.before)
}
