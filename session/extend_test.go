package session

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// requireSameState compares all that two states tell, the log included.
func requireSameState(t require.TestingT, want, got *State) {
	requireSameFabric(t, want, got)
	require.Equal(t, want.Log(), got.Log())
	require.Equal(t, []any{want.LastSeq, want.LastAt, want.CanUndo, want.CanRedo}, []any{got.LastSeq, got.LastAt, got.CanUndo, got.CanRedo})
}

// Adding records one by one gives at every number what folding them all gives.
func TestExtendIsFold(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := drawLog(t, 40)
		states := []*State{{}}
		for _, r := range l.records {
			next, err := Extend(states[len(states)-1], r)
			require.NoError(t, err)
			states = append(states, next)
		}
		for i, s := range states[1:] {
			requireSameState(t, fold(t, l.records[:i+1]), s)
		}
	})
}

// Two states made from one do not get into each other's way.
func TestExtendTwice(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := drawLog(t, 20)
		kind, payload := Encode(&Noted{Text: "buoy"})
		note := Record{l.state.LastSeq + 1, kind, noon, payload}
		kind, payload = Encode(&Paused{Stitch: 3})
		pause := Record{l.state.LastSeq + 1, kind, noon, payload}
		if l.state.Check(&Noted{Text: "buoy"}) != nil || l.state.Check(&Paused{Stitch: 3}) != nil {
			return
		}
		a, err := Extend(l.state, note)
		require.NoError(t, err)
		b, err := Extend(l.state, pause)
		require.NoError(t, err)
		log := append(append([]Record{}, l.records...), note)
		requireSameState(t, fold(t, log), a)
		log[len(log)-1] = pause
		requireSameState(t, fold(t, log), b)
		requireSameState(t, fold(t, l.records), l.state)
	})
}

func TestExtendRefusesWhatFoldRefuses(t *testing.T) {
	l := castOn(t, 3)
	kind, payload := Encode(&RowKnit{Row: 9})
	row, torn := Record{5, kind, noon, payload}, Record{5, kind, noon, payload[:1]}
	for _, r := range []Record{row, torn, {4, kind, noon, payload}, {5, 4242, noon, nil}} {
		_, want := Fold(append(l.state.Records(), r))
		_, got := Extend(l.state, r)
		require.Error(t, want)
		require.Equal(t, want, got)
	}
}
