package stored

import (
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"
	"unicode"

	"strandwise/chart"
	"strandwise/cmd/frame"
	"strandwise/floats"
	"strandwise/session"
	"strandwise/store"
)

// An export that is whole may still hold what nobody could work on here: it may come from a
// newer version, or be made by another program. So before anything is taken in, all of it is
// read as if it lay in the store already, and what does not work is refused with its line.

// examined is an export under examination.
type examined struct {
	*store.Parcel
	charts map[[32]byte]*chart.Chart
	names  map[string]bool
}

// Examine refuses an export with what could not be worked on.
func Examine(from *store.Parcel) error {
	e := &examined{from, map[[32]byte]*chart.Chart{}, map[string]bool{}}
	for _, c := range from.Charts {
		read, err := chart.Parse("chart", c.Bytes)
		if err != nil {
			return from.Bad(c.Line, "the chart cannot be read as one")
		}
		e.charts[c.Hash] = read
	}
	for _, s := range from.Settings {
		if why := e.setting(s); why != "" {
			return from.Bad(s.Line, "%s", why)
		}
	}
	for _, p := range from.Pieces {
		if err := e.piece(p); err != nil {
			return err
		}
	}
	return nil
}

// setting says what is wrong with a setting, or nothing.
func (e *examined) setting(s store.ParcelSetting) string {
	row := frame.SettingNamed(s.Name)
	if row == nil || row.Key == frame.StoreKey {
		return fmt.Sprintf("there is no setting %q to keep", s.Name)
	}
	if value, err := row.Accept(string(s.Value)); err != nil || value != string(s.Value) || strings.ContainsFunc(value, unprintable) {
		return fmt.Sprintf("the setting %s cannot be %q", s.Name, s.Value)
	}
	return ""
}

func unprintable(r rune) bool { return !unicode.IsPrint(r) }

// piece refuses a piece whose log does not fold, or that cannot be laid out from the charts
// of the file.
func (e *examined) piece(p *store.ParcelPiece) error {
	for i, r := range p.Records {
		if r.Kind == store.KindLost && len(r.Payload) > 0 {
			return e.Bad(p.Lines[i], "an event that was lost says something")
		}
	}
	state, err := session.Fold(foldable(p.Records))
	if at := (*session.EventError)(nil); errors.As(err, &at) {
		return e.Bad(p.Lines[at.Seq-1], "(%s) %v", at.Kind, at.Err)
	}
	switch {
	case err != nil:
		return e.Bad(p.Line, "%v", err)
	case state.Total() == 0:
		return e.Bad(p.Line, "the piece is not cast on")
	case e.names[state.Setup.Name]:
		return e.Bad(p.Line, "two pieces are named %s", state.Setup.Name)
	case !saysSame(p.Info, state):
		return e.Bad(p.Line, "what the list of pieces says of it is not what its log says")
	}
	e.names[state.Setup.Name] = true
	if why := e.layout(state); why != "" {
		return e.Bad(p.Lines[0], "%s", why)
	}
	return nil
}

// layout says why a piece cannot be laid out, or nothing. Its size is known before it is.
func (e *examined) layout(state *session.State) string {
	for _, segment := range state.Segments {
		if why := e.size(segment.Parts); why != "" {
			return why
		}
	}
	layout, err := state.Lay(func(hash [32]byte) (*chart.Chart, error) { return e.charts[hash], nil })
	if err != nil {
		return err.Error()
	}
	rows := layout.Fabric.Rows
	if len(rows) != state.Total() {
		return fmt.Sprintf("the piece has %d rows by its log and %d by its charts", state.Total(), len(rows))
	}
	caught := func(row int, lists ...[]session.Mark) string {
		for _, m := range slices.Concat(lists...) {
			if m.Stitch > rows[row-1].Stitches() || m.Yarn >= len(layout.Fabric.Yarns) {
				return fmt.Sprintf("a catch of row %d is on a stitch or of a yarn that is not there", row)
			}
		}
		return ""
	}
	for _, done := range state.DoneRows() {
		if why := caught(done.Row, done.Shown, done.Used); why != "" {
			return why
		}
	}
	if begun := state.OnNeedle; begun != nil {
		return caught(begun.Row, begun.Shown)
	}
	return ""
}

// size says whether a chart of the parts is missing or the piece is too large, or nothing.
func (e *examined) size(parts []session.PartRef) string {
	var sized []floats.Part
	for _, b := range session.AllBlocks(parts) {
		switch c := e.charts[b.Hash]; {
		case !b.HasChart():
		case c == nil:
			return fmt.Sprintf("the chart of part %s is not in the file", b.Name)
		case c.Height() != b.Rows:
			return fmt.Sprintf("the chart of part %s has %d rows, not %d", b.Name, c.Height(), b.Rows)
		}
	}
	for _, part := range parts {
		laid, _ := part.Part(func(hash [32]byte) (*chart.Chart, error) { return e.charts[hash], nil })
		sized = append(sized, laid)
	}
	if err := floats.CheckSize(sized); err != nil {
		return err.Error()
	}
	return ""
}

// saysSame reports whether what is kept beside a log says the same as the log.
func saysSame(info []byte, s *session.State) bool {
	var there Info
	if json.Unmarshal(info, &there) != nil {
		return false
	}
	here := infoOf(s)
	sameTime := here.At.Equal(there.At)
	here.At, there.At = time.Time{}, time.Time{}
	return sameTime && here == there
}
