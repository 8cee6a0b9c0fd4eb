package store_test

import (
	"bytes"
	"cmp"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.etcd.io/bbolt"

	"strandwise/store"
)

const page = 4096

// contents is all that a store tells, in one text.
func contents(s *store.Store) (string, error) {
	var b bytes.Buffer
	err := s.View(ctx, func(tx *store.Tx) error {
		for _, id := range tx.Pieces() {
			if err := tellPiece(&b, tx, id); err != nil {
				return err
			}
		}
		for _, name := range tx.Settings() {
			value, _ := tx.Setting(name)
			fmt.Fprintf(&b, "%s=%s\n", name, value)
		}
		return nil
	})
	return b.String(), err
}

// tellPiece tells one piece. The info of a test piece is the hash of its chart.
func tellPiece(b *bytes.Buffer, tx *store.Tx, id store.PieceID) error {
	info, err := tx.Info(id)
	if err != nil {
		return err
	}
	fmt.Fprintf(b, "piece %d %x\n", id, info)
	if len(info) == len(store.Hash{}) {
		chart, err := tx.Chart(store.Hash(info))
		if err != nil {
			return err
		}
		fmt.Fprintf(b, "chart %s\n", chart)
	}
	all, err := tx.Records(id)
	for _, r := range all {
		fmt.Fprintf(b, "%d %d %s %s\n", r.Seq, r.Kind, r.Time, r.Payload)
	}
	return err
}

var (
	historyOnce sync.Once
	historyMade [][]byte
)

// history is a store of 300 events in three pieces with a chart, settings and a
// cache, as bytes after every step. It is made once and not to be changed.
func history(t testing.TB) [][]byte {
	t.Helper()
	historyOnce.Do(func() { historyMade = makeHistory(t) })
	require.NotEmpty(t, historyMade, "it could not be made")
	return historyMade
}

func makeHistory(t testing.TB) [][]byte {
	t.Helper()
	s := fresh(t)
	var ids []store.PieceID
	require.NoError(t, s.Update(ctx, func(tx *store.Tx) error {
		hash, err := tx.PutChart(bytes.Repeat([]byte("..x..x.\n"), 40))
		require.NoError(t, err)
		for range 3 {
			id, err := tx.NewPiece(hash[:])
			require.NoError(t, err)
			ids = append(ids, id)
		}
		require.NoError(t, tx.PutSetting("pause", []byte("30")))
		return tx.PutSetting("hold", []byte("both in the left"))
	}))
	var states [][]byte
	for step := range 300 {
		id := ids[step%7%3]
		require.NoError(t, s.Update(ctx, func(tx *store.Tx) error {
			if step%20 == 0 {
				require.NoError(t, tx.PutCache([]byte("fold"), bytes.Repeat([]byte("state"), 200)))
			}
			_, err := tx.Append(id, event(fmt.Sprintf("row %d with its catches and more of the kind", step)))
			return err
		}))
		state, err := os.ReadFile(s.Path())
		require.NoError(t, err)
		states = append(states, state)
	}
	return states
}

// asStore writes bytes as a store of their own.
func asStore(t testing.TB, data []byte) *store.Store {
	t.Helper()
	path := filepath.Join(t.TempDir(), "pier.store")
	require.NoError(t, os.WriteFile(path, data, 0o600))
	return store.At(path, store.Options{Writer: func() string { return "test" }})
}

// refusedAsDamage reports whether an error is one of exit status 6.
func refusedAsDamage(err error) bool {
	c := store.ClassOf(err)
	return c == store.ClassDamaged || c == store.ClassForeign || c == store.ClassNewer
}

// harm is one kind of damage, done to a copy.
type harm struct {
	name string
	do   func(r *rand.Rand, data []byte, past [][]byte) []byte
}

// noise fills bytes at random.
func noise(r *rand.Rand, b []byte) {
	for i := range b {
		b[i] = byte(r.Uint32())
	}
}

// pageOf picks a page of the file.
func pageOf(r *rand.Rand, data []byte) []byte {
	at := r.IntN(len(data)/page) * page
	return data[at : at+page]
}

