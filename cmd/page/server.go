// Package page shows the sit-down mode in a browser: the same machine as the terminal's (package follow),
// laid out as one page of plain forms. A short script of its own adds keys, live changes, sounds and
// reading aloud; nothing depends on it.
//
// Who may come in. A page is opened with a key that the program prints (128 bits, good for one device). The
// first page only offers to send it, so that a preview of the link spends nothing; sent, it is exchanged for
// a cookie, and the address forgets it. A request counts only under an address the server was given (no
// foreign name can lead to it), and a press only from its own page (Origin). Wrong keys are slowed down
// address by address. The page loads nothing but itself, and its policy lets it do nothing else.
//
// What a press is. Each has a number of its own, kept with what it logged (session.Pressed): one that is
// sent again, by a browser, a script, or after the program was killed and started anew, counts once.
//
// What is kept. The hashes of cookies, and catches told and not logged yet, in a file beside the store, so
// that open pages go on after a crash; an end that was asked for removes it.
//
// One lock holds all: sittings, keys and the store behind them are used by one request at a time.
package page

import (
	"bytes"
	"errors"
	"io/fs"
	"net/http"
	"os"
	"slices"
	"sync"
	"time"

	"strandwise/cmd/document"
	"strandwise/cmd/follow"
	"strandwise/cmd/paper"
)

// Seat is one sitting, shown on the pages of one device.
type Seat interface {
	State() follow.State
	// Press lets the machine take what a press asks for, and carries out its effects under the number of
	// the press. Its error is a fault of the program; all else the machine tells.
	Press(press string, take Move) error
	// Reload takes up what was logged elsewhere.
	Reload() error
}

// Move is what a press does.
type Move func(follow.State, time.Time) follow.State

// Options are what a server needs of the program around it; one request at a time calls them.
type Options struct {
	Sit    func() (Seat, error)                           // begins a sitting
	Review func() (document.Document, paper.Paper, error) // the page of the review, and what it is printed on
	Now    func() time.Time
	Hosts  []string // name and port of each address it is reached under
	Kept   string   // the file for cookies; see What is kept
	Piece  string   // which piece it is, for that file
}

// Server serves the pages of one piece.
type Server struct {
	o      Options
	mu     sync.Mutex       // holds all below, and whatever the options lead to
	cookie string           // its name, chosen at random
	keys   map[string]bool  // hashes of those that are not spent
	seats  map[string]*seat // by the hash of the cookie
	wrong  map[string]slowed
}

type seat struct {
	Seat
	form    string                 // the number of the press that its form makes, without a script
	presses []string               // the newest ones that were taken
	changes int64                  // rises with each, also over a crash
	pages   map[chan struct{}]bool // waiting for changes
	rate    rate
}

// mostSeats is how many devices one server takes: our choice.
const mostSeats = 16

// New makes a server. Pages that were open when the program was killed, within lasting, go on.
func New(o Options) (*Server, error) {
	s := &Server{o: o, cookie: "strandwise-" + newSecret()[:8], keys: map[string]bool{}, seats: map[string]*seat{}, wrong: map[string]slowed{}}
	return s, s.takeUp()
}

// Handler answers requests.
func (s *Server) Handler() http.Handler {
	mux := http.NewServeMux()
	mux.HandleFunc("GET /{$}", s.front)
	mux.HandleFunc("POST /enter", s.enter)
	mux.HandleFunc("POST /press", s.seated(s.press))
	mux.HandleFunc("GET /live", s.seated(s.live))
	mux.HandleFunc("GET /review", s.seated(s.review))
	return s.guard(mux)
}

func (s *Server) sit(cookie string) error {
	sitting, err := s.o.Sit()
	if err == nil {
		s.seats[cookie] = &seat{Seat: sitting, form: newSecret(), pages: map[chan struct{}]bool{}, changes: s.o.Now().UnixMilli()}
	}
	return err
}

func (s *Server) seated(answer func(http.ResponseWriter, *http.Request, *seat)) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		s.mu.Lock()
		at := s.seatOf(r)
		s.mu.Unlock()
		if at == nil {
			closed(w)
			return
		}
		answer(w, r, at)
	}
}

func closed(w http.ResponseWriter) {
	http.Error(w, "this page was closed: open the address that strandwise prints", http.StatusForbidden)
}

func (s *Server) seatOf(r *http.Request) *seat {
	c, err := r.Cookie(s.cookie)
	if err != nil {
		return nil
	}
	return s.seats[hashOf(c.Value)]
}

func (s *Server) front(w http.ResponseWriter, r *http.Request) {
	s.mu.Lock()
	defer s.mu.Unlock()
	at := s.seatOf(r)
	if at == nil {
		door(w, r.URL.Query().Get("key"), http.StatusOK, "")
		return
	}
	_ = at.refresh() // what cannot be read, the next press tells
	s.giveCookie(w, r)
	at.view().send(w, http.StatusOK, "page")
}

