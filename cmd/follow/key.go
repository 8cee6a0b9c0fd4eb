package follow

import (
	"bytes"
	"regexp"
	"time"
	"unicode"
	"unicode/utf8"
)

// Key is one press as a terminal or a browser sends it.
type Key struct {
	Name Name
	Text string // what a Rune or a Paste writes; empty for all others
}

// Name is the name that browsers give the key, if any (UI Events KeyboardEvent key values).
type Name string

// The names of keys. Rune is any key that writes a character, the space bar
// included; Paste is text a terminal says was pasted.
const (
	Unknown   Name = ""
	Rune      Name = "Rune"
	Paste     Name = "Paste"
	Enter     Name = "Enter"
	Left      Name = "ArrowLeft"
	Right     Name = "ArrowRight"
	Up        Name = "ArrowUp"
	Down      Name = "ArrowDown"
	PageUp    Name = "PageUp"
	PageDown  Name = "PageDown"
	Home      Name = "Home"
	End       Name = "End"
	Delete    Name = "Delete"
	Backspace Name = "Backspace"
	Tab       Name = "Tab"
	Escape    Name = "Escape"
	Interrupt Name = "Interrupt" // control and C
	Suspend   Name = "Suspend"   // control and Z
	Refresh   Name = "Refresh"   // control and L
	Finish    Name = "Finish"    // control and D
)

// Char is the key that writes the text.
func Char(text string) Key { return Key{Rune, text} }

// Value is the key as a browser tells it.
func (k Key) Value() string {
	if k.Name == Rune {
		return k.Text
	}
	return string(k.Name)
}

// A terminal writes a key as one character, or as a sequence that begins with the
// escape character: ESC [ parameters letter, or ESC O letter (ECMA-48, and common
// practice for the keys). Reads deliver such sequences in pieces, and the escape
// key writes nothing but the character they begin with, so only time tells the
// two apart: what has not gone on after Wait is taken as it is. A sequence that
// is not known is one Unknown key, so that its letters are never taken for keys.

const esc = 0x1b

// Pasted text stands between two sequences, where the terminal was asked for it.
const (
	pasteBegins = "\x1b[200~"
	pasteEnds   = "\x1b[201~"
	longestText = 1 << 16
)

// How long the rest of a key may take to come.
const (
	waitForKey   = 100 * time.Millisecond
	waitForPaste = time.Second
)

// sent are the keys by what a terminal sends: one control character, or a sequence.
var sent = map[string]Name{
	"\r": Enter, "\n": Enter, "\t": Tab, "\x7f": Backspace, "\b": Backspace,
	"\x03": Interrupt, "\x1a": Suspend, "\x0c": Refresh, "\x04": Finish,
	"\x1b[A": Up, "\x1b[B": Down, "\x1b[C": Right, "\x1b[D": Left, "\x1b[H": Home, "\x1b[F": End,
	"\x1bOA": Up, "\x1bOB": Down, "\x1bOC": Right, "\x1bOD": Left, "\x1bOH": Home, "\x1bOF": End, "\x1bOM": Enter,
	"\x1b[1~": Home, "\x1b[7~": Home, "\x1b[4~": End, "\x1b[8~": End,
	"\x1b[3~": Delete, "\x1b[5~": PageUp, "\x1b[6~": PageDown,
}

// What begins with ESC, by its bytes: a whole key, the beginning of one, and one that is broken off by a
// byte that cannot stand in it.
var (
	sequence = regexp.MustCompile(`^\x1b(?:\[\[[\x00-\x7f]|\[[ -?]{0,29}[@-Z\\-~]|O[\x00-\x7f])`)
	begun    = regexp.MustCompile(`^\x1b(?:\[\[|\[[ -?]{0,29}|O)?$`)
	broken   = regexp.MustCompile(`^\x1b(?:\[\[|\[[ -?]{0,29}|O)`)
)

// Decoder turns what a terminal sends into keys. The zero Decoder is ready.
type Decoder struct{ pending []byte }

// Feed takes the bytes of one read, however cut, and gives the keys they complete, in order.
func (d *Decoder) Feed(b []byte) []Key {
	d.pending = append(d.pending, b...)
	var keys []Key
	for len(d.pending) > 0 {
		k, used := next(d.pending)
		if used == 0 {
			break
		}
		d.pending = d.pending[used:]
		keys = append(keys, k)
	}
	return keys
}

// Wait is how long to wait for the rest of a key that has begun, then to Flush; 0 for none.
func (d *Decoder) Wait() time.Duration {
	switch {
	case bytes.HasPrefix(d.pending, []byte(pasteBegins)):
		return waitForPaste
	case len(d.pending) > 0:
		return waitForKey
	}
	return 0
}

// Flush gives what has come of a key as it is: a lone escape character is the escape key.
func (d *Decoder) Flush() []Key {
	rest := d.pending
	d.pending = nil
	if text, is := bytes.CutPrefix(rest, []byte(pasteBegins)); is {
		return []Key{pasted(text)}
	}
	switch string(rest) {
	case "":
		return nil
	case "\x1b":
		return []Key{{Name: Escape}}
	}
	return []Key{{Name: Unknown}}
}

// next is the key at the front and how many bytes it is: none while its rest has not come.
func next(b []byte) (Key, int) {
	if text, is := bytes.CutPrefix(b, []byte(pasteBegins)); is {
		text, after, ended := bytes.Cut(text, []byte(pasteEnds))
		if !ended && len(text) <= longestText {
			return Key{}, 0
		}
		return pasted(text), len(b) - len(after)
	}
	whole := sequence.Find(b)
	switch {
	case whole != nil:
		return Key{Name: sent[string(whole)]}, len(whole)
	case begun.Match(b):
		return Key{}, 0
	case broken.Match(b):
		return Key{Name: Unknown}, len(broken.Find(b))
	case b[0] == esc && b[1] == esc:
		return Key{Name: Escape}, 1
	case b[0] == esc: // a key together with Alt
		if _, size := character(b[1:]); size > 0 {
			return Key{Name: Unknown}, 1 + size
		}
		return Key{}, 0
	case b[0] < ' ' || b[0] == 0x7f:
		return Key{Name: sent[string(b[:1])]}, 1
	}
	return character(b)
}

func pasted(b []byte) Key { return Key{Paste, string(bytes.ToValidUTF8(b, nil))} }

func character(b []byte) (Key, int) {
	if !utf8.FullRune(b) {
		return Key{}, 0
	}
	r, size := utf8.DecodeRune(b)
	if r == utf8.RuneError && size == 1 || !unicode.IsPrint(r) {
		return Key{Name: Unknown}, size
	}
	return Key{Rune, string(b[:size])}, size
}
