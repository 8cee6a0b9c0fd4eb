package cmd

import (
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/cmd/answer"
	"strandwise/cmd/stored"
	"strandwise/session"
	"strandwise/store"
)

// lose is a piece as salvage gathers it, its events with the given numbers lost.
func lose(t *testing.T, events []session.Event, lost ...uint64) *store.Parcel {
	t.Helper()
	whole, err := store.ReadParcel([]byte(exportOf(t, seededStore(t, seed{name: "hat", times: 5, events: events}))), "export")
	require.NoError(t, err)
	p := whole.Pieces[0]
	log := p.Records
	p.Records = nil
	for _, r := range log {
		if slices.Contains(lost, r.Seq) {
			r.Kind, r.Payload = store.KindLost, nil
		}
		p.Add(r)
	}
	return whole
}

// rejoined mends it and makes a store of it.
func rejoined(t *testing.T, whole *store.Parcel) (path string, pieces []stored.Rescued) {
	t.Helper()
	pieces, err := stored.Rejoin(whole, []store.SalvagedPiece{{ID: 1, Info: whole.Pieces[0].Info}})
	require.NoError(t, err)
	path = filepath.Join(t.TempDir(), "rejoined.store")
	_, err = store.At(path, store.Options{}).Import(t.Context(), whole, store.ImportOptions{})
	require.NoError(t, err)
	return path, pieces
}

func TestRejoin(t *testing.T) {
	rows := planted("hat", 6).events // events 2 to 7
	noted := append(append([]session.Event{}, rows[:3]...), &session.Noted{Text: "slack"}, rows[3], rows[4])
	undone := append(append([]session.Event{}, rows[:3]...), &session.Undone{Seq: 4}, rows[2], rows[3])
	for name, c := range map[string]struct {
		events  []session.Event
		lost    []uint64
		row     int
		assumed int
		last    uint64 // where the log is cut, 0 when it is not
	}{
		"nothing":                  {rows, nil, 6, 0, 0},
		"a note":                   {noted, []uint64{5}, 5, 0, 0},
		"a row":                    {rows, []uint64{4}, 6, 1, 0},
		"two stretches of rows":    {rows, []uint64{3, 5, 6}, 6, 3, 0},
		"a note and a row":         {noted, []uint64{5, 6}, 5, 1, 0},
		"the last row":             {rows, []uint64{7}, 5, 0, 0},
		"a row that was undone":    {undone, []uint64{4}, 2, 0, 3},
		"an undoing, then the row": {undone, []uint64{5}, 3, 0, 4},
	} {
		t.Run(name, func(t *testing.T) {
			path, pieces := rejoined(t, lose(t, c.events, c.lost...))
			require.Len(t, pieces, 1)
			p := pieces[0]
			assert.Equal(t, []any{"hat", c.row, c.assumed, c.last > 0, c.last}, []any{p.Name, p.Row, p.Assumed, p.Cut, p.Last})
			got := onStore(t, path, "store", "check")
			assert.Zero(t, got.code, got.err)
		})
	}
}

func TestRejoinWithoutACastOn(t *testing.T) {
	path, pieces := rejoined(t, lose(t, planted("hat", 3).events, 1))
	assert.True(t, pieces[0].Cut)
	assert.Zero(t, pieces[0].Last)
	assert.Contains(t, onStore(t, path, "store", "check").out, "no pieces")
}

func TestSalvageGathersWhatIsWhole(t *testing.T) {
	path := seededStore(t, planted("hat", 40), planted("cowl", 2))
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	cut := len(data) / 4096 / 2 * 4096
	require.NoError(t, os.WriteFile(path, data[:cut], 0o600))
	before := sumOf(t, path)
	got := onStore(t, path, "store", "check")
	assert.Equal(t, 6, got.code)
	assert.Contains(t, got.err, "salvage")

	to := filepath.Join(t.TempDir(), "rescued.store")
	body := mustJSON[answer.Salvaged](t, path, 0, "store", "salvage", to)
	assert.False(t, body.Sure)
	assert.NotEmpty(t, body.Pieces)
	assert.Equal(t, before, sumOf(t, path))
	assert.Zero(t, onStore(t, to, "store", "check").code)
	assert.Equal(t, 1, onStore(t, path, "store", "salvage", to).code, "it is there already")

	got = onStore(t, path, "store", "restore", to, "--yes")
	assert.Zero(t, got.code, got.err)
	assert.Zero(t, onStore(t, path, "store", "check").code)
}

func TestSalvageTakesFromBackupsToo(t *testing.T) {
	path := seededStore(t, planted("hat", 40))
	require.Zero(t, onStore(t, path, "store", "backup").code)
	require.NoError(t, os.WriteFile(path, make([]byte, 8192), 0o600))
	to := filepath.Join(t.TempDir(), "rescued.store")
	got := onStore(t, path, "store", "salvage", to)
	assert.Zero(t, got.code, got.err)
	assert.Contains(t, got.out, "hat: 41 events, 41 of them from backups.")
	assert.Contains(t, got.out, "next: strandwise store restore "+to)
}

// The second of a pair finds its first by the first's number once the first has
// another name. So a piece that lost a row keeps its number through salvage, though
// its log is mended and a piece made before it is gone.
func TestSecondFindsItsMendedFirst(t *testing.T) {
	path := seededStore(t, planted("tide", 1), planted("left", 6))
	for _, args := range [][]string{
		{"pieces", "copy", "right", "--piece", "left"},
		{"pieces", "rename", "left", "port"},
		{"pieces", "remove", "tide", "--yes"},
	} {
		got := onStore(t, path, args...)
		require.Zero(t, got.code, "%v\n%s", args, got.err)
	}
	damageEvent(t, path, 2, 3)
	require.NoError(t, os.RemoveAll(path+".backups"))

	to := filepath.Join(t.TempDir(), "rescued.store")
	body := mustJSON[answer.Salvaged](t, path, 0, "store", "salvage", to)
	require.Equal(t, 1, body.Pieces[0].Assumed)
	inStore(t, to, func(tx *store.Tx) error {
		second, err := stored.Open(tx, "right", "%s")
		require.NoError(t, err)
		require.NotNil(t, second.First)
		assert.Equal(t, "port", second.First.State.Setup.Name)
		return nil
	})
}
