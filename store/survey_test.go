package store_test

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/store"
)

// A page begins with its number, its kind (1 a branch, 2 a leaf), the count of its entries
// and of the pages that go on with it; then 16 bytes for each entry: of a leaf its flags (1 a
// bucket), place, length of the key and length of the value, of a branch place, length of the
// key and child.
const (
	pageKind     = 8
	pageCount    = 10
	pageOverflow = 12
	pageEntries  = 16
	entryBytes   = 16
)

var little = binary.LittleEndian

// wide is a store with many pieces and cached values, so that every part of it has pages of
// its own, as bytes.
func wide(t *testing.T, pieces, events, cached int) []byte {
	t.Helper()
	s := fresh(t)
	require.NoError(t, s.Update(ctx, func(tx *store.Tx) error {
		for i := range pieces {
			id, err := tx.NewPiece(fmt.Appendf(nil, "piece %d", i))
			require.NoError(t, err)
			for e := range events {
				_, err := tx.Append(id, event(fmt.Sprintf("row %d with its catches, and more of the kind so that few fit a page", e)))
				require.NoError(t, err)
			}
		}
		for c := range cached {
			require.NoError(t, tx.PutCache(cachedName(c), bytes.Repeat([]byte("state "), 150)))
		}
		return nil
	}))
	data, err := os.ReadFile(s.Path())
	require.NoError(t, err)
	return data
}

func cachedName(n int) []byte { return fmt.Appendf(nil, "plans %04d", n) }

// pagesOf gives the pages of a kind that hold a text, each with its place in the file.
func pagesOf(data []byte, kind uint16, text string) map[int][]byte {
	found := map[int][]byte{}
	for at := 2 * page; at+page <= len(data); at += page {
		p := data[at:][:page]
		if little.Uint64(p) == uint64(at/page) && little.Uint16(p[pageKind:]) == kind && bytes.Contains(p, []byte(text)) {
			found[at] = p
		}
	}
	return found
}

// flagged sets the flag of a bucket on the first entry of a leaf that is chosen by the lengths
// of its key and value.
func flagged(t *testing.T, data []byte, chosen func(key, value []byte) bool) []byte {
	t.Helper()
	for at, p := range pagesOf(data, 2, "") {
		for i := range int(little.Uint16(p[pageCount:])) {
			entry := p[pageEntries+entryBytes*i:]
			k, v := int(little.Uint32(entry[8:])), int(little.Uint32(entry[12:]))
			from := pageEntries + entryBytes*i + int(little.Uint32(entry[4:]))
			if little.Uint32(entry) == 0 && from+k+v <= page && chosen(p[from:from+k], p[from+k:from+k+v]) {
				bad := bytes.Clone(data)
				bad[at+pageEntries+entryBytes*i] |= 1
				return bad
			}
		}
	}
	require.Fail(t, "there is no such entry")
	return nil
}

// One bit can make bbolt take a head for a bucket and give nothing for it. The piece is not to
// seem gone by that, and salvage finds it.
func TestHeadThatIsFlaggedAsABucketIsDamage(t *testing.T) {
	for _, pieces := range []int{60, 400} {
		bad := flagged(t, wide(t, pieces, 3, 0), func(k, v []byte) bool { return len(k) == 8 && len(v) == 29 })
		s := asStore(t, bad)
		assert.Equal(t, store.ClassDamaged, store.ClassOf(s.View(ctx, func(*store.Tx) error { return nil })))
		requireRefusedStep(t, s)
		done, err := s.Salvage(ctx, filepath.Join(t.TempDir(), "new.store"), nil)
		require.NoError(t, err)
		assert.Len(t, done.Pieces, pieces)
	}
}

// The same bit on a cached value leaves a warning, and the step is done.
func TestCachedValueThatIsFlaggedAsABucketIsPassedOver(t *testing.T) {
	bad := flagged(t, wide(t, 60, 20, 60), func(k, _ []byte) bool { return bytes.Equal(k, cachedName(30)) })
	s := asStore(t, bad)
	require.NoError(t, s.Update(ctx, func(tx *store.Tx) error {
		_, ok := tx.Cache(cachedName(30))
		assert.False(t, ok)
		require.NoError(t, tx.PutCache(cachedName(30), []byte("new")))
		require.NoError(t, tx.DeleteCache(cachedName(30)))
		require.NotEmpty(t, tx.Warnings())
		assert.Contains(t, tx.Warnings()[0].Text, "the cache cannot be used")
		_, err := tx.Append(1, event("all the same"))
		return err
	}))
}

// Reading a log goes over more than its last page. One there that leads
// back to itself would send bbolt round until its stack is full, which nothing can catch.
func TestPageBeforeTheLastOfALogThatLeadsBackToItself(t *testing.T) {
	for _, events := range []int{300, 9000} { // all of the store is walked before a change, or too large for that
		data := wide(t, 1, events, 0)
		want := fmt.Sprintf("row %d with", events/2)
		for at, p := range pagesOf(data, 2, want) {
			entry := p[pageEntries:]
			first := bytes.Clone(p[pageEntries+int(little.Uint32(entry[4:])):][:8])
			if binary.BigEndian.Uint64(first) < 3 {
				continue
			}
			bad := bytes.Clone(data)
			loop := bad[at:][:page]
			clear(loop[pageKind:])
			little.PutUint16(loop[pageKind:], 1)
			little.PutUint16(loop[pageCount:], 1)
			little.PutUint32(loop[pageEntries:], entryBytes)
			little.PutUint32(loop[pageEntries+4:], 8)
			little.PutUint64(loop[pageEntries+8:], uint64(at/page))
			copy(loop[pageEntries+entryBytes:], first)
			s := asStore(t, bad)
			read := func(tx *store.Tx) error {
				_, err := tx.Records(1)
				return err
			}
			assert.Equal(t, store.ClassDamaged, store.ClassOf(s.View(ctx, read)))
			assert.Equal(t, store.ClassDamaged, store.ClassOf(s.Update(ctx, read)))
		}
	}
}

// A page that says it is longer than what it holds takes in pages of others, which bbolt
// would free with it.
func TestPageThatIsTooLongIsDamage(t *testing.T) {
	data := wide(t, 60, 120, 300)
	tried := 0
	for at, p := range pagesOf(data, 1, "plans ") {
		if little.Uint32(p[pageOverflow:]) != 0 {
			continue
		}
		for _, more := range []uint32{1, 2, 16} {
			bad := bytes.Clone(data)
			little.PutUint32(bad[at+pageOverflow:], more)
			s := asStore(t, bad)
			for n := range 20 {
				require.NoError(t, s.Update(ctx, func(tx *store.Tx) error {
					require.NoError(t, tx.PutCache(cachedName(150+n), []byte("new")))
					_, err := tx.Append(store.PieceID(1+n), event("all the same"))
					return err
				}), "the cache is given up, the step is done")
			}
			tried++
		}
	}
	assert.Positive(t, tried)
	for at := range pagesOf(data, 2, "row 60 with") {
		bad := bytes.Clone(data)
		little.PutUint32(bad[at+pageOverflow:], 1)
		report, err := asStore(t, bad).Check(ctx)
		require.NoError(t, err)
		assert.NotEmpty(t, report.Problems)
		break
	}
}
