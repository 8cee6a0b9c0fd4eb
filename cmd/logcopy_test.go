package cmd

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"strandwise/session"
	"strandwise/store"
)

// longLog is a store with a piece whose log is long enough for a copy, made by the
// program itself.
func longLog(t *testing.T) string {
	t.Helper()
	path := seededStore(t, planted("hat", 3))
	for range copyEvery/100 + 1 {
		require.Zero(t, onStore(t, path, "knit", "--to", "55", "--quiet").code)
		require.Zero(t, onStore(t, path, "rip", "52", "--yes", "--quiet").code)
		require.Zero(t, onStore(t, path, "knit", "--to", "55", "--quiet").code)
		require.Zero(t, onStore(t, path, "rip", "52", "--yes", "--quiet").code)
	}
	require.Zero(t, onStore(t, path, "knit").code)
	return path
}

// bothLogs reads the log of the first piece with and without its copy.
func bothLogs(t *testing.T, path string) (whole, quick []session.Record, copied int) {
	t.Helper()
	inStore(t, path, func(tx *store.Tx) (err error) {
		if whole, err = readLog(tx, 1); err != nil {
			return err
		}
		quick, copied, err = quickLog(tx, 1)
		return err
	})
	return whole, quick, copied
}

func TestCopyOfTheLogIsTheLog(t *testing.T) {
	path := longLog(t)
	whole, quick, copied := bothLogs(t, path)
	assert.Greater(t, copied, copyEvery/2)
	assert.Less(t, copied, len(whole))
	require.Len(t, quick, len(whole))
	for i := range whole {
		assert.True(t, whole[i].At.Equal(quick[i].At))
		_, zone := whole[i].At.Zone()
		_, same := quick[i].At.Zone()
		assert.Equal(t, zone, same)
		quick[i].At = whole[i].At
	}
	assert.Equal(t, whole, quick)
}

func TestCopyThatDoesNotFitIsPassedOver(t *testing.T) {
	for name, spoil := range map[string]func(*store.Tx, []byte, []byte) error{
		"of another log": func(tx *store.Tx, name, kept []byte) error {
			records, mark, _ := readCopy(kept, 1<<20)
			mark.CRC++
			return tx.PutCache(name, makeCopy(records[:1], mark))
		},
		"longer than the log": func(tx *store.Tx, name, kept []byte) error {
			records, mark, _ := readCopy(kept, 1<<20)
			mark.Seq += 1000
			return tx.PutCache(name, makeCopy(records, mark))
		},
		"of another format": func(tx *store.Tx, name, kept []byte) error {
			return tx.PutCache(name, append([]byte{copyFormat + 1}, kept[1:]...))
		},
		"cut short": func(tx *store.Tx, name, kept []byte) error { return tx.PutCache(name, kept[:len(kept)-1]) },
		"empty":     func(tx *store.Tx, name, _ []byte) error { return tx.PutCache(name, nil) },
	} {
		t.Run(name, func(t *testing.T) {
			path := longLog(t)
			inStore(t, path, func(tx *store.Tx) error {
				key, err := copyName(tx, 1)
				require.NoError(t, err)
				kept, ok := tx.Cache(key)
				require.True(t, ok)
				return spoil(tx, key, append([]byte(nil), kept...))
			})
			whole, quick, copied := bothLogs(t, path)
			assert.Zero(t, copied)
			assert.Equal(t, whole, quick)
		})
	}
}

func TestCopyReadsBackWhatWasWritten(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var records []session.Record
		seq := uint64(0)
		for range rapid.IntRange(0, 30).Draw(t, "records") {
			seq += rapid.Uint64Range(1, 3).Draw(t, "step")
			at := time.Unix(rapid.Int64Range(-62_000_000_000, 250_000_000_000).Draw(t, "at"), rapid.Int64Range(0, 999_999_999).Draw(t, "nanos"))
			zone := time.FixedZone("", rapid.IntRange(-50000, 50000).Draw(t, "zone"))
			records = append(records, session.Record{
				Seq: seq, Kind: rapid.Uint16().Draw(t, "kind"), At: at.In(zone),
				Payload: rapid.SliceOfN(rapid.Byte(), 0, 40).Draw(t, "payload"),
			})
		}
		mark := store.Mark{Seq: seq, CRC: rapid.Uint32().Draw(t, "crc")}
		kept := makeCopy(records, mark)
		got, same, ok := readCopy(kept, seq+5)
		require.True(t, ok)
		require.Equal(t, mark, same)
		require.Len(t, got, len(records))
		for i, r := range records {
			require.True(t, r.At.Equal(got[i].At))
			require.Equal(t, r.At.Format(time.RFC3339Nano), got[i].At.Format(time.RFC3339Nano))
			require.Equal(t, []any{r.Seq, r.Kind}, []any{got[i].Seq, got[i].Kind})
			require.Equal(t, string(r.Payload), string(got[i].Payload))
		}
		for cut := range kept {
			_, _, ok := readCopy(kept[:cut], seq+5)
			require.False(t, ok)
		}
	})
}

func FuzzReadCopy(f *testing.F) {
	f.Add(makeCopy([]session.Record{{Seq: 1, Kind: 2, At: seedTime, Payload: []byte("row")}}, store.Mark{Seq: 1, CRC: 7}))
	f.Add([]byte{copyFormat, 255, 255, 3, 0, 200, 1})
	f.Fuzz(func(t *testing.T, kept []byte) {
		records, mark, ok := readCopy(kept, 1<<12)
		if ok && uint64(len(records)) > mark.Seq {
			t.Fatal("more records than events")
		}
	})
}
