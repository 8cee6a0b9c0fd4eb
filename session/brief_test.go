package session

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// requireSameStep compares all that a step asks of two states.
func requireSameStep(t require.TestingT, want, got *State) {
	requireSameFabric(t, want, got)
	require.Equal(t, []any{want.LastSeq, want.CanUndo, want.CanRedo}, []any{got.LastSeq, got.CanUndo, got.CanRedo})
	require.True(t, want.LastAt.Equal(got.LastAt))
	require.Equal(t, want.PlanKey(), got.PlanKey())
	a, b := want.Newest(), got.Newest()
	require.Equal(t, []any{a.Seq, a.Kind, a.Cancelled, string(a.payload)}, []any{b.Seq, b.Kind, b.Cancelled, string(b.payload)})
	for row := range want.Row + 2 {
		require.Equal(t, want.GripAt(row), got.GripAt(row))
	}
	for row := 1; row <= want.Row; row++ {
		require.Equal(t, want.DoneRow(row), got.DoneRow(row))
	}
	require.Equal(t, want.Brief(), got.Brief())
}

// A brief made anywhere in a log and continued to any later place is the fold of the log
// up to there, unless an undoing or a redoing lies between.
func TestBriefContinuedIsFold(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := drawLog(t, 40)
		cut := rapid.IntRange(1, len(l.records)).Draw(t, "cut")
		to := rapid.IntRange(cut, len(l.records)).Draw(t, "to")
		got, ok, err := Continue(fold(t, l.records[:cut]).Brief(), l.records[cut:to])
		require.NoError(t, err)
		for _, r := range l.records[cut:to] {
			if k := Kind(r.Kind); k == KindUndone || k == KindRedone {
				require.False(t, ok)
				return
			}
		}
		require.True(t, ok)
		requireSameStep(t, fold(t, l.records[:to]), got)
	})
}

// A state made from a brief can be added to, once and twice, as any other.
func TestBriefIsExtended(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := drawLog(t, 30)
		short, ok, err := Continue(l.state.Brief(), nil)
		require.NoError(t, err)
		require.True(t, ok)
		var more *testLog
		for range 2 {
			more = &testLog{t: t, records: append([]Record{}, l.records...), state: l.state}
			got := short
			for range rapid.IntRange(1, 3).Draw(t, "steps") {
				if e := draws[rapid.SampledFrom([]string{"row", "rip", "note", "pause", "hold"}).Draw(t, "kind")](t, more.state); more.state.Check(e) == nil {
					require.NoError(t, got.Check(e))
					more.add(e)
					got, err = Extend(got, more.records[len(more.records)-1])
					require.NoError(t, err)
				}
			}
			requireSameStep(t, more.state, got)
		}
		requireSameStep(t, l.state, short)
	})
}

// The time of a row stays the same to the nanosecond, in the zone it was logged in.
func TestBriefKeepsTimes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := time.Unix(rapid.Int64Range(-62_000_000_000, 250_000_000_000).Draw(t, "at"), rapid.Int64Range(0, 999_999_999).Draw(t, "nanos"))
		at = at.In(time.FixedZone("", rapid.IntRange(-50_000, 50_000).Draw(t, "zone")))
		r := &reader{b: appendTime(nil, at)}
		got := r.time()
		require.Equal(t, len(r.b), r.at)
		require.Equal(t, at.Format(time.RFC3339Nano), got.Format(time.RFC3339Nano))
	})
}

func TestBriefThatCannotServe(t *testing.T) {
	l := castOn(t, 3)
	good := l.state.Brief()
	for cut := range good {
		_, ok, err := Continue(good[:cut], nil)
		assert.False(t, ok, cut)
		assert.NoError(t, err)
	}
	_, ok, _ := Continue(append([]byte{briefVersion + 1}, good[1:]...), nil)
	assert.False(t, ok, "of another version")
	_, ok, _ = Continue(append(append([]byte{}, good...), 0), nil)
	assert.False(t, ok, "with bytes left over")
}

// What comes after a brief is checked as the log is, and told by the same errors.
func TestBriefRefusesWhatFoldRefuses(t *testing.T) {
	l := castOn(t, 3)
	brief := l.state.Brief()
	kind, payload := Encode(&RowKnit{Row: 9})
	for _, r := range []Record{{5, kind, noon, payload}, {5, kind, noon, payload[:1]}, {4, kind, noon, payload}, {5, 4242, noon, nil}} {
		_, want := Fold(append(l.state.Records(), r))
		_, ok, got := Continue(brief, []Record{r})
		require.True(t, ok)
		require.Error(t, want)
		require.Equal(t, want, got)
	}
}

// A state without its log never tells a part of it as if it were all.
func TestBriefHasNoLog(t *testing.T) {
	s, ok, err := Continue(castOn(t, 3).state.Brief(), nil)
	require.NoError(t, err)
	require.True(t, ok)
	undo, err := s.Undo()
	require.NoError(t, err)
	kind, payload := Encode(undo)
	for name, ask := range map[string]func(){
		"log":     func() { s.Log() },
		"records": func() { s.Records() },
		"pace":    func() { s.Pace(func(int) int { return 1 }) },
		"undoing": func() { _, _ = Extend(s, Record{s.LastSeq + 1, kind, noon, payload}) },
	} {
		assert.Panics(t, ask, name)
	}
}

// Whatever the bytes, reading them ends; what is read can be asked for its rows.
func FuzzBrief(f *testing.F) {
	f.Add(castOn(f, 3).state.Brief())
	f.Add([]byte{briefVersion, 9, 9, 9})
	f.Fuzz(func(_ *testing.T, b []byte) {
		s, ok, _ := Continue(b, nil)
		if !ok {
			return
		}
		s.DoneRows()
		for row := 1; row <= s.Row; row++ {
			s.GripAt(row)
		}
	})
}

// BenchmarkContinue reads the brief of a piece of 500 rows with 40 catches each.
func BenchmarkContinue(b *testing.B) {
	brief := fold(b, bigLog(b, 500, 40)).Brief()
	b.SetBytes(int64(len(brief)))
	b.ReportAllocs()
	for b.Loop() {
		if _, ok, err := Continue(brief, nil); !ok || err != nil {
			b.Fatal(err)
		}
	}
}
