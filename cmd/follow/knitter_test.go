package follow

import (
	"context"
	"os"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"strandwise/chart"
	"strandwise/floats"
	"strandwise/session"
)

// knitter works at a machine without a terminal or a store: the log is a list of
// records, and time passes as she says.
type knitter struct {
	t       require.TestingT
	charts  session.Charts
	plan    *session.Schedule
	records []session.Record
	now     time.Time
	s       State
	effects Effects // of the latest key
	refuse  string  // the next log is refused with this
	slept   int
	quit    *Quit
}

var evening = time.Date(2031, 3, 9, 20, 0, 0, 0, time.UTC)

// sittingOf casts a chart on and sits down to it.
func sittingOf(t require.TestingT, text string, o Options, change func(*session.CastOn)) *knitter {
	c, err := chart.Parse("test.chart", []byte(text))
	require.NoError(t, err)
	on := &session.CastOn{
		Name:  "hat",
		Parts: []session.PartRef{{Name: "band", Hash: [32]byte{1}, Repeats: 3, Times: 2, Rows: len(c.Rows)}},
		Limit: 5, RestLimit: 6,
		Grip: session.Grip{Hold: "two-hands", Carry: "parallel", Method: "weave", Dominant: "pattern"},
	}
	if change != nil {
		change(on)
	}
	k := &knitter{t: t, now: evening, charts: func([32]byte) (*chart.Chart, error) { return c, nil }}
	k.append(on)
	k.sit(o)
	return k
}

// lights is a band of 5 rows: floats to catch in rows 1, 2 and 4, none in 3, and one
// yarn only in 5.
const lights = `
yarn: . oat #EFE6D2
yarn: x fjord #1F4E79
rows:
............
.xxxxxxxxxx.
.x.x.x.x.x.x
x.........xx
.....xx.....
`

func sitting(t require.TestingT, o Options) *knitter { return sittingOf(t, lights, o, nil) }

// exampleSitting casts on one of the program's own charts.
func exampleSitting(t testing.TB, name string, o Options, change func(*session.CastOn)) *knitter {
	text, err := os.ReadFile("../../examples/" + name + ".chart")
	require.NoError(t, err)
	return sittingOf(t, string(text), o, change)
}

// sit begins a sitting and waits until the first row may be logged.
func (k *knitter) sit(o Options) {
	k.s = New(k.piece(), o, k.now)
	k.quit = nil
	k.wait(guard)
}

func (k *knitter) append(e session.Event) {
	kind, payload := session.Encode(e)
	k.records = append(k.records, session.Record{Seq: uint64(len(k.records) + 1), Kind: kind, At: k.now, Payload: payload})
}

// piece is the piece as the log has it.
func (k *knitter) piece() *session.Piece {
	state, err := session.Fold(k.records)
	require.NoError(k.t, err)
	layout, err := state.Lay(k.charts)
	require.NoError(k.t, err)
	if k.plan == nil || state.Task().Method != k.plan.Method {
		plan, err := floats.MakePlan(context.Background(), layout.Fabric, state.Task())
		require.NoError(k.t, err)
		k.plan = session.NewSchedule(plan, len(layout.Fabric.Rows))
	}
	return &session.Piece{State: state, Layout: layout, Schedule: k.plan}
}

func (k *knitter) wait(d time.Duration) { k.now = k.now.Add(d) }

// press presses keys, each after the given time.
func (k *knitter) press(after time.Duration, keys ...Key) {
	for _, key := range keys {
		k.wait(after)
		k.s = k.s.Press(key, k.now)
		k.carryOut(k.s.Effects())
	}
}

func (k *knitter) carryOut(effects Effects) {
	k.effects = effects
	if effects.Sleep {
		k.slept++
	}
	if effects.Log != nil {
		k.log(effects.Log)
	}
	if effects.Reload {
		k.s = k.s.Reloaded(k.piece(), k.now)
	}
	if effects.Quit != nil {
		k.quit = effects.Quit
	}
}

// log does what the shell does: all events or none, on the state they were made for.
func (k *knitter) log(events []session.Event) {
	why := k.refuse
	if k.refuse = ""; uint64(len(k.records)) != k.s.Piece().State.LastSeq {
		why = "another terminal was faster"
	}
	if why != "" {
		k.s = k.s.Refused(why, k.piece(), k.now)
		return
	}
	for _, event := range events {
		require.NoError(k.t, k.piece().State.Check(event))
		k.append(event)
	}
	k.s = k.s.Logged(k.piece(), k.now)
}

func (k *knitter) state() *session.State { return k.piece().State }

// knit finishes n rows, each in its own time.
func (k *knitter) knit(n int) {
	for range n {
		k.press(guard, Char(" "))
	}
}

// Used is the catches of the row to work as they are being made: what a forward
// press will log. It is empty when no row is left.
func (s State) Used() []session.Mark { return used(s.work().catches) }
