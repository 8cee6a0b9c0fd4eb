package frame

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strings"
	"sync"
	"unicode/utf16"
	"unicode/utf8"
)

// errAbandoned is what a command left running after an interruption gets when it writes.
var errAbandoned = errors.New("the run was interrupted")

// Stream is a way out. The answer is held back until the command has succeeded, so that one that
// fails leaves stdout empty; all else goes out at once, but while a screen shows it. The first failed
// write of an answer is kept. Several goroutines may use it.
type Stream struct {
	mu     sync.Mutex
	to     io.Writer
	held   bytes.Buffer
	holds  bool
	err    error
	colors bool // color codes are ours
	raw    bool // what is written is no text, or draws on the terminal: it is sent as it is
}

// AsIs has what is not written yet sent as it is, or as it is shown.
func (s *Stream) AsIs(yes bool) io.Writer {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.raw = yes
	return s
}

// Write takes p, and sends it where nothing is held back.
func (s *Stream) Write(p []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.err != nil {
		return 0, s.err
	}
	s.held.Write(p)
	if !s.holds {
		s.send()
		s.err = nil // there is nowhere left to report it, and the next may get through
	}
	return len(p), nil
}

// Flush sends what is held and returns the first error of any write so far.
func (s *Stream) Flush() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.send()
	return s.err
}

func (s *Stream) send() {
	text := s.held.Bytes()
	if !s.raw {
		text = Shown(text, s.colors)
	}
	if s.err == nil && len(text) > 0 {
		_, s.err = s.to.Write(text)
	}
	s.held.Reset()
}

// discard forgets what is held, and makes every later write fail where there is an error.
func (s *Stream) discard(err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.held.Reset()
	if err != nil {
		s.err = err
	}
}

// Failed is the first error of any write so far.
func (s *Stream) Failed() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.err
}

// draw writes codes of a terminal, unless a screen is there.
func (s *Stream) draw(codes string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if !s.holds {
		_, _ = io.WriteString(s.to, codes)
	}
}

// CaptureNotices keeps what the program would print on stderr in the middle of a screen.
// The returned function gives the lines so far.
func (a *App) CaptureNotices() (heard func() []string, back func()) {
	n := a.Err
	hold := func(yes bool) {
		n.mu.Lock()
		defer n.mu.Unlock()
		n.holds = yes
		n.held.Reset()
	}
	hold(true)
	heard = func() []string {
		n.mu.Lock()
		defer n.mu.Unlock()
		lines := strings.FieldsFunc(string(Shown(n.held.Bytes(), n.colors)), func(r rune) bool { return r == '\n' })
		n.held.Reset()
		return lines
	}
	return heard, func() { hold(false) }
}

// Names, notes and settings may come from a store or an export that somebody else made. A
// character in them that steers a terminal, or turns or hides the text beside it, is shown
// and never sent: as \u and four digits, which means the same in a JSON answer. That is done
// where text leaves, so that none goes another way; pictures, documents and exports written
// to standard output, which are no text for a terminal, go past it.

// steering is what may steer: line ends of a table and codes that set colors, which are looked at as
// a whole, then whatever is a control, or is not seen itself and changes how others are, and what
// stands for bytes that are no letters.
var steering = regexp.MustCompile(`\r\n|\x1b\[[0-9;]*m|[\p{Cc}\p{Cf}\p{Zl}\p{Zp}\x{FFFD}]`)

// harmless are sent as they are: the two joiners are letters of some scripts and parts of pictures.
var harmless = []string{"\r\n", "\n", "\t", "\u200C", "\u200D", "\uFFFD"}

// Shown is text with what would steer escaped; our own codes pass where colors are shown.
func Shown(text []byte, colors bool) []byte {
	return steering.ReplaceAllFunc(text, func(found []byte) []byte {
		r, n := utf8.DecodeRune(found)
		if slices.Contains(harmless, string(found)) || colors && r == '\x1b' && len(found) > n {
			return found
		}
		var out []byte
		for _, unit := range utf16.AppendRune(nil, r) {
			out = fmt.Appendf(out, `\u%04x`, unit)
		}
		return append(out, found[n:]...)
	})
}

// PlainText is unchecked text from a store as it is shown, without even colors.
func PlainText(text []byte) string { return string(Shown(text, false)) }
