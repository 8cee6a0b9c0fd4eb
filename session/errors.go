package session

import "fmt"

// FieldError tells that a value given for an event is not one it can take.
type FieldError struct{ Field, Got, Want string }

func (e *FieldError) Error() string {
	return fmt.Sprintf("%s: %s is not possible; give %s", e.Field, e.Got, e.Want)
}

// NotCastOnError tells that a log has nothing before the event: the piece is not
// cast on.
type NotCastOnError struct{}

func (e *NotCastOnError) Error() string {
	return "the piece is not cast on yet; begin with a cast-on"
}

// AlreadyCastOnError tells that a piece was cast on before.
type AlreadyCastOnError struct{ Name string }

func (e *AlreadyCastOnError) Error() string {
	return fmt.Sprintf("%s is already cast on; cast on another piece instead", e.Name)
}

// TooFewError tells that fewer things can be undone than were to be.
type TooFewError struct{ Steps int }

func (e *TooFewError) Error() string {
	return fmt.Sprintf("only %s can be undone; the cast-on stays", plural(e.Steps, "thing"))
}

// NotDoneError tells that a row is not finished yet, Done being the last that is.
type NotDoneError struct {
	Row, Done int
	Round     bool
}

func (e *NotDoneError) Error() string {
	word := RowWord(e.Round)
	if e.Done == 0 {
		return fmt.Sprintf("no %s is finished yet, so there is no %s %d to correct", word, word, e.Row)
	}
	return fmt.Sprintf("%s %d is not finished yet; the last that is, is %s %d", word, e.Row, word, e.Done)
}

// AlreadyRecordedError tells that a row is in the log; Next is the row to work, 0
// when all rows are worked. Round says, here and in the errors below, that the piece is
// worked in the round.
type AlreadyRecordedError struct {
	Row, Next int
	Round     bool
}

func (e *AlreadyRecordedError) Error() string {
	if e.Next == 0 {
		return fmt.Sprintf("%s %d is already logged; all %[1]ss are, so bind off or rip back", RowWord(e.Round), e.Row)
	}
	return fmt.Sprintf("%s %d is already logged; the %[1]s to work is %[3]d", RowWord(e.Round), e.Row, e.Next)
}

// AlreadyBegunError tells that a row was begun before.
type AlreadyBegunError struct {
	Row   int
	Round bool
}

func (e *AlreadyBegunError) Error() string {
	return fmt.Sprintf("%s %d is begun already; tell how far it is now", RowWord(e.Round), e.Row)
}

// NotYetError tells that rows below the given one are not worked yet.
type NotYetError struct {
	Row, Next int
	Round     bool
}

func (e *NotYetError) Error() string {
	return fmt.Sprintf("%s %d is not next; the %[1]s to work is %[3]d", RowWord(e.Round), e.Row, e.Next)
}

// FinishedError tells that all rows of the piece are worked.
type FinishedError struct {
	Rows  int
	Round bool
}

func (e *FinishedError) Error() string {
	return fmt.Sprintf("all %s are worked; bind off, or rip back to work some again", plural(e.Rows, RowWord(e.Round)))
}

// BoundOffError tells that a piece is bound off, after the given number of rows.
type BoundOffError struct {
	Rows  int
	Round bool
}

func (e *BoundOffError) Error() string {
	return fmt.Sprintf("the piece is bound off after %s %d; undo the bind-off to go on", RowWord(e.Round), e.Rows)
}

// TooManyRowsError tells that more rows were to be ripped back than are worked.
type TooManyRowsError struct {
	Asked, There int
	Round        bool
}

func (e *TooManyRowsError) Error() string {
	asked := plural(e.Asked, RowWord(e.Round))
	switch e.There {
	case 0:
		return fmt.Sprintf("cannot rip back %s: none is worked yet; knit first", asked)
	case 1:
		return fmt.Sprintf("cannot rip back %s: 1 is worked; give 1 at most", asked)
	}
	return fmt.Sprintf("cannot rip back %s: %d are worked; give %[2]d at most", asked, e.There)
}

// NothingBegunError tells that there is no begun part of a row to rip out; Rows is
// how many finished rows there are.
type NothingBegunError struct {
	Rows  int
	Round bool
}

func (e *NothingBegunError) Error() string {
	word := RowWord(e.Round)
	switch e.Rows {
	case 0:
		return fmt.Sprintf("no %s is begun or finished, so nothing to rip out; knit first", word)
	case 1:
		return fmt.Sprintf("no %s is begun, so nothing to rip out; give 1 to rip back the finished %[1]s", word)
	}
	return fmt.Sprintf("no %s is begun, so nothing to rip out; give how many of the %d finished %[1]ss to rip back", word, e.Rows)
}

// TooShortError tells that new parts have fewer rows than are worked already.
type TooShortError struct {
	Rows, Worked int
	Round        bool
}

func (e *TooShortError) Error() string {
	return fmt.Sprintf("the new parts have %s, but %d are worked; give parts for the whole piece, the worked %ss included",
		plural(e.Rows, RowWord(e.Round)), e.Worked, RowWord(e.Round))
}

// NoSuchNoteError tells that a number names no open note.
type NoSuchNoteError struct {
	Number uint64
	Closed bool // it is a note, closed before
}

func (e *NoSuchNoteError) Error() string {
	if e.Closed {
		return fmt.Sprintf("note %d is already closed; only open notes can be", e.Number)
	}
	return fmt.Sprintf("there is no note %d; see the list of open notes", e.Number)
}

// CastOnStaysError tells that nothing but the cast-on is left to undo.
type CastOnStaysError struct{ Name string }

func (e *CastOnStaysError) Error() string {
	return fmt.Sprintf("only the cast-on of %s is left, and a cast-on cannot be undone; remove the piece instead", e.Name)
}

// NotNewestError tells that an undoing or redoing names another event than the one
// whose turn it is: Newest, or 0 when there is none.
type NotNewestError struct {
	Redo        bool
	Seq, Newest uint64
}

func (e *NotNewestError) Error() string {
	word := map[bool]string{false: "undo", true: "redo"}[e.Redo]
	if e.Newest == 0 {
		return fmt.Sprintf("cannot %s event %d: there is nothing to %s", word, e.Seq, word)
	}
	return fmt.Sprintf("cannot %s event %d: event %d comes first; %s that one", word, e.Seq, e.Newest, word)
}

// NothingToRedoError tells that no undoing is left to take back.
type NothingToRedoError struct{}

func (e *NothingToRedoError) Error() string {
	return "nothing to redo: no undo since the last change; log the step again instead"
}
