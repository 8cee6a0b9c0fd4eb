package cmd

import (
	"context"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"strandwise/chart"
	"strandwise/cmd/stored"
	"strandwise/session"
	"strandwise/store"
)

// seedTime is when seeded pieces were cast on; an event comes every minute after.
var seedTime = time.Date(2031, 3, 9, 9, 0, 0, 0, time.UTC)

// seed is a piece to be put into a store without any command.
type seed struct {
	name   string
	times  int             // repeats upward of the band of 12 rows
	events []session.Event // after the cast-on
}

// planted makes a piece of 60 rows, some of them knitted as planned.
func planted(name string, rows int) seed {
	s := seed{name: name, times: 5}
	for row := range rows {
		s.events = append(s.events, &session.RowKnit{Row: row + 1})
	}
	return s
}

// seededStore makes a store with the pieces in a new folder and returns its path.
func seededStore(t testing.TB, pieces ...seed) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "pieces.store")
	require.NoError(t, store.At(path, store.Options{}).CreateWith(context.Background(), func(*store.Tx) error { return nil }))
	plantIn(t, path, pieces...)
	return path
}

// plantIn adds pieces to a store, each in one transaction.
func plantIn(t testing.TB, path string, pieces ...seed) {
	t.Helper()
	text, err := os.ReadFile("../examples/lantern-band.chart")
	require.NoError(t, err)
	band, err := chart.Parse("lantern-band.chart", text)
	require.NoError(t, err)
	for _, p := range pieces {
		err := store.At(path, store.Options{}).Update(context.Background(), func(tx *store.Tx) error {
			hash, err := tx.PutChart(text)
			if err != nil {
				return err
			}
			id, err := tx.NewPiece(nil)
			if err != nil {
				return err
			}
			return plantEvents(tx, id, append([]session.Event{castOnOf(p, hash, len(band.Rows))}, p.events...))
		})
		require.NoError(t, err)
	}
}

func castOnOf(p seed, hash [32]byte, rows int) *session.CastOn {
	return &session.CastOn{
		Name:  p.name,
		Parts: []session.PartRef{{Name: "lantern-band.chart", Hash: hash, Repeats: 6, Times: p.times, Rows: rows}},
		Gauge: "24x26/10cm", Limit: 6, RestLimit: 6,
		Grip: session.Grip{Hold: "two-hands", Carry: "parallel", Method: "weave", Dominant: "pattern"},
	}
}

// plantEvents appends events and keeps the piece's info.
func plantEvents(tx *store.Tx, id store.PieceID, events []session.Event) error {
	records, err := stored.ReadLog(tx, id)
	if err != nil {
		return err
	}
	for _, e := range events {
		kind, payload := session.Encode(e)
		at := seedTime.Add(time.Duration(len(records)) * time.Minute)
		seq, err := tx.Append(id, store.Record{Kind: kind, Time: at, Payload: payload})
		if err != nil {
			return err
		}
		records = append(records, session.Record{Seq: seq, Kind: kind, At: at, Payload: payload})
	}
	state, err := session.Fold(records)
	if err != nil {
		return err
	}
	return stored.KeepInfo(tx, id, state)
}
