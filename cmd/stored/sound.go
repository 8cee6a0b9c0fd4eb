package stored

import (
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"time"
	"unicode"

	"strandwise/chart"
	"strandwise/cmd/frame"
	"strandwise/session"
	"strandwise/store"
)

// A log that is whole may still hold what nobody could work on: it may come from a newer version, or be
// made by another program. So a check of the store folds every log, and an export is read, before
// anything is taken in, as if it lay in the store already.

// fold folds a log and lays it out, and says why nobody could work on it where that is so; info is what
// is kept beside it.
func fold(log []store.Record, info []byte, charts session.Charts) (*session.State, error) {
	state, err := session.Fold(foldable(log))
	if err != nil {
		return nil, err
	}
	layout, err := state.Lay(charts)
	if err != nil {
		return nil, err
	}
	if !saysSame(info, state) {
		return nil, errors.New("what the list of pieces says of it is not what its log says")
	}
	for _, b := range session.AllBlocks(layout.Parts) {
		if c := layout.Charts[b.Hash]; c != nil && c.Height() != b.Rows {
			return nil, fmt.Errorf("the chart of part %s has %d rows, not %d", b.Name, c.Height(), b.Rows)
		}
	}
	rows := layout.Fabric.Rows
	if len(rows) != state.Total() {
		return nil, fmt.Errorf("the piece has %d rows by its log and %d by its charts", state.Total(), len(rows))
	}
	caught := func(row int, marks []session.Mark) (err error) {
		for _, m := range marks {
			if m.Stitch > rows[row-1].Stitches() || m.Yarn >= len(layout.Fabric.Yarns) {
				err = fmt.Errorf("a catch of row %d is on a stitch or of a yarn that is not there", row)
			}
		}
		return err
	}
	for _, done := range state.DoneRows() {
		err = cmp.Or(err, caught(done.Row, done.Shown), caught(done.Row, done.Used))
	}
	if begun := state.OnNeedle; begun != nil {
		err = cmp.Or(err, caught(begun.Row, begun.Shown))
	}
	return state, err
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

// Examine refuses an export with what could not be worked on, at its line.
func Examine(from *store.Parcel) error {
	charts, names := Charts{}, map[string]bool{}
	for _, c := range from.Charts {
		read, err := chart.Parse("chart", c.Bytes)
		if err != nil {
			return from.Bad(c.Line, "the chart cannot be read as one")
		}
		charts[c.Hash] = read
	}
	for _, s := range from.Settings {
		if why := settingFault(s); why != "" {
			return from.Bad(s.Line, "%s", why)
		}
	}
	for _, p := range from.Pieces {
		for i, r := range p.Records {
			if r.Kind == store.KindLost && len(r.Payload) > 0 {
				return from.Bad(p.Lines[i], "an event that was lost says something")
			}
		}
		state, err := fold(p.Records, p.Info, charts.Find)
		if err == nil && names[state.Setup.Name] {
			err = fmt.Errorf("two pieces are named %s", state.Setup.Name)
		}
		if err != nil {
			f, line := asFinding("", err), p.Line
			if f.Seq > 0 {
				line = p.Lines[f.Seq-1]
			}
			return from.Bad(line, "%s", f.What)
		}
		names[state.Setup.Name] = true
	}
	return nil
}

// settingFault says what is wrong with a setting, or nothing.
func settingFault(s store.ParcelSetting) string {
	row := frame.SettingNamed(s.Name)
	if row == nil || row.Key == frame.StoreKey {
		return fmt.Sprintf("there is no setting %q to keep", s.Name)
	}
	unprintable := func(r rune) bool { return !unicode.IsPrint(r) }
	if value, err := row.Accept(string(s.Value)); err != nil || value != string(s.Value) || strings.ContainsFunc(value, unprintable) {
		return fmt.Sprintf("the setting %s cannot be %q", s.Name, s.Value)
	}
	return ""
}
