package session

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestFoldOfNothing(t *testing.T) {
	s := fold(t, nil)
	assert.Zero(t, s.Total())
	assert.Zero(t, s.Next())
	assert.Equal(t, Segment{}, s.SegmentAt(1))
	_, err := s.Undo()
	assert.Equal(t, refuseNotCastOn(), err)
	_, err = s.Redo()
	assert.Equal(t, refuseNotCastOn(), err)
}

func TestFoldNamesTheEventAtFault(t *testing.T) {
	good := castOn(t, 3).records
	with := func(i int, change func(*Record)) []Record {
		records := append([]Record{}, good...)
		change(&records[i])
		return records
	}
	encoded := func(e Event) func(*Record) {
		return func(r *Record) { r.Kind, r.Payload = Encode(e) }
	}
	cases := []struct {
		name    string
		records []Record
		seq     uint64
		want    error
	}{
		{"newer", with(2, func(r *Record) { r.Kind = 77 }), 3, &NewerError{Kind: 77}},
		{"damaged", with(2, func(r *Record) { r.Payload = []byte{1} }), 3, &MalformedError{KindRowKnit, 1, "it ends too soon"}},
		{"other kind damaged", with(2, func(r *Record) { r.Kind = 3 }), 3, &MalformedError{KindRipped, 1, "bytes are left over"}},
		{"row twice", with(2, encoded(&RowKnit{Row: 1})), 3, &RefusedError{What: "round 1 is already logged; the round to work is 2"}},
		{"no cast-on", good[1:], 2, refuseNotCastOn()},
		{"undoing first", with(0, encoded(&Undone{Seq: 1})), 1, refuseNotCastOn()},
		{"undoing the cast-on", with(1, encoded(&Undone{Seq: 1})), 2, &RefusedError{What: "only the cast-on of harbour band is left, and a cast-on cannot be undone; remove the piece instead", Piece: "harbour band"}},
		{"undoing out of turn", with(3, encoded(&Undone{Seq: 2})), 4, &RefusedError{What: "cannot undo event 2: event 3 comes first; undo that one"}},
		{"redoing nothing", with(3, encoded(&Redone{Seq: 2})), 4, &RefusedError{What: "nothing to redo: no undo since the last change; log the step again instead"}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			_, err := Fold(c.records)
			var at *EventError
			require.ErrorAs(t, err, &at)
			assert.Equal(t, c.seq, at.Seq)
			assertRefused(t, c.want, at.Err)
		})
	}
}

func TestFoldAllowsGaps(t *testing.T) {
	records := castOn(t, 2).records
	records[1].Seq, records[2].Seq = 5, 9
	assert.EqualValues(t, 9, fold(t, records).LastSeq)
}

// A clock set back changes nothing but what is displayed.
func TestFoldIgnoresTheClock(t *testing.T) {
	l := castOn(t, 3)
	back := append([]Record{}, l.records...)
	for i := range back {
		back[i].At = noon.AddDate(-i, 0, 0)
	}
	want, wantRows := fabric(l.state)
	got, gotRows := fabric(fold(t, back))
	for i := range gotRows {
		gotRows[i].At = wantRows[i].At
	}
	assert.Equal(t, want, got)
	assert.Equal(t, wantRows, gotRows)
	assert.Equal(t, noon.AddDate(-3, 0, 0), fold(t, back).LastAt)
}

// BenchmarkFold folds a piece of 5,000 rows with 40 catches each, one row in ten
// worked otherwise than shown.
func BenchmarkFold(b *testing.B) {
	records := bigLog(b, 5000, 40)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Fold(records); err != nil {
			b.Fatal(err)
		}
	}
}

func bigLog(t require.TestingT, rows, catches int) []Record {
	first := band()
	first.Parts[0].Times = 1000
	kind, payload := Encode(first)
	records := []Record{{Seq: 1, Kind: kind, Payload: payload, At: noon}}
	for row := 1; row <= rows; row++ {
		marks := make([]Mark, catches)
		for i := range marks {
			marks[i] = Mark{Stitch: 12*i + 5 + row%2, Yarn: i % 2}
		}
		e := &RowKnit{Row: row, Shown: marks, Used: marks}
		if row%10 == 0 {
			e.Used = marks[1:]
		}
		kind, payload := Encode(e)
		records = append(records, Record{Seq: uint64(row + 1), Kind: kind, Payload: payload, At: noon})
	}
	s, err := Fold(records)
	require.NoError(t, err)
	require.Equal(t, rows, s.Row)
	return records
}
