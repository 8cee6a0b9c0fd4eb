package cmd

import (
	"encoding/json"
	"fmt"
	"math/rand"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"strandwise/cmd/answer"
	"strandwise/cmd/frame"
)

// The row on the sheet is the row that is logged: random sessions, invented here, in which
// after each command the row that was printed last, the row that show prints and the row
// that the next knit logs are held against each other. The tag sessions runs a thousand.

// sessionCharts are what the sessions begin with: two and three yarns, in the round and
// flat, floats over the start, twists, blocks.
var sessionCharts = [][]string{
	{"lantern-band.chart@3", "--limit", "5"},
	{"lantern-band.chart@2x2", "--limit", "3", "--hold", "one-at-a-time", "--carry", "rotating"},
	{"mooring-mitten.chart", "--limit", "4"},
	{"pier-panel.chart", "--limit", "4", "--flat"},
	{"night-sea.chart@2", "--limit", "4"},
	{"practice.chart@2", "--limit", "3", "--method", "twist"},
	{"practice.chart", "+", "practice.chart@2", "+", "practice.chart", "--limit", "3", "--flat"},
	{"lantern-band.chart", "+", "lantern-band.chart@2", "+", "steek:5", ".:1dec6", "--limit", "4"},
}

// rowSession is one session: a store, and what was told of the row to work last.
type rowSession struct {
	t     *testing.T
	draw  *rand.Rand
	path  string
	steps []string
}

func (s *rowSession) run(args ...string) ran {
	s.steps = append(s.steps, fmt.Sprint(args))
	return onStore(s.t, s.path, args...)
}

// printedCatch is a catch of the log as a program is told it.
type printedCatch struct {
	answer.Place
	Letter, Yarn string
}

// printedRow is a row as a program is told it.
type printedRow struct {
	Row    int
	Method string
	Begun  *answer.Place
	Glance []string
	Worked []struct {
		Block   int
		Repeats []int
		Runs    []struct {
			Stitches int
			Catches  []struct {
				Letter, Yarn string
				Stitch       int
			}
		}
	}
	all map[string]any
}

func (r *printedRow) UnmarshalJSON(text []byte) error {
	type fields printedRow
	if err := json.Unmarshal(text, (*fields)(r)); err != nil {
		return err
	}
	err := json.Unmarshal(text, &r.all)
	delete(r.all, "schema")
	return err
}

// shown is the row that show prints now; ok is false when there is none to work.
func (s *rowSession) shown() (row printedRow, ok bool) {
	got := onStore(s.t, s.path, "show", "--json")
	if got.code != 0 {
		require.Equal(s.t, 1, got.code, "%s\n%v", got.err, s.steps)
		return row, false
	}
	require.NoError(s.t, json.Unmarshal([]byte(got.out), &row))
	return row, true
}

// catchesIn lists the catches of a row as the log has them.
func catchesIn(r printedRow) []printedCatch {
	var all []printedCatch
	for _, worked := range r.Worked {
		for _, rep := range worked.Repeats {
			for _, run := range worked.Runs {
				for _, c := range run.Catches {
					all = append(all, printedCatch{answer.Place{Block: worked.Block, Repeat: rep, Stitch: c.Stitch}, c.Letter, c.Yarn})
				}
			}
		}
	}
	return all
}

// deviation is a flag that says that a catch of the row was made otherwise, as it may be.
func (s *rowSession) deviation(row printedRow) []string {
	catches := catchesIn(row)
	if len(catches) == 0 {
		return nil
	}
	c, where := catches[s.draw.Intn(len(catches))], ""
	if s.draw.Intn(2) == 0 {
		where = fmt.Sprintf("@%d", c.Repeat)
	}
	switch s.draw.Intn(3) {
	case 0:
		return []string{"--moved", fmt.Sprintf("%s%+d%s", c.Letter, s.draw.Intn(9)-4, where)}
	case 1:
		return []string{"--missed", c.Letter + where}
	}
	worked, width, block := row.Worked[s.draw.Intn(len(row.Worked))], 0, ""
	for _, run := range worked.Runs {
		width += run.Stitches
	}
	if worked.Block > 0 {
		block = fmt.Sprintf("%d/", worked.Block)
	}
	return []string{"--extra", fmt.Sprintf("%s%d%s", block, 1+s.draw.Intn(width), where)}
}

