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

// Output is the one writer of the answer. It holds it back, so that a command that fails leaves
// stdout empty, and keeps the first failed write. Several goroutines may use it.
type Output struct {
	mu     sync.Mutex
	to     io.Writer
	held   bytes.Buffer
	err    error
	colors bool // color codes are ours
	raw    bool // the answer is no text, or draws on the terminal: it is sent as it is
}

// AsIs has what is not written yet sent as it is, or as it is shown.
func (o *Output) AsIs(yes bool) io.Writer {
	o.mu.Lock()
	defer o.mu.Unlock()
	o.raw = yes
	return o
}

// Write holds p back.
func (o *Output) Write(p []byte) (int, error) {
	o.mu.Lock()
	defer o.mu.Unlock()
	if o.err != nil {
		return 0, o.err
	}
	return o.held.Write(p)
}

// Flush writes what is held and returns the first error of any write so far.
func (o *Output) Flush() error {
	o.mu.Lock()
	defer o.mu.Unlock()
	text := o.held.Bytes()
	if !o.raw {
		text = Shown(text, o.colors)
	}
	if o.err == nil && len(text) > 0 {
		_, o.err = o.to.Write(text)
	}
	o.held.Reset()
	return o.err
}

// discard forgets what is held, and makes every later write fail where there is an error.
func (o *Output) discard(err error) {
	o.mu.Lock()
	defer o.mu.Unlock()
	o.held.Reset()
	if err != nil {
		o.err = err
	}
}

// Failed is the first error of any write so far.
func (o *Output) Failed() error {
	o.mu.Lock()
	defer o.mu.Unlock()
	return o.err
}

// Notices is the writer of all but the answer. There is nowhere left to report a failure.
type Notices struct {
	mu     sync.Mutex
	to     io.Writer
	colors bool          // color codes are ours
	kept   *bytes.Buffer // what is printed, while a screen shows it; else nil
}

// Write writes p at once.
func (n *Notices) Write(p []byte) (int, error) {
	n.mu.Lock()
	defer n.mu.Unlock()
	to := n.to
	if n.kept != nil {
		to = n.kept
	}
	_, err := to.Write(Shown(p, n.colors))
	return len(p), err
}

// draw writes codes of a terminal, unless a screen is there.
func (n *Notices) draw(codes string) {
	n.mu.Lock()
	defer n.mu.Unlock()
	if n.kept == nil {
		_, _ = io.WriteString(n.to, codes)
	}
}

// CaptureNotices keeps what the program would print on stderr in the middle of a screen.
// The returned function gives the lines so far.
func (a *App) CaptureNotices() (heard func() []string, back func()) {
	n, kept := a.Err, &bytes.Buffer{}
	divert := func(to *bytes.Buffer) {
		n.mu.Lock()
		defer n.mu.Unlock()
		n.kept = to
	}
	divert(kept)
	heard = func() []string {
		n.mu.Lock()
		defer n.mu.Unlock()
		lines := strings.FieldsFunc(kept.String(), func(r rune) bool { return r == '\n' })
		kept.Reset()
		return lines
	}
	return heard, func() { divert(nil) }
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
