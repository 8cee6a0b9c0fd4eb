//go:build unix

package cmd

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
	"strandwise/session"
	"strandwise/store"
)

// hatAt casts on a hat of 40 rounds in a new home.
func hatAt(t *testing.T) *window {
	t.Helper()
	home := t.TempDir()
	w := openWindow(t, home)
	require.NoError(t, copyCharts(filepath.Join(home, "examples")))
	w.outside("cast-on", "hat", filepath.Join(home, "examples", "lantern-band.chart")+"@6", ".:18", "--gauge", "22x26/10cm")
	return w
}

// hat is the hat as its store has it.
func (w *window) hat() *stored.Piece {
	w.t.Helper()
	a := newApp(frame.Env{Getenv: fromMap(map[string]string{"HOME": w.home}), Args: []string{"show"}})
	p, err := stored.Take(a)
	require.NoError(w.t, err)
	return p
}

// TestAHatKnittedByKeys knits a whole hat of 40 rounds through windows that are
// resized, suspended and closed, with two catches moved, a pedal pressed twice and
// two rounds ripped back. The log holds exactly what the screen said was logged.
func TestAHatKnittedByKeys(t *testing.T) {
	w := hatAt(t)
	var said []int // rounds the screen said were logged, in order
	knit := func(from, to int) {
		for row := from; row <= to; row++ {
			w.press([]string{" ", "\r", "\x1b[C", "\x1b[6~"}[row%4])
			w.logged(row, "as planned")
			said = append(said, row)
		}
	}

	// The first evening: two catches moved, a double press, another size.
	w.run("seated", "follow")
	w.await("1, ")
	knit(1, 4)
	w.pressAgain(" ")
	w.await("pressed twice: round 5 came up just now, nothing was logged")
	w.press("cl")
	w.await(" in every repeat")
	w.press("\r")
	w.await("will be logged: ")
	w.press(" ")
	w.logged(5, "catch a 1 stitch later")
	said = append(said, 5)
	w.resize(40, 20)
	w.await("space next  u undo  ? keys  q leave")
	knit(6, 8)
	w.resize(200, 50)
	w.await("space next  left look back")
	w.press("\x1b[D\x1b[5~\x7f")
	w.await("looking back")
	w.press("\x1b[6~\x1b[6~")
	w.press("qq")
	w.await("8 of 40 rounds worked, 8 in this sitting")
	w.ends(0)

	// Two rounds come out between the evenings.
	w.outside("rip", "2", "--yes")

	// The second evening: suspended and taken up again, one catch moved by run.
	w.run("sh", "-c", "set -m; seated follow --by run; echo the shell is back; read line; fg")
	w.await("round 7 of 40")
	w.press("\x1a")
	w.await("the shell is back")
	assertCanonical(t, w)
	w.press("\n")
	w.await("round 7 of 40")
	w.press("ce")
	w.await(" in every repeat")
	w.press("\r")
	w.await("will be logged: ")
	runs := runsIn(w, 7)
	for n := 1; n < 6*runs; n++ {
		w.press(" ")
		w.await(fmt.Sprintf("repeat %d of 6, run %d of %d", n/runs+1, n%runs+1, runs))
	}
	w.press(" ")
	w.logged(7, "stitch")
	said = append(said, 7)
	w.press(" ")
	w.await("run 2 of")
	w.press("qq")
	w.await("in round 8 after stitch")
	w.stops(0)

	// The third evening: the window is closed in the middle of a round, by run.
	place := w.hat().State.Begun
	require.Positive(t, place)
	w.run("seated", "follow", "--by", "run")
	w.await("run 2 of")
	w.press(" ")
	w.await("run 3 of")
	require.NoError(t, w.master.Close())
	require.NoError(t, w.tty.Close())
	w.stops(130)
	require.Greater(t, w.hat().State.Begun, place, "the place was kept though the window is gone")

	// The last evening, in a new window.
	next := openWindow(t, w.home)
	next.ahead = w.ahead
	w = next
	w.run("seated", "follow")
	w.await("8, ")
	knit(8, 40)
	w.press(" ")
	w.await("all 40 rounds are worked")
	w.press("qq")
	w.await("40 of 40 rounds worked, 33 in this sitting")
	w.ends(0)

	assertLogIs(t, w.hat(), said)
}

// runsIn is how many runs a repeat of a round has.
func runsIn(w *window, row int) int { return len(w.hat().Sheet(row).Blocks[0].Often.Runs) }

// assertCanonical wants the terminal to read lines and to echo, as a shell needs it.
func assertCanonical(t *testing.T, w *window) {
	t.Helper()
	w.pressAgain("echoed")
	w.await("echoed")
}

