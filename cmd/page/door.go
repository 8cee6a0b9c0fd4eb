package page

import (
	"cmp"
	"crypto/rand"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"net"
	"net/http"
	"os"
	"runtime"
	"slices"
	"sync/atomic"
	"time"

	"strandwise/cmd/follow"
	"strandwise/session"
)

// Bounds on what a request may take: our choices.
const (
	mostBytes       = 8 << 10 // of a body, and of headers
	patience        = 5 * time.Second
	mostConnections = 128
	mostRate        = 20 // presses of one device in a second
)

// guard refuses what does not come from a page of our own, and bounds the rest.
func (s *Server) guard(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		for name, value := range map[string]string{
			"Content-Security-Policy":      "default-src 'none'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'",
			"Referrer-Policy":              "same-origin",
			"Cache-Control":                "no-store",
			"X-Content-Type-Options":       "nosniff",
			"Cross-Origin-Opener-Policy":   "same-origin",
			"Cross-Origin-Resource-Policy": "same-origin",
		} {
			w.Header().Set(name, value)
		}
		switch origin, site := r.Header.Get("Origin"), r.Header.Get("Sec-Fetch-Site"); {
		case !slices.Contains(s.o.Hosts, r.Host):
			http.Error(w, "not under this name", http.StatusMisdirectedRequest)
		case r.Method == http.MethodPost && origin != "http://"+r.Host, r.Method != http.MethodPost && origin != "" && origin != "http://"+r.Host:
			http.Error(w, "not from this page", http.StatusForbidden)
		case r.URL.Path != "/" && site != "" && site != "same-origin" && site != "none":
			http.Error(w, "not from this page", http.StatusForbidden)
		default:
			_ = http.NewResponseController(w).SetWriteDeadline(time.Now().Add(patience))
			r.Body = http.MaxBytesReader(w, r.Body, mostBytes)
			next.ServeHTTP(w, r)
		}
	})
}

// HTTP is a server with bounds for the handler. More than mostConnections at a time are closed at once.
func (s *Server) HTTP() *http.Server {
	var open atomic.Int64
	count := func(c net.Conn, state http.ConnState) {
		switch state {
		case http.StateNew:
			if open.Add(1) > mostConnections {
				_ = c.Close()
			}
		case http.StateClosed:
			open.Add(-1)
		}
	}
	return &http.Server{
		Handler: s.Handler(), ConnState: count, MaxHeaderBytes: mostBytes,
		ReadHeaderTimeout: patience, ReadTimeout: patience, IdleTimeout: time.Minute,
	}
}

// rate counts what comes within a second.
type rate struct {
	since time.Time
	n     int
}

func (r *rate) takes(now time.Time) bool {
	if gap := now.Sub(r.since); gap < 0 || gap >= time.Second {
		*r = rate{since: now}
	}
	r.n++
	return r.n <= mostRate
}

type slowed struct {
	wrong int
	until time.Time
}

// Wrong keys: another may be sent after firstWait, and each later one doubles it.
const (
	firstWait, longestWait = 500 * time.Millisecond, time.Minute
	mostSlowed             = 1000
)

func (s *Server) slow(address string) {
	if len(s.wrong) >= mostSlowed {
		clear(s.wrong)
	}
	w := s.wrong[address]
	w.wrong++
	w.until = s.o.Now().Add(min(longestWait, firstWait<<min(w.wrong-1, 10)))
	s.wrong[address] = w
}

func hashOf(secret string) string { return fmt.Sprintf("%x", sha256.Sum256([]byte(secret))) }

func newSecret() string {
	var b [16]byte
	_, _ = rand.Read(b[:]) // never fails (crypto/rand)
	return fmt.Sprintf("%x", b)
}

// NewKey gives a key for one more device.
func (s *Server) NewKey() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	key := newSecret()
	s.keys[hashOf(key)] = true
	return key
}