var harms = []harm{
	{"bit", func(r *rand.Rand, d []byte, _ [][]byte) []byte {
		d[r.IntN(len(d))] ^= 1 << r.IntN(8)
		return d
	}},
	{"byte", func(r *rand.Rand, d []byte, _ [][]byte) []byte {
		d[r.IntN(len(d))] += byte(1 + r.IntN(255))
		return d
	}},
	{"byte near the start of a page", func(r *rand.Rand, d []byte, _ [][]byte) []byte {
		pageOf(r, d)[r.IntN(80)] += byte(1 + r.IntN(255))
		return d
	}},
	{"sector of noise", func(r *rand.Rand, d []byte, _ [][]byte) []byte {
		noise(r, pageOf(r, d)[512*r.IntN(8):][:512])
		return d
	}},
	{"sector of zeros", func(r *rand.Rand, d []byte, _ [][]byte) []byte {
		clear(pageOf(r, d)[512*r.IntN(8):][:512])
		return d
	}},
	{"page of noise", func(r *rand.Rand, d []byte, _ [][]byte) []byte {
		noise(r, pageOf(r, d))
		return d
	}},
	{"page of zeros", func(r *rand.Rand, d []byte, _ [][]byte) []byte {
		clear(pageOf(r, d))
		return d
	}},
	{"two pages exchanged", func(r *rand.Rand, d []byte, _ [][]byte) []byte {
		a, b := pageOf(r, d), pageOf(r, d)
		keep := bytes.Clone(a)
		copy(a, b)
		copy(b, keep)
		return d
	}},
	{"page put over another, with its number", func(r *rand.Rand, d []byte, _ [][]byte) []byte {
		a, b := pageOf(r, d), pageOf(r, d)
		copy(a[8:], b[8:])
		return d
	}},
	{"stale page", func(r *rand.Rand, d []byte, past [][]byte) []byte {
		old := past[r.IntN(len(past))]
		at := r.IntN(len(old)/page) * page
		copy(d[at:at+page], old[at:])
		return d
	}},
	{"page stale by few steps", func(r *rand.Rand, d []byte, past [][]byte) []byte {
		old := past[len(past)-2-r.IntN(4)]
		at := (2 + r.IntN(len(old)/page-2)) * page
		copy(d[at:at+page], old[at:])
		return d
	}},
	{"cut", func(r *rand.Rand, d []byte, _ [][]byte) []byte {
		return d[:r.IntN(len(d))]
	}},
}

func TestRandomDamageIsNamedAndNeverTakenForGood(t *testing.T) {
	t.Parallel()
	past := history(t)
	good := past[len(past)-1]
	want, err := contents(asStore(t, good))
	require.NoError(t, err)
	before, err := contents(asStore(t, past[len(past)-2]))
	require.NoError(t, err)
	s := asStore(t, good)
	r := rand.New(rand.NewPCG(1, 2))
	for round := range rounds(240, 2000) {
		h := harms[round%len(harms)]
		t.Log(round, h.name)
		data := h.do(r, bytes.Clone(good), past)
		require.NoError(t, os.WriteFile(s.Path(), data, 0o600))
		got, err := contents(s)
		if err == nil {
			requireNotWrong(t, s, want, before, got)
		} else {
			require.True(t, refusedAsDamage(err), "%v", err)
			report, err := s.Check(ctx)
			require.True(t, refusedAsDamage(err) || len(report.Problems) > 0, "%v", err)
		}
		after, err := os.ReadFile(s.Path())
		require.NoError(t, err)
		require.True(t, bytes.Equal(data, after), "reading changed the file")
		tryStep(t, s, data, want)
	}
}

// requireNotWrong allows the last step to be missing only when a header is bad and
// a warning says so.
func requireNotWrong(t *testing.T, s *store.Store, want, before, got string) {
	t.Helper()
	if got == want {
		return
	}
	require.Equal(t, before, got, "a wrong value")
	require.NoError(t, s.View(ctx, func(tx *store.Tx) error {
		require.NotEmpty(t, tx.Warnings(), "the last step is missing without a word")
		return nil
	}))
}

// tryStep appends to every piece of a damaged store: it must be refused as damage
// with the file untouched, or be done and take nothing away.
func tryStep(t *testing.T, s *store.Store, data []byte, want string) {
	t.Helper()
	err := s.Update(ctx, func(tx *store.Tx) error {
		_, err := tx.Append(1, event("a step on a damaged file"))
		return err
	})
	if err != nil {
		require.True(t, refusedAsDamage(err), "%v", err)
		after, err := os.ReadFile(s.Path())
		require.NoError(t, err)
		require.True(t, bytes.Equal(data, after), "a refused step changed the file")
		return
	}
	got, err := contents(s)
	if err != nil {
		require.True(t, refusedAsDamage(err), "%v", err)
		return
	}
	assert.Contains(t, got, "a step on a damaged file")
	assert.GreaterOrEqual(t, len(got), len(want)-100)
}

// examined is what bbolt's own examination of a file finds first.
func examined(path string) (found error) {
	db, err := bbolt.Open(path, 0, &bbolt.Options{Timeout: time.Second, ReadOnly: true})
	if err != nil {
		return err
	}
	return db.View(func(tx *bbolt.Tx) error {
		for problem := range tx.Check() {
			found = cmp.Or(found, problem)
		}
		return found
	})
}

// Check walks the pages itself. What it calls sound bbolt's own examination calls so too, which
// is made in a process of its own, since a damaged file may end that.
func TestCheckFindsWhatTheDatabaseFinds(t *testing.T) {
	t.Parallel()
	past, folder := history(t), t.TempDir()
	r := rand.New(rand.NewPCG(3, 4))
	for _, good := range [][]byte{past[len(past)-1], wide(t, 60, 120, 300)} {
		var sound []string // files in which Check finds nothing
		examine := func() {
			status, said := run(t, "check", sound...)
			require.Zero(t, status, said)
			sound = nil
		}
		for round := range rounds(120, 1200) {
			h, s := harms[round%len(harms)], at(filepath.Join(folder, strconv.Itoa(round)))
			require.NoError(t, os.WriteFile(s.Path(), h.do(r, bytes.Clone(good), past), 0o600))
			if report, err := s.Check(ctx); err != nil || len(report.Problems) > 0 {
				require.NoError(t, os.Remove(s.Path()))
			} else if sound = append(sound, s.Path()); len(sound) == 20 {
				examine()
			}
		}
		examine()
	}
}