// assertLogIs holds the log of the hat against the rounds the screen said were
// logged, and the moved catches against the plan.
func assertLogIs(t *testing.T, p *stored.Piece, said []int) {
	t.Helper()
	var logged []int
	kinds := map[session.Kind]int{}
	moved := map[int]session.Changes{}
	for _, e := range p.State.Log {
		kinds[e.Kind()]++
		row, is := e.Event.(*session.RowKnit)
		if !is {
			continue
		}
		logged = append(logged, row.Row)
		if row.Changes != nil {
			moved[row.Row] = *row.Changes
		}
	}
	assert.Equal(t, said, logged)
	assert.Equal(t, map[session.Kind]int{session.KindCastOn: 1, session.KindRowKnit: 40, session.KindRowChanged: 2, session.KindRipped: 1, session.KindRowBegun: 2, session.KindPaused: 1}, kinds)
	require.Len(t, moved, 2)
	for row, by := range map[int]int{5: 1, 7: -1} {
		require.Len(t, moved[row].Moved, 6, "round %d: one catch in each repeat", row)
		for _, m := range moved[row].Moved {
			assert.Equal(t, m.From.Stitch+by, m.To.Stitch)
		}
	}
}

// TestTheTerminalIsPutBack leaves in every way there is.
func TestTheTerminalIsPutBack(t *testing.T) {
	w := hatAt(t)
	signal := func(s os.Signal) func() {
		return func() { require.NoError(t, w.c.Process.Signal(s)) }
	}
	for _, c := range []struct {
		name  string
		leave func()
		code  int
	}{
		{"its own key", func() { w.press("qq") }, 0},
		{"end of input", func() { w.press("\x04") }, 0},
		{"control and C", func() { w.press("\x03") }, 130},
		{"interrupt", signal(os.Interrupt), 130},
		{"terminate", signal(syscall.SIGTERM), 130},
		{"hang up", signal(syscall.SIGHUP), 130},
	} {
		t.Run(c.name, func(t *testing.T) {
			w.run("seated", "follow")
			w.await("? keys")
			start := time.Now()
			c.leave()
			w.ends(c.code)
			assert.Less(t, time.Since(start), 2*time.Second)
		})
	}
}

// TestAnotherTerminalIsFaster logs a round elsewhere: the key that would log it again
// logs nothing and shows how the piece stands. Where the sit-down mode saw the round before
// the key, the key is of the next one: then it is tried again, five times in all.
func TestAnotherTerminalIsFaster(t *testing.T) {
	w := hatAt(t)
	w.run("seated", "follow")
	w.await("? keys")
	row, late := 0, 1
	for try := 0; late != 0 && try < 5; try++ {
		w.outside("knit")
		w.press(" ")
		row++
		if late = w.awaitOne("another terminal has logged something since", fmt.Sprintf("round %d logged as planned", row+1)); late != 0 {
			row++
		}
	}
	require.Zero(t, late)
	w.press(" ")
	w.logged(row+1, "as planned")
	w.press("qq")
	w.ends(0)
	assert.Equal(t, row+1, w.hat().State.Row)
}

// TestABusyStoreLogsNothing holds the store while a key is pressed.
func TestABusyStoreLogsNothing(t *testing.T) {
	t.Parallel()
	w := hatAt(t)
	w.run("seated", "follow")
	w.await("? keys")
	held, release := make(chan struct{}), make(chan struct{})
	done := make(chan error, 1)
	go func() {
		path := filepath.Join(w.home, ".local", "share", "strandwise", "pieces.store")
		done <- store.At(path, store.Options{}).Update(context.Background(), func(*store.Tx) error {
			close(held)
			<-release
			return nil
		})
	}()
	<-held
	w.press(" ")
	w.await("nothing was saved")
	close(release)
	require.NoError(t, <-done)
	w.press(" ")
	w.logged(1, "as planned")
	w.press("qq")
	w.ends(0)
}

// TestPlainAtATerminal wants text added below and not a single code.
func TestPlainAtATerminal(t *testing.T) {
	w := hatAt(t)
	w.run("seated", "follow", "--plain", "--quiet")
	w.await("Round 1 of 40 of hat.")
	w.press(" ")
	w.await("Round 1 logged as planned.\r\n")
	w.await("Round 2 of 40 of hat.")
	w.pressAgain(" ")
	w.await("Pressed twice: round 2 came up just now, nothing was logged.")
	w.press("u")
	w.await("Undid event 2 (round 1 knitted).")
	w.press("qq")
	w.ends(0)
	assert.NotContains(t, string(w.shownSoFar()), "\x1b")
}

// What is logged elsewhere is on the screen within a second, with no key pressed.
func TestTheTerminalSeesWhatIsLoggedElsewhere(t *testing.T) {
	w := hatAt(t)
	w.run("seated", "follow")
	w.await("1, ")
	w.outside("knit")
	began := time.Now()
	w.await("another terminal has logged: round 1 knitted")
	assert.Less(t, time.Since(began), time.Second)
	w.press("qq")
	w.ends(0)
}
