package session

import (
	"errors"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"strandwise/chart"
	"strandwise/floats"
)

// testLog is a log under construction: each event is checked against the state so far,
// written as a store would, and read back.
type testLog struct {
	t       require.TestingT
	records []Record
	state   *State
}

var noon = time.Date(2031, 3, 9, 12, 0, 0, 0, time.UTC)

// band is a cast-on of 24 rows: twice up a chart of 10 rows and 4 plain rows.
func band() *CastOn {
	return &CastOn{
		Name: "harbour band",
		Parts: []PartRef{
			{Name: "lights", Hash: [32]byte{1, 2, 3}, Repeats: 12, Times: 2, Rows: 10},
			{Name: "plain", Plain: '.', Rows: 4},
		},
		Gauge: "24/4in", Limit: 6, Item: Sleeve,
		Grip:      Grip{Hold: "two-hands", Carry: "parallel", Method: "weave", Dominant: "pattern"},
		RestLimit: 6,
	}
}

func yarns() []chart.Yarn {
	return []chart.Yarn{{Symbol: '.', Name: "oat"}, {Symbol: 'x', Name: "fjord"}, {Symbol: 'o', Name: "night tide"}}
}

// newLog begins a log with the given events.
func newLog(t require.TestingT, events ...Event) *testLog {
	l := &testLog{t: t, state: &State{}}
	l.add(events...)
	return l
}

// castOn begins a log with a cast-on and n rows without catches.
func castOn(t require.TestingT, n int) *testLog {
	l := newLog(t, band())
	l.knit(n)
	return l
}

// add logs events one after another, a minute apart.
func (l *testLog) add(events ...Event) {
	for _, e := range events {
		require.NoError(l.t, l.state.Check(e))
		kind, payload := Encode(e)
		back, err := Decode(kind, payload)
		require.NoError(l.t, err)
		_, again := Encode(back)
		require.Equal(l.t, payload, again)
		seq := uint64(len(l.records) + 1)
		l.records = append(l.records, Record{seq, kind, noon.Add(time.Duration(seq) * time.Minute), payload})
		l.state = fold(l.t, l.records)
	}
}

// knit logs the next n rows.
func (l *testLog) knit(n int) {
	for range n {
		l.add(&RowKnit{Row: l.state.Row + 1})
	}
}

func (l *testLog) undo() {
	e, err := l.state.Undo()
	require.NoError(l.t, err)
	l.add(e)
}

func (l *testLog) redo() {
	e, err := l.state.Redo()
	require.NoError(l.t, err)
	l.add(e)
}

// inYarns is a piece of which nothing but its log and its yarns is known.
func inYarns(s *State) *Piece {
	return &Piece{State: s, Layout: &Layout{Fabric: &floats.Fabric{Yarns: yarns()}}}
}

// words is the history line of the event with the given number.
func (l *testLog) words(seq int) string {
	return inYarns(l.state).Words(l.state.Log[seq-1])
}

func fold(t require.TestingT, records []Record) *State {
	s, err := Fold(records)
	require.NoError(t, err)
	return s
}

// fabric is what the state tells of the piece, without what it tells of the log.
func fabric(s *State) (State, []*DoneRow) {
	f := *s
	f.Records, f.Log, f.DoneRows = nil, nil, nil
	f.stacks = stacks{}
	f.LastSeq, f.LastAt, f.CanUndo, f.CanRedo = 0, time.Time{}, 0, 0
	return f, s.DoneRows
}

// requireSameFabric compares what two states tell of the piece.
func requireSameFabric(t require.TestingT, want, got *State) {
	wantState, wantRows := fabric(want)
	gotState, gotRows := fabric(got)
	require.Equal(t, wantState, gotState)
	require.Equal(t, wantRows, gotRows)
}

// refused is an event that the state must refuse with the given error.
type refused struct {
	name  string
	state *State
	event Event
	want  error
}

func runRefused(t *testing.T, cases []refused) {
	t.Helper()
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			assertRefused(t, c.want, c.state.Check(c.event))
		})
	}
}

// assertRefused holds an error against the one wanted, but for what a refusal offers instead, which there must be.
func assertRefused(t require.TestingT, want, got error) {
	if refused := (*RefusedError)(nil); errors.As(got, &refused) {
		require.True(t, len(refused.Try) > 0 || refused.Piece != "", "nothing is said to be done instead: %v", got)
	}
	require.Equal(t, withoutTry(want), withoutTry(got))
}

func withoutTry(err error) error {
	refused, is := err.(*RefusedError)
	if !is {
		return err
	}
	plain := *refused
	plain.Try = nil
	return &plain
}

// badField is a refusal of a value, told by the field alone.
type badField struct {
	field string
	event Event
}

func runBadFields(t *testing.T, s *State, cases []badField) {
	t.Helper()
	for _, c := range cases {
		var fault *FieldError
		require.ErrorAs(t, s.Check(c.event), &fault, "%s: %+v", c.field, c.event)
		require.Equal(t, c.field, fault.Field)
	}
}

// madeOf gives the catches made in the row to work when it is told so.
func madeOf(p *Piece, o Otherwise) ([]Mark, error) {
	c, err := p.Otherwise(o)
	if err != nil {
		return nil, err
	}
	return p.Knit(c).Used, nil
}
