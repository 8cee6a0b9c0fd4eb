package store

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	"maps"
	"os"
	"slices"
	"time"
)

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

// foundEvent is one event. A number may have several: a commit that never became valid leaves its pages behind.
type foundEvent struct {
	rawEvent
	backup bool // found in a backup only
}

type remains struct {
	// The head with the furthest end, and the highest number; id is 0 when there was none.
	listed
	sure   bool     // the head is the one the store has now
	infos  [][]byte // as found
	sums   []uint32 // their checksums
	events map[uint64][]foundEvent
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
			events: map[uint64][]foundEvent{},
		}
	}
	return h.pieces[uid]
}

func (h *harvest) event(e rawEvent) {
	r := h.remainsOf(e.uid)
	if r.has(e.Seq, e.CRC) {
		return
	}
	r.events[e.Seq] = append(r.events[e.Seq], foundEvent{e, h.backup})
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
	return slices.ContainsFunc(r.events[seq], func(f foundEvent) bool { return f.CRC == crc })
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
func (r *remains) chain() []*foundEvent {
	last := r.Tail.Seq
	if !r.sure {
		last = max(last, slices.Max(append(slices.Collect(maps.Keys(r.events)), 0)))
	}
	chosen := make([]*foundEvent, last)
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

func (r *remains) choose(seq uint64, want uint32, wanted bool) *foundEvent {
	events := r.events[seq]
	for _, fits := range []func(foundEvent) bool{
		func(f foundEvent) bool { return wanted && f.CRC == want },
		r.continues,
		func(foundEvent) bool { return true },
	} {
		if i := slices.IndexFunc(events, fits); i >= 0 {
			return &events[i]
		}
	}
	return nil
}

// continues reports whether an event continues one that was found, or begins its log.
func (r *remains) continues(f foundEvent) bool {
	return f.Seq == 1 && f.before == 0 || f.Seq > 1 && r.has(f.Seq-1, f.before)
}