func (s *Server) enter(w http.ResponseWriter, r *http.Request) {
	if err := r.ParseForm(); err != nil {
		http.Error(w, "too much, or no form", http.StatusBadRequest)
		return
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	host, _, _ := net.SplitHostPort(r.RemoteAddr)
	address, key := cmp.Or(host, r.RemoteAddr), hashOf(r.PostForm.Get("key"))
	switch {
	case s.o.Now().Before(s.wrong[address].until):
		door(w, "", http.StatusTooManyRequests, "too many wrong keys: wait a minute")
		return
	case !s.keys[key]:
		s.slow(address)
		door(w, "", http.StatusForbidden, "that key is wrong or was used: ask the program for another")
		return
	case len(s.seats) >= mostSeats:
		door(w, "", http.StatusForbidden, "too many devices: end the program and begin anew")
		return
	}
	secret := newSecret()
	if err := s.sit(hashOf(secret)); err != nil {
		door(w, "", http.StatusInternalServerError, err.Error())
		return
	}
	delete(s.keys, key)
	delete(s.wrong, address)
	s.keep()
	s.setCookie(w, secret)
	http.Redirect(w, r, "/", http.StatusSeeOther)
}

func (s *Server) setCookie(w http.ResponseWriter, secret string) {
	http.SetCookie(w, &http.Cookie{Name: s.cookie, Value: secret, Path: "/", MaxAge: int(lasting.Seconds()), HttpOnly: true, SameSite: http.SameSiteStrictMode})
}

func (s *Server) giveCookie(w http.ResponseWriter, r *http.Request) {
	if c, err := r.Cookie(s.cookie); err == nil {
		s.setCookie(w, c.Value)
	}
}

// lasting is how long a page may be left alone, and how long after a crash pages may go on.
const lasting = 8 * time.Hour

// kept is the file that lets pages go on, as JSON: no cookie can be made of it.
type kept struct {
	Port   string     `json:"port"`
	Piece  string     `json:"piece"`
	Cookie string     `json:"cookie"`
	Seats  []keptSeat `json:"seats"`
}

// keptSeat is a sitting: the hash of its cookie, its presses, and what was said of a row's catches and is not logged yet.
type keptSeat struct {
	Hash    string            `json:"hash"`
	Presses []string          `json:"presses"` // the newest that were taken
	Row     int               `json:"row"`
	Catches session.Otherwise `json:"catches"`
}

func readKept(path string, now time.Time) (kept, bool) {
	var k kept
	info, err := os.Stat(path)
	if err != nil || now.Sub(info.ModTime()) > lasting || runtime.GOOS != "windows" && info.Mode().Perm()&0o077 != 0 {
		return k, false
	}
	text, err := os.ReadFile(path)
	return k, err == nil && json.Unmarshal(text, &k) == nil
}

// KeptPort is the port of pages that were open when the program was killed; empty where there are none.
func KeptPort(path string, now time.Time) string {
	k, _ := readKept(path, now)
	return k.Port
}

// takeUp goes on with the pages that were open when the program was killed, on the same port.
func (s *Server) takeUp() error {
	k, is := readKept(s.o.Kept, s.o.Now())
	if !is || k.Port != s.port() || k.Piece != s.o.Piece {
		return nil
	}
	s.cookie = k.Cookie
	for _, old := range k.Seats {
		if err := s.sit(old.Hash); err != nil {
			return err
		}
		s.seats[old.Hash].presses = old.Presses
		resume := func(f follow.State, _ time.Time) follow.State { return f.Resumed(old.Row, old.Catches) }
		if err := s.seats[old.Hash].Press("", resume); err != nil {
			return err
		}
	}
	return nil
}

func (s *Server) port() string {
	_, port, _ := net.SplitHostPort(s.o.Hosts[0])
	return port
}

// keep writes the file. Where that fails pages end with the program, and nothing else is lost.
func (s *Server) keep() {
	k := kept{Port: s.port(), Piece: s.o.Piece, Cookie: s.cookie}
	for h, at := range s.seats {
		row, catches := at.State().Pending()
		k.Seats = append(k.Seats, keptSeat{h, at.presses, row, catches})
	}
	text, _ := json.Marshal(k)  // of strings: it cannot fail
	draft := s.o.Kept + ".next" // one name, so that a kill leaves no heap of them
	if os.WriteFile(draft, text, 0o600) != nil || os.Rename(draft, s.o.Kept) != nil {
		_ = os.Remove(draft)
	}
}
