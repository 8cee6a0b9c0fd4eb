package stored

import (
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
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

// unsound says why nobody could work on a piece, where that is so; info is what is kept beside its log.
func unsound(state *session.State, info []byte, charts session.Charts) error {
	layout, err := state.Lay(charts)
	if err != nil {
		return err
	}
	if !saysSame(info, state) {
		return errors.New("what the list of pieces says of it is not what its log says")
	}
	for _, b := range session.AllBlocks(layout.Parts) {
		if c := layout.Charts[b.Hash]; c != nil && c.Height() != b.Rows {
			return fmt.Errorf("the chart of part %s has %d rows, not %d", b.Name, c.Height(), b.Rows)
		}
	}
	rows := layout.Fabric.Rows
	if len(rows) != state.Total() { // a steek may say that it has rows
		return fmt.Errorf("the piece has %d rows by its log and %d by its charts", state.Total(), len(rows))
	}
	worked := state.DoneRows
	if begun := state.OnNeedle; begun != nil {
		worked = append(slices.Clip(worked), &session.DoneRow{RowKnit: session.RowKnit{Row: begun.Row, Shown: begun.Shown}})
	}
	for _, row := range worked {
		for _, m := range slices.Concat(row.Shown, row.Used) {
			if m.Stitch > rows[row.Row-1].Stitches() || m.Yarn >= len(layout.Fabric.Yarns) {
				return fmt.Errorf("a catch of row %d is on a stitch or of a yarn that is not there", row.Row)
			}
		}
	}
	return nil
}

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
	charts, names := Parts{}, map[string]bool{}
	for _, c := range from.Charts {
		read, err := chart.Parse("chart", c.Bytes)
		if err != nil {
			return from.Bad(c.Line, "the chart cannot be read as one")
		}
		charts.Drawn = append(charts.Drawn, Part{Ref: session.PartRef{Hash: c.Hash}, Chart: read})
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
		state, err := foldSized(p, charts.Chart)
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

// foldSized folds the log of a piece that is sound and not too large to be laid out.
func foldSized(p *store.ParcelPiece, charts session.Charts) (*session.State, error) {
	state, err := session.Fold(foldable(p.Records))
	if err != nil {
		return nil, err
	}
	for _, segment := range state.Segments {
		if err := session.CheckSize(segment.Parts, charts); err != nil {
			return nil, err
		}
	}
	return state, unsound(state, p.Info, charts)
}

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

// Finding is something that `store check` found: a problem, or a note when the piece works all the same.
type Finding struct {
	Piece string `json:"piece"` // name, or what stands for one; "" when it is about no piece
	Seq   uint64 `json:"event"` // 0 when it is about no event
	What  string `json:"what"`
}

// String is the finding as one clause.
func (f Finding) String() string {
	switch {
	case f.Piece == "":
		return f.What
	case f.Seq == 0:
		return f.Piece + ": " + f.What
	}
	return fmt.Sprintf("%s, event %d: %s", f.Piece, f.Seq, f.What)
}

// Checked is what was found of a store. With a note the piece works all the same.
type Checked struct {
	store.Report
	Problems, Notes []Finding
}

// Check has the store look at its bytes, and folds and lays out anew each piece these leave whole.
func Check(a *frame.App, s *store.Store) (c Checked, err error) {
	for raised := false; ; raised = true {
		if c.Report, err = s.Check(a.Context()); err != nil {
			return c, err
		}
		placed, pieces := slices.Clone(c.Warnings), 0
		err = s.View(a.Context(), func(tx *store.Tx) error {
			placed, pieces = Placed(tx, placed), len(tx.Pieces())
			return nil
		})
		if a.Context().Err() != nil || err != nil && len(c.Report.Problems) == 0 { // else a store past opening is no news
			return Checked{}, cmp.Or(err, a.Context().Err())
		}
		c.Warnings = placed
		if raised || err != nil || pieces <= len(c.Held.Pieces) { // else an older schema was raised only now
			break
		}
	}
	names := map[store.PieceID]string{}
	for _, p := range c.Held.Pieces {
		names[p.ID] = calledOr(p.Info, p.ID)
		if !slices.ContainsFunc(c.Report.Problems, func(e *store.Error) bool { return e.Piece == p.ID }) {
			c.refold(p, names[p.ID])
		}
	}
	for i, p := range c.Report.Problems {
		f := Finding{Seq: p.Seq, What: p.What}
		if p.Piece != 0 {
			f.Piece = cmp.Or(names[p.Piece], fmt.Sprintf("piece %d", p.Piece))
		}
		c.Problems = slices.Insert(c.Problems, i, f)
	}
	return c, nil
}

// refold folds a piece, and notes the numbers that salvage could not fill.
func (c *Checked) refold(p *store.ParcelPiece, name string) {
	state, err := (*session.State)(nil), p.Fault
	if err == nil {
		state, err = session.Fold(foldable(p.Records))
	}
	if err == nil {
		err = unsound(state, p.Info, storedCharts(c.Held.Chart))
	}
	if err != nil {
		c.Problems = append(c.Problems, asFinding(name, err))
	}
	var gaps []store.Gap
	for _, r := range p.Records {
		if r.Kind == store.KindLost {
			gaps = store.WithLost(gaps, r.Seq)
		}
	}
	for _, gap := range gaps {
		c.Notes = append(c.Notes, Finding{Piece: name, What: GapWords(gap) + " lost before a salvage"})
	}
}

// NameOf is what to call a piece whose log may be past reading.
func NameOf(tx *store.Tx, id store.PieceID) string {
	info, _ := tx.Info(id) // none is as good as one that names nothing
	return calledOr(info, id)
}

// InfoName is the name in what is kept beside a piece's log, or "".
func InfoName(info []byte) string {
	p, _ := readInfo(info)
	return p.Name
}

func calledOr(info []byte, id store.PieceID) string {
	return cmp.Or(InfoName(info), fmt.Sprintf("piece %d", id))
}

func asFinding(name string, err error) Finding {
	if event, ok := errors.AsType[*session.EventError](err); ok {
		return Finding{Piece: name, Seq: event.Seq, What: fmt.Sprintf("(%s) %v", event.Kind, event.Err)}
	}
	if kept, ok := errors.AsType[*store.Error](err); ok {
		return Finding{Piece: name, Seq: kept.Seq, What: kept.What}
	}
	return Finding{Piece: name, What: err.Error()}
}

// storedCharts reads those of a store, or of what was gathered from one.
func storedCharts(find func(store.Hash) ([]byte, error)) func([32]byte) (*chart.Chart, error) {
	return func(hash [32]byte) (*chart.Chart, error) {
		text, err := find(hash)
		if err != nil {
			return nil, err
		}
		return chart.Parse("stored chart", text)
	}
}

// GapWords is a gap as the subject of a sentence, with its verb.
func GapWords(g store.Gap) string {
	if g.From == g.To {
		return fmt.Sprintf("event %d was", g.From)
	}
	return fmt.Sprintf("events %d to %d were", g.From, g.To)
}