// command draws one command.
func (s *rowSession) command(row printedRow) []string {
	pick := func(words ...string) string { return words[s.draw.Intn(len(words))] }
	switch s.draw.Intn(17) {
	case 0, 1, 2:
		return append([]string{"knit"}, s.deviation(row)...)
	case 3:
		return []string{"knit", "--to", fmt.Sprint(row.Row + s.draw.Intn(4))}
	case 4:
		return []string{"rip", fmt.Sprint(1 + s.draw.Intn(3)), "--yes"}
	case 5:
		return []string{"rip", "--yes"}
	case 6, 7:
		return []string{"undo"}
	case 8:
		return []string{"redo"}
	case 9, 10:
		return []string{"pause", fmt.Sprint(s.draw.Intn(30))}
	case 11:
		return []string{"replan", "--limit", fmt.Sprint(2 + s.draw.Intn(5))}
	case 12:
		return []string{"hold", "--method", pick("weave", "twist")}
	case 13:
		return append([]string{"pieces", "copy", fmt.Sprintf("copy%d", len(s.steps))}, []string{"--mirrored"}[:s.draw.Intn(2)]...)
	case 14:
		return []string{"pieces", "switch", pick("first", "other")}
	case 15:
		below := 1 + s.draw.Intn(row.Row+1)
		return append([]string{"correct", fmt.Sprint(below)}, s.deviation(row)...)
	}
	return []string{"note", "slack at the start"}
}

// knit logs the row to work as shown, and holds what was logged, and the row told after
// it, against what show tells.
func (s *rowSession) knit(row printedRow) {
	got := s.run("knit", "--json")
	require.Zero(s.t, got.code, "%s\n%v", got.err, s.steps)
	var told struct {
		Logged []struct {
			Row         int
			Shown, Used []printedCatch
		} `json:"logged"`
		Next *printedRow `json:"next"`
	}
	require.NoError(s.t, json.Unmarshal([]byte(got.out), &told))
	require.Equal(s.t, row.Row, told.Logged[0].Row)
	require.ElementsMatch(s.t, catchesIn(row), told.Logged[0].Shown, "%v", s.steps)
	require.ElementsMatch(s.t, catchesIn(row), told.Logged[0].Used, "%v", s.steps)
	if s.draw.Intn(4) == 0 {
		s.readElsewhere()
	}
	now, ok := s.shown()
	require.Equal(s.t, ok, told.Next != nil)
	if ok {
		require.Equal(s.t, *told.Next, now, "%v", s.steps)
	}
}

// readElsewhere holds what the sit-down mode and resume tell of the row to work against
// what show tells.
func (s *rowSession) readElsewhere() {
	row, ok := s.shown()
	if !ok {
		return
	}
	got := runMain(s.t, frame.Env{In: strings.NewReader("quit\n")}, "follow", "--width", "9000", "--ascii", "--store", s.path)
	for _, line := range row.Glance {
		require.Contains(s.t, got.out, line, "%v", s.steps)
	}
	got = onStore(s.t, s.path, "resume", "--json")
	var told struct {
		Next *printedRow `json:"next"`
	}
	require.NoError(s.t, json.Unmarshal([]byte(got.out), &told))
	require.Equal(s.t, &row, told.Next, "%v", s.steps)
}

// step takes one step of the session. A row that was begun stays as it was, whatever
// follows that does not end it.
func (s *rowSession) step() {
	row, ok := s.shown()
	if ok && s.draw.Intn(3) == 0 {
		s.knit(row)
		return
	}
	args := s.command(row)
	begun := ok && row.Begun != nil
	s.run(args...)
	after, still := s.shown()
	if begun && still && (args[0] == "replan" || args[0] == "correct" || args[0] == "hold" || args[0] == "note" || args[0] == "pause" && args[1] != "0") {
		require.Equal(s.t, []any{row.Row, row.Method, catchesIn(row)}, []any{after.Row, after.Method, catchesIn(after)}, "%v", s.steps)
	}
}

func runRowSession(t *testing.T, seed int64) {
	folder, err := os.MkdirTemp("", "rows")
	require.NoError(t, err)
	defer os.RemoveAll(folder)
	s := &rowSession{t: t, draw: rand.New(rand.NewSource(seed)), path: filepath.Join(folder, "pieces.store")}
	for _, name := range []string{"other", "first"} {
		begin := sessionCharts[s.draw.Intn(len(sessionCharts))]
		args := []string{"cast-on", name, "--yes"}
		for _, word := range begin {
			if strings.Contains(word, ".chart") {
				word = "../examples/" + word
			}
			args = append(args, word)
		}
		require.Zero(t, s.run(args...).code, "%v", s.steps)
	}
	for range 30 {
		s.step()
	}
	if row, ok := s.shown(); ok {
		s.knit(row)
	}
}

func TestTheRowOnTheSheetIsTheRowInTheLog(t *testing.T) {
	for seed := range int64(rowSessions) {
		runRowSession(t, seed)
	}
}
