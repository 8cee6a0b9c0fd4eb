package session

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"strandwise/floats"
)

// drawMarks gives a list of catches in order.
func drawMarks(t *rapid.T, label string) []Mark {
	mark := rapid.Custom(func(t *rapid.T) Mark {
		return Mark{Stitch: rapid.IntRange(1, 500).Draw(t, "stitch"), Yarn: rapid.IntRange(0, 3).Draw(t, "yarn")}
	})
	marks := rapid.SliceOfN(mark, 0, 12).Draw(t, label)
	slices.SortFunc(marks, Mark.Compare)
	return slices.Clip(slices.Compact(marks))
}

func drawGrip(t *rapid.T) Grip {
	return Grip{
		Hold:     rapid.SampledFrom([]string{"two-hands", "one-at-a-time", ""}).Draw(t, "hold"),
		Carry:    rapid.SampledFrom([]string{"parallel", "rotating", ""}).Draw(t, "carry"),
		Method:   rapid.SampledFrom([]string{"weave", "twist", ""}).Draw(t, "method"),
		Dominant: rapid.SampledFrom([]string{"pattern", "x", ""}).Draw(t, "dominant"),
	}
}

func drawParts(t *rapid.T) []PartRef {
	parts := band().Parts
	parts[0].Times = rapid.IntRange(1, 3).Draw(t, "times")
	return parts
}

func drawMethod(t *rapid.T) floats.Method {
	return rapid.SampledFrom([]floats.Method{floats.Weave, floats.Twist}).Draw(t, "method")
}

// drawChanges lets each mark stay, go or move a little, and adds some.
func drawChanges(t *rapid.T, shown []Mark) Changes {
	var c Changes
	for _, m := range shown {
		switch rapid.IntRange(0, 3).Draw(t, "what became of it") {
		case 0:
			c.Missed = append(c.Missed, m)
		case 1:
			c.Moved = append(c.Moved, Move{m, Mark{m.Stitch + rapid.IntRange(1, 60).Draw(t, "by"), m.Yarn}})
		}
	}
	c.Extra = drawMarks(t, "extra")
	return c
}

// draws makes one event of each kind that can be drawn; the state may refuse it.
var draws = map[string]func(*rapid.T, *State) Event{
	"row": func(t *rapid.T, s *State) Event {
		e := &RowKnit{Row: s.Row + 1, Shown: drawMarks(t, "shown"), Unwitnessed: rapid.Bool().Draw(t, "unwitnessed")}
		e.Used = e.Shown
		if rapid.Bool().Draw(t, "otherwise") {
			e.Used = drawMarks(t, "used")
		}
		return e
	},
	"rip": func(t *rapid.T, s *State) Event { return &Ripped{Rows: rapid.IntRange(0, 4).Draw(t, "rows")} },
	"hold": func(t *rapid.T, _ *State) Event {
		return &HoldChanged{drawGrip(t)}
	},
	"note": func(t *rapid.T, s *State) Event {
		return &Noted{Text: rapid.StringMatching(`[a-zé]{1,9}`).Draw(t, "text"), Row: rapid.IntRange(0, s.Row).Draw(t, "row")}
	},
	"note closed": func(t *rapid.T, s *State) Event {
		return &NoteClosed{Seq: rapid.Uint64Range(1, s.LastSeq).Draw(t, "seq")}
	},
	"row changed": func(t *rapid.T, s *State) Event {
		e := &RowKnit{Row: s.Row + 1, Shown: drawMarks(t, "shown")}
		changes := drawChanges(t, e.Shown)
		if !changes.Any() || !changes.fits(e.Shown) {
			e.Used = e.Shown
			return e
		}
		e.Changes, e.Used = &changes, changes.applied(e.Shown)
		return e
	},
	"row begun": func(t *rapid.T, s *State) Event {
		return &RowBegun{Row: s.Row + 1, Stitch: rapid.IntRange(1, 300).Draw(t, "stitch"), Shown: drawMarks(t, "shown"), Method: drawMethod(t)}
	},
	"pause":    func(t *rapid.T, _ *State) Event { return &Paused{Stitch: rapid.IntRange(0, 300).Draw(t, "stitch")} },
	"bind off": func(*rapid.T, *State) Event { return &BoundOff{} },
	"replan": func(t *rapid.T, _ *State) Event {
		e := &Replanned{Limit: rapid.IntRange(0, 9).Draw(t, "limit"), Gauge: rapid.SampledFrom([]string{"", "20/4in"}).Draw(t, "gauge")}
		if rapid.Bool().Draw(t, "other parts") {
			e.Parts = drawParts(t)
		}
		return e
	},
	"rename": func(t *rapid.T, _ *State) Event {
		return &Renamed{Name: rapid.StringMatching(`[a-z]{1,9}`).Draw(t, "name")}
	},
	"yarn used": func(t *rapid.T, _ *State) Event {
		return &YarnUsed{Yarn: 'x', Grams: Milli(rapid.IntRange(0, 90000).Draw(t, "grams")), Meters: 5}
	},
	"ball": func(t *rapid.T, _ *State) Event {
		return &BallNoted{Yarn: 'ö', Meters: Milli(rapid.IntRange(1, 90000).Draw(t, "meters")), DyeLot: "9"}
	},
	"balls cleared": func(_ *rapid.T, _ *State) Event { return &BallsCleared{Yarn: 'ö'} },
	"pressed": func(t *rapid.T, s *State) Event {
		e := rapid.SampledFrom([]Event{&Undone{Seq: s.CanUndo}, &Redone{Seq: s.CanRedo}, &Noted{Text: "buoy"}}).Draw(t, "of")
		return &Pressed{Event: e, Press: rapid.StringMatching(`[0-9a-f]{1,32}`).Draw(t, "press")}
	},
	"undo": func(_ *rapid.T, s *State) Event { return &Undone{Seq: s.CanUndo} },
	"redo": func(_ *rapid.T, s *State) Event { return &Redone{Seq: s.CanRedo} },
}

