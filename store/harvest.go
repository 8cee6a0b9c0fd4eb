package store

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	"os"
	"slices"
)

// found is one event with its checksum right. Several under one number can be
// found: a commit that never became valid leaves its pages behind.
type found struct {
	rawEvent
	backup bool // found in a backup only
}

// remains is all that was found of one piece.
type remains struct {
	uid    UID
	id     PieceID // the highest number a head gave it; 0 when no head was found
	tail   Mark    // the furthest end a head promised
	crc    uint32  // of the info that the same head promised
	sure   bool    // the head is the one the store has now
	infos  []foundInfo
	events map[uint64][]found
}

// foundInfo is one info with its checksum right.
type foundInfo struct {
	info []byte
	crc  uint32
}

// harvest gathers whatever vouches for itself from the pages of damaged files:
// events and infos carry their piece and a checksum, charts lie under their hash.
// It trusts no tree: every page is tried, whether anything leads to it or not.
type harvest struct {
	pieces map[UID]*remains
	charts map[Hash][]byte
	backup bool // what is being read is a backup
}

// newHarvest is an empty one.
func newHarvest() *harvest {
	return &harvest{pieces: map[UID]*remains{}, charts: map[Hash][]byte{}}
}

// file gathers from a whole file.
func (h *harvest) file(path string) error {
	data, err := os.ReadFile(path)
	if err != nil {
		return err
	}
	h.read(data)
	return nil
}

// read gathers from the bytes of a file. The last page may be cut.
func (h *harvest) read(data []byte) {
	data = append(data, make([]byte, (pageSize-len(data)%pageSize)%pageSize)...)
	for at := 0; at < len(data); at += pageSize {
		length := pageSize
		if more := int(native.Uint32(data[at+12:])); more > 0 && more < (len(data)-at)/pageSize {
			length += more * pageSize
		}
		h.page(data[at : at+length])
	}
}

// page gathers from one page, taken for a leaf. The count is believed as far as
// it fits.
func (h *harvest) page(page []byte) {
	count := min(int(native.Uint16(page[10:])), (len(page)-pageHeader)/pageHeader)
	for i := range count {
		e, ok := leafElement(page, i)
		if !ok {
			continue
		}
		if e.bucket && len(e.value) >= 2*pageHeader && native.Uint64(e.value) == 0 {
			h.page(e.value[pageHeader:])
			continue
		}
		h.element(e)
	}
}

// element keeps an entry that vouches for itself.
func (h *harvest) element(e element) {
	if event, ok := decodeEvent(e.key, e.value); ok {
		h.event(event)
		return
	}
	if head, ok := decodeHead(e.key, e.value); ok {
		h.head(head)
		return
	}
	if info, uid, crc, ok := decodeInfo(e.value); ok && bytes.Equal(e.key, keyInfo) {
		r := h.of(uid)
		r.infos = append(r.infos, foundInfo{bytes.Clone(info), crc})
		return
	}
	if len(e.key) == len(Hash{}) && sha256.Sum256(e.value) == [32]byte(e.key) {
		h.charts[Hash(e.key)] = bytes.Clone(e.value)
	}
}

// of is what was found of a piece so far.
func (h *harvest) of(uid UID) *remains {
	if h.pieces[uid] == nil {
		h.pieces[uid] = &remains{uid: uid, events: map[uint64][]found{}}
	}
	return h.pieces[uid]
}

// event keeps an event, once.
func (h *harvest) event(e rawEvent) {
	r := h.of(e.uid)
	if slices.ContainsFunc(r.events[e.seq], func(f found) bool { return f.crc == e.crc }) {
		return
	}
	e.value = bytes.Clone(e.value)
	r.events[e.seq] = append(r.events[e.seq], found{e, h.backup})
}

// head keeps the furthest end. What the store itself promises is put over it
// later, when it still can promise.
func (h *harvest) head(head pieceHead) {
	r := h.of(head.uid)
	r.id = max(r.id, head.id)
	if head.tail.Seq > r.tail.Seq || r.crc == 0 {
		r.tail, r.crc = head.tail, head.info
	}
}

// info is the one the head promised, else the first found: the store is read
// before its backups, and they the newest first. ok is false when none was found.
func (r *remains) info() (info []byte, ok bool) {
	for _, f := range r.infos {
		if f.crc == r.crc {
			return f.info, true
		}
	}
	if len(r.infos) == 0 {
		return nil, false
	}
	return r.infos[0].info, true
}

// sorted lists what was found, in the order the pieces were made as far as known.
func (h *harvest) sorted() []*remains {
	var all []*remains
	for _, r := range h.pieces {
		all = append(all, r)
	}
	slices.SortFunc(all, func(a, b *remains) int {
		if c := cmp.Compare(a.id-1, b.id-1); c != 0 { // unknown, 0, comes last
			return c
		}
		return bytes.Compare(a.uid[:], b.uid[:])
	})
	return all
}

// chain chooses one event a number, from the end back: the one the later event
// continues, else one that continues an earlier event, else the first found. A
// number with none is left empty.
func (r *remains) chain() []*found {
	last := r.tail.Seq
	for seq := range r.events {
		last = max(last, seq)
	}
	if r.sure {
		last = r.tail.Seq
	}
	chosen := make([]*found, last)
	want, wanted := r.tail.CRC, last == r.tail.Seq
	for seq := last; seq > 0; seq-- {
		f := r.choose(seq, want, wanted)
		chosen[seq-1] = f
		if wanted = f != nil; wanted {
			want = f.before
		}
	}
	return chosen
}

// choose picks the event for a number.
func (r *remains) choose(seq uint64, want uint32, wanted bool) *found {
	events := r.events[seq]
	for i := range events {
		if wanted && events[i].crc == want {
			return &events[i]
		}
	}
	for i := range events {
		if r.continues(events[i]) {
			return &events[i]
		}
	}
	if len(events) == 0 {
		return nil
	}
	return &events[0]
}

// continues reports whether an event continues one that was found, or begins its log.
func (r *remains) continues(f found) bool {
	if f.seq == 1 {
		return f.before == 0
	}
	return slices.ContainsFunc(r.events[f.seq-1], func(earlier found) bool { return earlier.crc == f.before })
}
