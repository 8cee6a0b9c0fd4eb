package store

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"
)

// Class sorts every error of this package by what the caller can do about it.
type Class int

// The classes, with the exit status the command line gives each.
const (
	ClassOther    Class = iota // not of this package: the callback's own error, a canceled context
	ClassMissing               // there is no store at the path (5)
	ClassExists                // a store, or something else, is there already (1)
	ClassBusy                  // another process holds the lock (4)
	ClassUnusable              // permission, space, a folder in its place: the system refused (5)
	ClassDamaged               // the file is a store and a part of it cannot be trusted (6)
	ClassForeign               // the file is not a store of this program (6)
	ClassNewer                 // the schema is higher than this program knows (6)
	ClassUnknown               // the commit failed after it could have reached the disk (7)
	ClassBadInput              // a file to import is not whole and sound (3)
	ClassConflict              // a file to import disagrees with what is recorded (1)
	ClassChanged               // the store is not as it was when the change was agreed to (1)
	classOlder                 // the schema is lower: it is raised before anything else is done
)

// Error is every failure this package reports.
type Error struct {
	Class  Class
	Path   string  // the store, or the file being read
	Piece  PieceID // 0 when no single piece is meant
	Name   string  // what the caller calls the piece; its number stands in when empty
	Seq    uint64  // the event's number, from 1; 0 when no single event is meant
	Line   int     // line of an import file, from 1; 0 when none
	What   string  // what happened, in one clause
	Next   string  // what to do next, where the class does not say; may be empty
	Backup string  // the newest backup, when there is one that could help
	Err    error   // the system's own reason
	// Original is what the runtime or the database said: for a report, not for the knitter.
	Original string
}

// Error is one line: what happened and where.
func (e *Error) Error() string {
	where, piece, reason := e.Path, "", ""
	if e.Line > 0 {
		where += fmt.Sprintf(":%d", e.Line)
	}
	if e.Piece > 0 {
		piece = "piece " + cmp.Or(e.Name, fmt.Sprint(e.Piece))
		if e.Seq > 0 {
			piece += fmt.Sprintf(", event %d", e.Seq)
		}
	}
	if e.Err != nil {
		reason = e.Err.Error()
	}
	said := slices.DeleteFunc([]string{where, piece, e.What, reason}, func(part string) bool { return part == "" })
	return strings.Join(said, ": ")
}

// Unwrap gives the system's own reason.
func (e *Error) Unwrap() error { return e.Err }

// Hints are the lines that say what to do next, the newest backup among them.
func (e *Error) Hints() []string {
	var hints []string
	if e.Next != "" {
		hints = append(hints, e.Next)
	}
	if e.Backup != "" {
		hints = append(hints, "newest backup: "+e.Backup)
	}
	return hints
}

// ErrNoPiece is returned for a piece number the store does not hold.
var ErrNoPiece = errors.New("no piece has that number")

// ClassOf finds the class of an error, however deeply wrapped.
func ClassOf(err error) Class {
	if e, is := errors.AsType[*Error](err); is {
		return e.Class
	}
	return ClassOther
}

func problem(class Class, format string, args ...any) *Error {
	return &Error{Class: class, What: fmt.Sprintf(format, args...)}
}

func damaged(format string, args ...any) *Error { return problem(ClassDamaged, format, args...) }

func (e *Error) at(path string) *Error {
	e.Path = path
	return e
}

func (e *Error) next(what string) *Error {
	e.Next = what
	return e
}

func (e *Error) giving(err error) *Error {
	if e.Err = bare(err); e.Err == nil {
		return e.because(err)
	}
	return e
}

func (e *Error) because(original any) *Error {
	e.Original = fmt.Sprint(original)
	return e
}

// damagedEvent is a fault of one event; seq 0 means the piece itself.
func damagedEvent(id PieceID, seq uint64, format string, args ...any) *Error {
	e := damaged(format, args...)
	e.Piece, e.Seq = id, seq
	return e
}

// What is said in more than one place: of a file that is none of ours, of one bad header.
const (
	notAStore    = "this is not a store of this program"
	headerDamage = "one of the store's two headers is damaged: what was saved last may be missing"
)

// Warning is something the caller should show though the work went on. Where the last commit may
// be gone, Piece and Seq name the last event the store still holds, the one to look at.
type Warning struct {
	Piece PieceID
	Seq   uint64
	Text  string
}
