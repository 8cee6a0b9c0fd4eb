// Package follow is the sit-down mode as a machine without a terminal: a State takes
// keys, words and the outcomes of what it asked for, and gives the next State with
// its Effects, which are plain data for someone else to carry out. Nothing here reads a
// clock, a terminal or a store.
//
// What it promises. Only a forward press on the row to work logs a row, and one
// press logs one row. What the screen says was logged is said only after Logged told so.
// A forward press within guard of a new row logs nothing and says so: a pedal
// pressed twice, or a key held down, is not a row.
package follow

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"strandwise/cmd/document"
	"strandwise/session"
	"strandwise/session/hold"
)

// By says what one forward press moves on by.
type By string

// By row a press logs the row on the screen; by repeat and by run it moves to the next
// repeat or run, and logs the row at its last.
const (
	ByRow    By = "row"
	ByRepeat By = "repeat"
	ByRun    By = "run"
)

// Options are what the knitter chose for this sitting.
type Options struct {
	By    By            // by row where it is empty
	Pause time.Duration // knitting between reminders to pause; 0 is never
	Lines bool          // words are read instead of keys
	Page  bool          // it is shown on a page: every press forward is kept, also within a row
}

type mode uint8

const (
	knitting mode = iota
	choosing      // another catch than planned, in the row to work or in one below
	noting        // a note is being written
	asking        // before leaving: how far the row is
	motions       // the motions in full
	keys          // the list of keys
)

// Saying is the line that tells what the last key did.
type Saying struct {
	Text string
	Warn bool // something was not done
}

// State is the sit-down mode between two keys. A State is never changed: every
// method that takes a key gives a new one, and the piece in it is only read.
type State struct {
	o     Options
	piece *session.Piece
	sheet *session.Sheet // of row; nil past the last row to work

	mode mode
	row  int // on the screen, from 1; past the last one when all are worked
	step int // the stretch of the row to work that is on the screen, from 0 over all repeats
	top  int // lines scrolled away

	making         // of the row on the screen where its catches can be changed, else of the row to work
	aside  *making // of the row to work while a row below is corrected
	under  mode    // what is read over this mode ends in it
	pick   pick
	line   typed

	said    Saying
	gaps    []string      // strands too long that the row logged last has left
	tangles []hold.Tangle // turns to tell of with the row to work
	rows    int           // logged in this sitting
	kept    Kept          // what leaving put into a note
	far     *int          // stitches worked of the row, as was answered before leaving

	now     time.Time // when the latest key came
	effects Effects   // what it asked for
	armed   time.Time // when the row to work, as it now is, came on the screen
	pressed time.Time // the latest press forward
	undone  time.Time // the latest press of undo or redo
	clock   clock
}

// New begins a sitting with the row to work on the screen.
func New(p *session.Piece, o Options, now time.Time) State {
	o.By = cmp.Or(o.By, ByRow)
	s := State{o: o, now: now, clock: clock{every: o.Pause, last: now}}
	return s.fresh(p)
}

func (s State) fresh(p *session.Piece) State {
	if s.piece == nil || !s.sameRow(p) {
		s.armed = s.now
	}
	s.piece, s.mode = p, knitting
	s.making, s.pick, s.aside = making{}, pick{}, nil
	s.step, s.gaps, s.tangles = 0, nil, p.NewTurns()
	s = s.show(s.toWork())
	if !s.ended() {
		s.catches = asTold(p.Shown(s.row), session.Changes{})
	}
	for i, at := range s.stretches() {
		if at.from <= p.State.Begun+1 {
			s.step = i
		}
	}
	return s
}

func (s State) show(row int) State {
	s.row, s.top, s.sheet = row, 0, nil
	if row <= s.piece.Rows() && (row < s.toWork() || !s.ended()) {
		s.sheet = s.piece.Sheet(row)
	}
	return s
}

// toWork is the row to work, from 1; past the last one when none is left.
func (s State) toWork() int { return s.piece.State.Row + 1 }

func (s State) ended() bool { return s.piece.State.Next() == 0 }

func (s State) looking() bool { return s.row < s.toWork() }

// Piece is the piece as the machine knows it.
func (s State) Piece() *session.Piece { return s.piece }

// Rows is how many rows were logged in this sitting, less those undone in it.
func (s State) Rows() int { return s.rows }

// Asks tells by a short text what the next key is about: another one asks something else.
func (s State) Asks() string { return fmt.Sprint(s.mode, ".", s.row, ".", s.step, ".", s.pick.at) }

// Effects are what the last key, or whatever came in its place, asked for.
func (s State) Effects() Effects { return s.effects }

// Said is what the last key did.
func (s State) Said() Saying { return s.said }

func (s State) say(format string, args ...any) State {
	s.said = Saying{Text: fmt.Sprintf(format, args...)}
	return s
}

func (s State) warn(format string, args ...any) State {
	s = s.say(format, args...)
	s.said.Warn = true
	return s
}

