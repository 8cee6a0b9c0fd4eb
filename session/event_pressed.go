package session

import (
	"cmp"
	"fmt"
	"slices"
	"unicode/utf8"
)

// Pressed is an event that one press of a key elsewhere has logged, with the press's own number, so that
// the press counts once, however often it arrives. In the log it stands for its event; see Entry.
type Pressed struct {
	Event        // what was logged; of the kinds in pressable
	Press string // chosen at random where the key was pressed, 1 to maxPress bytes
}

// maxPress is how long the number of a press may be, in bytes.
const maxPress = 64

// pressable are the kinds of event a press may log. None of them names charts.
var pressable = []Kind{KindRowKnit, KindRowChanged, KindNoted, KindPaused, KindUndone, KindRedone, KindRowBegun, KindRowCorrected}

func (e *Pressed) validate(s *State) error {
	if !slices.Contains(pressable, kindOf(e.Event)) || !utf8.ValidString(e.Press) {
		return &FieldError{"press", fmt.Sprintf("%q with %s", e.Press, kindOf(e.Event)), "a number of text, and what a press may log"}
	}
	return cmp.Or(checkBetween("bytes of a press", len(e.Press), 1, maxPress), e.Event.validate(s))
}

func (e *Pressed) fields(w *wire, _ Kind) {
	inner := 0
	if w.writing {
		inner = int(kindOf(e.Event))
	}
	w.text(&e.Press)
	w.int(&inner)
	if !w.writing {
		if len(e.Press) == 0 || len(e.Press) > maxPress || !slices.Contains(pressable, Kind(inner)) {
			w.fail("it is no press")
			inner = int(KindPaused)
		}
		e.Event = Kind(inner).event()
	}
	w.event(e.Event, Kind(inner))
}

// HasPress reports whether a press has logged something, also something undone since.
func (s *State) HasPress(press string) bool {
	return slices.ContainsFunc(s.Log, func(e Entry) bool { return e.Press != "" && e.Press == press })
}
