package cmd

import (
	"bytes"
	"fmt"
	"os/exec"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/cmd/stored"
	"strandwise/session"
	"strandwise/store"
)

// sitting is a follow that reads words, four of which leave the piece as it was: two
// rows are logged and undone. There are more words than it lives to read.
func sitting(t *testing.T, w *terminal) (c *exec.Cmd, out *bytes.Buffer) {
	t.Helper()
	c, out = w.command("follow"), &bytes.Buffer{}
	c.Stdin = strings.NewReader(strings.Repeat("next\nnext\nundo\nundo\n", 1000))
	c.Stdout = out
	require.NoError(t, c.Start())
	return c, out
}

// toldBySitting are the lines with which follow acknowledges, in the order of the
// events they are about.
func toldBySitting(out string) (told []string) {
	for line := range strings.Lines(out) {
		if strings.HasPrefix(line, "undid event ") || strings.HasPrefix(line, "round ") && strings.Contains(line, " logged") {
			told = append(told, line)
		}
	}
	return told
}

// firstLogOf reads the log of the first piece, event by event, and the piece.
func firstLogOf(t *testing.T, path string) (records []session.Record, s *session.State) {
	t.Helper()
	require.NoError(t, store.At(path, store.Options{}).View(t.Context(), func(tx *store.Tx) (err error) {
		records, err = stored.ReadLog(tx, 1)
		return err
	}))
	s, err := session.Fold(records)
	require.NoError(t, err)
	return records, s
}

// toldOf is how follow begins its acknowledgement of an event.
func toldOf(t *testing.T, r session.Record) string {
	t.Helper()
	e, err := session.Decode(r.Kind, r.Payload)
	require.NoError(t, err)
	switch e := e.(type) {
	case *session.RowKnit:
		return fmt.Sprintf("round %d logged", e.Row)
	case *session.Undone:
		return fmt.Sprintf("undid event %d ", e.Seq)
	}
	return fmt.Sprintf("an event of another kind: %T", e)
}

func TestKilledSitting(t *testing.T) {
	t.Parallel()
	path := seededStore(t, planted("hat", 3))
	w := terminalOn(t, path)
	require.Zero(t, w.run("knit").code) // the plan and the day's backup
	before, _ := firstLogOf(t, path)
	total, most := 0, 120*time.Millisecond
	manyRounds(t, 8, 500, func() {
		c, out := sitting(t, w)
		moment(most)
		require.NoError(t, c.Process.Kill())
		_ = c.Wait()
		told := toldBySitting(out.String())
		after, piece := firstLogOf(t, path)
		found := after[len(before):]
		require.Contains(t, []int{len(told), len(told) + 1}, len(found))
		for i, line := range told {
			assert.True(t, strings.HasPrefix(line, toldOf(t, found[i])), "event %d is not what was told: %s", found[i].Seq, line)
		}
		requireSound(t, path)
		if total += len(told); total == 0 {
			most *= 2 // a slow machine
		}
		if before = after; piece.Row > 50 {
			require.Zero(t, w.run("rip", "45", "--yes").code)
			before, _ = firstLogOf(t, path)
		}
	})
	assert.Positive(t, total, "no sitting lived long enough to log anything")
	t.Logf("%d steps acknowledged", total)
}