// Word is "round" or "row".
func (s State) Word() string { return session.RowWord(!s.piece.Layout.Fabric.Flat) }

// at begins what comes at a time: whatever it does, the screen is drawn unless more is asked for.
func (s State) at(now time.Time) State {
	s.now, s.effects = now, Effects{Draw: true}
	return s
}

// log asks for events to be logged; the screen is drawn once they are.
func (s State) log(events ...session.Event) State {
	s.effects = Effects{Log: events}
	return s
}

func (s State) ring() State {
	s.effects.Ring = true
	return s
}

// Effects are what the shell around the machine is to do, in the order of the fields. What is to be logged
// is all or none, and only while Piece has the newest event: another terminal may have been faster.
// State.Logged or State.Refused answers before another key is taken.
type Effects struct {
	Sleep  bool // suspend the program, with the terminal as it was found
	Log    []session.Event
	Reload bool // read the piece from the store; the answer is State.Reloaded or State.Refused
	Draw   bool // draw the screen
	Whole  bool // clear it before, as something else has written on it
	Ring   bool // the bell: the knitter is to look up
	Quit   *Quit
}

// Quit asks for the mode to end. Interrupted tells that it was not by its own key.
type Quit struct{ Interrupted bool }

// Logged tells the machine that what it asked to be logged is on disk, and the piece since.
func (s State) Logged(p *session.Piece, now time.Time) State {
	asked, before := s.effects.Log, s.piece.State.Row
	s = s.at(now)
	var said []string
	rows, row := false, 0 // whether it is more than a note or a place, and the row that was logged last, or corrected
	for _, e := range asked {
		words, isRow := newest(p), true
		switch e := e.(type) {
		case *session.Noted:
			words, isRow = "noted", false
		case *session.Paused:
			words, isRow = keptWords(e.Stitch), false
		case *session.RowBegun:
			words, isRow = keptWords(e.Stitch), false
		case *session.RowKnit:
			row, words = e.Row, s.rowWords(e)
		case *session.RowCorrected:
			row = e.Row
		}
		said, rows = append(said, words), rows || isRow
	}
	if !rows {
		s = s.staying(p)
	} else {
		s.rows += p.State.Row - before
		s = s.fresh(p)
		if row > 0 && row <= p.State.Row {
			s.gaps = p.GapWords(row, p.LongGaps(row))
		}
	}
	return s.say("%s", strings.Join(said, "; "))
}

func keptWords(stitch int) string {
	return fmt.Sprintf("your place is kept: %s worked", document.Counted(stitch, "stitch"))
}

func newest(p *session.Piece) string {
	log := p.State.History()
	return p.Words(log[len(log)-1])
}

// rowWords tells that a row was logged, and how it went: "round 57 logged: 1 moved".
func (s State) rowWords(e *session.RowKnit) string {
	if e.Changes == nil {
		return fmt.Sprintf("%s %d logged as planned", s.Word(), e.Row)
	}
	return fmt.Sprintf("%s %d logged: %s", s.Word(), e.Row, strings.Join(s.piece.Fates(e.Row, *e.Changes), "; "))
}

// Refused tells why what was asked for was not done, or may not be. The piece is nil if unread.
func (s State) Refused(why string, p *session.Piece, now time.Time) State {
	s = s.at(now)
	s.kept = Kept{}
	if p != nil {
		s = s.refreshed(p)
	}
	return s.warn("%s", why).ring()
}

// Reloaded takes the piece as it was read anew.
func (s State) Reloaded(p *session.Piece, now time.Time) State {
	was := s.piece.State.LastSeq
	if s = s.at(now).refreshed(p); p.State.LastSeq != was {
		s = s.say("another terminal has logged: %s", newest(p))
	}
	return s
}

func (s State) refreshed(p *session.Piece) State {
	if !s.sameRow(p) || s.piece.State.Begun != p.State.Begun {
		return s.fresh(p)
	}
	return s.staying(p)
}

// staying takes a piece in which the row to work is the same: all she changed stays.
func (s State) staying(p *session.Piece) State {
	top := s.top
	s.piece = p
	s = s.show(s.row)
	s.top = top
	return s
}

// sameRow reports whether the row to work and its catches are the same in a piece read anew.
func (s State) sameRow(p *session.Piece) bool {
	old, now := s.piece.State, p.State
	if old.Row != now.Row || old.Next() != now.Next() || old.Setup.Grip != now.Setup.Grip || old.Total() != now.Total() {
		return false
	}
	return now.Next() == 0 || slices.Equal(s.piece.Shown(s.toWork()), p.Shown(s.toWork()))
}

// Overhear puts lines that the program had to say besides below what the last key did.
func (s State) Overhear(lines []string) State {
	text := strings.Join(lines, "; ")
	if s.said.Text != "" {
		text = s.said.Text + "; " + text
	}
	return s.warn("%s", text)
}