// drawLog gives a log of up to n events after its cast-on; rows are the most likely.
func drawLog(t *rapid.T, n int) *testLog {
	names := []string{"row", "row", "row", "row"}
	for name := range draws {
		names = append(names, name)
	}
	slices.Sort(names)
	l := newLog(t, band())
	for range rapid.IntRange(0, n).Draw(t, "events") {
		e := draws[rapid.SampledFrom(names).Draw(t, "kind")](t, l.state)
		if l.state.Check(e) != nil {
			continue
		}
		if kindOf(e) != KindUndone && kindOf(e) != KindRedone && kindOf(e) != KindPressed && rapid.IntRange(0, 5).Draw(t, "with a note") == 0 {
			l.add(&Together{Events: 2}, e, &Noted{Text: "buoy"})
			continue
		}
		l.add(e)
	}
	return l
}

// drawStep logs an event that can be undone.
func drawStep(t *rapid.T, l *testLog) {
	if row := draws["row"](t, l.state); l.state.Check(row) == nil {
		l.add(row)
		return
	}
	l.add(&Noted{Text: "buoy"})
}

func TestUndoingIsNotHavingDone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := drawLog(t, 25)
		var before []*State
		for range rapid.IntRange(1, 4).Draw(t, "steps") {
			before = append(before, l.state)
			drawStep(t, l)
		}
		after := l.state
		for _, want := range slices.Backward(before) {
			l.undo()
			requireSameFabric(t, want, l.state)
			require.Equal(t, want.CanUndo, l.state.CanUndo)
		}
		for range before {
			l.redo()
		}
		requireSameFabric(t, after, l.state)
		require.Equal(t, after.CanUndo, l.state.CanUndo)
		require.Zero(t, l.state.CanRedo)
	})
}

// The events that hold, logged alone, make the same piece.
func TestFoldOfWhatHolds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := drawLog(t, 40)
		var holding []Record
		for i, e := range l.state.Log {
			if !e.Canceled && e.Kind() != KindUndone && e.Kind() != KindRedone {
				holding = append(holding, l.records[i])
			}
		}
		requireSameFabric(t, l.state, fold(t, holding))
	})
}

func TestEverythingCanBeUndoneToTheCastOn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := drawLog(t, 25)
		for l.state.CanUndo != 0 {
			l.undo()
		}
		requireSameFabric(t, fold(t, l.records[:1]), l.state)
	})
}

// What is true of every state: the rows are 1 to Row, the next row can be knit unless
// there is none, the plans are in order and reach up to the next row.
func TestStatesAreSound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawLog(t, 40).state
		rows := s.DoneRows
		require.Len(t, rows, s.Row)
		for i, r := range rows {
			require.Equal(t, i+1, r.Row)
			require.Equal(t, r.Grip, s.GripAt(i+1))
			require.True(t, slices.ContainsFunc(s.Grips, func(g Grip) bool { g.Method = r.Grip.Method; return g == r.Grip }))
			require.NotZero(t, s.SegmentAt(r.Row).Limit)
		}
		require.Equal(t, s.Next() == 0, s.Check(&RowKnit{Row: s.Row + 1}) != nil)
		require.True(t, slices.IsSortedFunc(s.Segments, func(a, b Segment) int { return a.From - b.From }))
		require.Equal(t, s.Setup.Limit, s.SegmentAt(s.FirstToPlan()).Limit)
		require.Equal(t, s.Setup.Parts, s.SegmentAt(s.FirstToPlan()).Parts)
		require.Equal(t, s.OnNeedle != nil, s.OnNeedle != nil && s.OnNeedle.Row == s.Row+1)
		require.Equal(t, s.Setup.Grip, s.Grips[len(s.Grips)-1])
		for _, e := range s.Log {
			require.NotEmpty(t, inYarns(s).Words(e))
		}
	})
}

func TestRippingAndKnittingAgain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := castOn(t, rapid.IntRange(1, 24).Draw(t, "rows"))
		n := rapid.IntRange(1, l.state.Row).Draw(t, "ripped")
		want := l.state
		l.add(&Ripped{Rows: n})
		require.Equal(t, want.Row-n, l.state.Row)
		require.Equal(t, want.DoneRows[:l.state.Row], l.state.DoneRows)
		l.knit(n)
		require.Equal(t, want.Row, l.state.Row)
		require.Equal(t, l.state.LastSeq, l.state.DoneRow(l.state.Row).Seq)
	})
}

func TestMarksKeep(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := &RowKnit{Row: 1, Shown: drawMarks(t, "shown"), Used: drawMarks(t, "used")}
		if len(e.Shown) == 0 {
			e.Shown = nil
		}
		if len(e.Used) == 0 {
			e.Used = nil
		}
		kind, payload := Encode(e)
		got, err := Decode(kind, payload)
		require.NoError(t, err)
		require.Equal(t, e, got)
	})
}
