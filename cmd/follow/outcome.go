package follow

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"strandwise/cmd/document"
	"strandwise/session"
)

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
