package session

import (
	"cmp"
	"fmt"
	"strings"
)

// Replanned gives the rows to come another limit, gauge or chart. Rows worked already and the one that is
// begun stay as they are; rows ripped back later are to come as well.
type Replanned struct {
	Limit int       // stitches; 0 leaves it
	Gauge string    // as the knitter gave it; empty leaves it
	Parts []PartRef // the whole piece, from its row 1; nil leaves them
}

func (e *Replanned) newer() bool { return partsHaveBlocks(e.Parts) }

func (e *Replanned) validate(s *State) error {
	if err := cmp.Or(s.open(), checkRange("limit", e.Limit, 0), checkOptional("gauge", e.Gauge)); err != nil {
		return err
	}
	if len(e.Parts) == 0 {
		if e.Limit == 0 && e.Gauge == "" {
			return &FieldError{"new plan", "no change", "a limit, a gauge or parts"}
		}
		return nil
	}
	if err := checkParts(e.Parts); err != nil {
		return err
	}
	if worked := s.FirstToPlan() - 1; totalRows(e.Parts) < worked {
		return refuse("the new parts have %s, but %d are worked; give parts for the whole piece, the worked %ss included",
			plural(totalRows(e.Parts), s.rowWord()), worked, s.rowWord()).instead("more parts, or more repeats upward of the last")
	}
	return nil
}

func (e *Replanned) apply(s *State, _ []Entry) {
	if e.Limit != 0 {
		s.Setup.Limit = e.Limit
	}
	if e.Gauge != "" {
		s.Setup.Gauge = e.Gauge
	}
	if len(e.Parts) != 0 {
		s.Setup.Parts = e.Parts
		if s.OnNeedle == nil {
			s.Begun = 0 // the place in the row was one of another chart
		}
	}
	s.Segments = append(s.Segments, Segment{
		From: s.FirstToPlan(), Parts: s.Setup.Parts, Limit: s.Setup.Limit, Gauge: s.Setup.Gauge,
	})
	s.lowerSegments()
}

func (e *Replanned) fields(w *wire, k Kind) {
	w.int(&e.Limit)
	w.text(&e.Gauge)
	w.parts(&e.Parts, k == KindNewBlocks)
}

func (e *Replanned) words(historyWords) string {
	var parts []string
	if e.Limit != 0 {
		parts = append(parts, fmt.Sprintf("at most %s uncaught", plural(e.Limit, "stitch")))
	}
	if e.Gauge != "" {
		parts = append(parts, "gauge "+e.Gauge)
	}
	if len(e.Parts) != 0 {
		names := make([]string, len(e.Parts))
		for i, p := range e.Parts {
			names[i] = p.Title()
		}
		parts = append(parts, "parts "+strings.Join(names, ", "))
	}
	return "planned anew: " + strings.Join(parts, "; ")
}
