package page

import (
	"cmp"
	"net"
	"net/http"
	"slices"
	"sync/atomic"
	"time"
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

func (s *Server) waits(address string) bool { return s.o.Now().Before(s.wrong[address].until) }

func (s *Server) slow(address string) {
	if len(s.wrong) >= mostSlowed {
		clear(s.wrong)
	}
	w := s.wrong[address]
	w.wrong++
	w.until = s.o.Now().Add(min(longestWait, firstWait<<min(w.wrong-1, 10)))
	s.wrong[address] = w
}

func addressOf(r *http.Request) string {
	host, _, _ := net.SplitHostPort(r.RemoteAddr)
	return cmp.Or(host, r.RemoteAddr)
}