func (s *Server) press(w http.ResponseWriter, r *http.Request, at *seat) {
	if err := r.ParseForm(); err != nil {
		http.Error(w, "too much, or no form", http.StatusBadRequest)
		return
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.seatOf(r) != at { // it ended while this press waited
		closed(w)
		return
	}
	s.giveCookie(w, r)
	number, move := r.PostForm.Get("press"), moveOf(r.PostForm)
	switch {
	case !pressNumber.MatchString(number) || move == nil:
		http.Error(w, "no press", http.StatusBadRequest)
		return
	case !at.rate.takes(s.o.Now()):
		http.Error(w, "too many presses", http.StatusTooManyRequests)
		return
	}
	if err := s.once(at, number, move, r.PostForm.Get("seen")); err != nil {
		http.Error(w, "strandwise: "+err.Error(), http.StatusInternalServerError)
		return
	}
	if r.Header.Get("Accept") == fragment {
		at.view().send(w, http.StatusOK, "main")
		return
	}
	http.Redirect(w, r, "/", http.StatusSeeOther)
}

// once takes a press unless it was taken before, or was made on a page that showed something else than is asked
// now (seen; empty for a note): what was pressed there may be meant for another row. What it logs is told to all
// pages at once.
func (s *Server) once(at *seat, number string, move Move, seen string) error {
	if slices.Contains(at.presses, number) {
		return nil
	}
	if err := at.Reload(); err != nil {
		return err
	}
	if at.State().Piece().State.HasPress(number) || seen != "" && seen != at.seen() { // taken before the program was killed, or made too late
		at.wake()
		return nil
	}
	if err := at.Press(number, move); err != nil {
		return err
	}
	at.presses = append(at.presses[max(0, len(at.presses)-mostPresses):], number)
	at.wake()
	s.keep()
	for _, other := range s.seats {
		if other.newest() != at.newest() {
			if err := other.refresh(); err != nil {
				return err
			}
		}
	}
	return nil
}

// mostPresses is how many numbers are remembered beside those of the log.
const mostPresses = 64

// Refresh takes up what was logged elsewhere since, and shows it.
func (s *Server) Refresh() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, at := range s.seats {
		if err := at.refresh(); err != nil {
			return err
		}
	}
	return nil
}

func (at *seat) newest() uint64 { return at.State().Piece().State.LastSeq }

func (at *seat) refresh() error {
	before := at.newest()
	err := at.Reload()
	if at.newest() != before {
		at.wake()
	}
	return err
}

// Tick lets the sittings know that time has passed.
func (s *Server) Tick() {
	s.mu.Lock()
	defer s.mu.Unlock()
	now := s.o.Now()
	for _, at := range s.seats {
		if when, wanted := at.State().Wake(); wanted && !now.Before(when) {
			_ = at.Press("", follow.State.Tick)
			at.wake()
		}
	}
}

// End ends all sittings, each keeping its place, within whole, which lets nothing interrupt it.
func (s *Server) End(whole func(func() error) error) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	return whole(func() error {
		for _, at := range s.seats {
			leave := func(f follow.State, _ time.Time) follow.State { return f.Hangup() }
			if err := at.Reload(); err != nil {
				return err
			}
			if err := at.Press("", leave); err != nil {
				return err
			}
		}
		s.seats = map[string]*seat{}
		if err := os.Remove(s.o.Kept); !errors.Is(err, fs.ErrNotExist) {
			return err
		}
		return nil
	})
}

func (at *seat) wake() {
	at.form, at.changes = newSecret(), at.changes+1
	for page := range at.pages {
		select {
		case page <- struct{}{}:
		default: // it is told already
		}
	}
}

// mostPages is how many open pages one device may have.
const mostPages = 4

// quiet is how long nothing is sent before the connection is tried.
const quiet = 15 * time.Second

// live sends the page anew with each change, as server-sent events (HTML Living Standard, section 9.2).
func (s *Server) live(w http.ResponseWriter, r *http.Request, at *seat) {
	changed := make(chan struct{}, 1)
	changed <- struct{}{}
	s.mu.Lock()
	full := len(at.pages) >= mostPages
	if !full {
		at.pages[changed] = true
	}
	s.mu.Unlock()
	if full {
		http.Error(w, "too many pages", http.StatusTooManyRequests)
		return
	}
	defer func() {
		s.mu.Lock()
		defer s.mu.Unlock()
		delete(at.pages, changed)
	}()
	w.Header().Set("Content-Type", "text/event-stream")
	rc := http.NewResponseController(w)
	for {
		event := []byte(":\n\n") // a comment
		select {
		case <-r.Context().Done():
			return
		case <-changed:
			s.mu.Lock()
			event = asEvent(at.view())
			s.mu.Unlock()
		case <-time.After(quiet):
		}
		_ = rc.SetWriteDeadline(time.Now().Add(patience))
		if _, err := w.Write(event); err != nil || rc.Flush() != nil {
			return
		}
	}
}

func (s *Server) review(w http.ResponseWriter, _ *http.Request, _ *seat) {
	s.mu.Lock()
	defer s.mu.Unlock()
	var b bytes.Buffer
	review, size, err := s.o.Review()
	if err == nil {
		err = document.WriteHTML(&b, review, size)
	}
	if err != nil {
		http.Error(w, "strandwise: "+err.Error(), http.StatusInternalServerError)
		return
	}
	sendPage(w, http.StatusOK, policy(document.PageStyle(review, size), ""), b.Bytes())
}

func sendPage(w http.ResponseWriter, status int, policy string, page []byte) {
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.Header().Set("Content-Security-Policy", policy)
	w.WriteHeader(status)
	_, _ = w.Write(page)
}
