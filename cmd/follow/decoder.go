package follow

import (
	"bytes"
	"time"
	"unicode"
	"unicode/utf8"
)

// A terminal writes a key as one character, or as a sequence that begins with the
// escape character: ESC [ parameters letter, or ESC O letter (ECMA-48, and common
// practice for the keys). Reads deliver such sequences in pieces, and the escape
// key writes nothing but the character they begin with, so only time tells the
// two apart: what has not gone on after Wait is taken as it is. A sequence that
// is not known is one Unknown key, so that its letters are never taken for keys.

const esc = 0x1b

// longestSequence is how many bytes a sequence may take; longer is no key.
const longestSequence = 32

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

// Decoder turns what a terminal sends into keys. The zero Decoder is ready.
type Decoder struct {
	pending []byte
	pasting bool
}

// Feed takes the bytes of one read and gives the keys they complete, in order. How
// the bytes are cut into reads makes no difference.
func (d *Decoder) Feed(b []byte) []Key {
	d.pending = append(d.pending, b...)
	var keys []Key
	for len(d.pending) > 0 {
		k, used := d.next()
		if used == 0 {
			break
		}
		d.pending = d.pending[used:]
		if k != nil {
			keys = append(keys, *k)
		}
	}
	return keys
}

// Wait is how long to wait for the rest of a key that has begun, then to Flush; 0
// when none has.
func (d *Decoder) Wait() time.Duration {
	switch {
	case d.pasting:
		return waitForPaste
	case len(d.pending) > 0:
		return waitForKey
	}
	return 0
}

// Flush gives what has come of a key as it is: a lone escape character is the
// escape key, pasted text without its end is what has come of it.
func (d *Decoder) Flush() []Key {
	rest := d.pending
	d.pending = nil
	switch {
	case d.pasting:
		d.pasting = false
		return []Key{pasted(rest)}
	case len(rest) == 0:
		return nil
	case len(rest) == 1 && rest[0] == esc:
		return []Key{{Name: Escape}}
	}
	return []Key{{Name: Unknown}}
}

// next takes one key off the front and how many bytes it is: none while its rest has
// not come. The key is nil where the bytes are only the beginning of a paste.
func (d *Decoder) next() (*Key, int) {
	b := d.pending
	if d.pasting {
		return d.paste()
	}
	if bytes.HasPrefix(b, []byte(pasteBegins)) {
		d.pasting = true
		return nil, len(pasteBegins)
	}
	switch {
	case b[0] == esc:
		return escaped(b)
	case b[0] < ' ' || b[0] == 0x7f:
		return &Key{Name: sent[string(b[:1])]}, 1
	}
	return character(b)
}

func (d *Decoder) paste() (*Key, int) {
	text, after, ended := bytes.Cut(d.pending, []byte(pasteEnds))
	if !ended && len(text) <= longestText {
		return nil, 0
	}
	d.pasting = false
	k := pasted(text)
	return &k, len(d.pending) - len(after)
}

func pasted(b []byte) Key { return Key{Paste, string(bytes.ToValidUTF8(b, nil))} }

// character takes one character of UTF-8.
func character(b []byte) (*Key, int) {
	if !utf8.FullRune(b) {
		return nil, 0
	}
	r, size := utf8.DecodeRune(b)
	if r == utf8.RuneError && size == 1 || !unicode.IsPrint(r) {
		return &Key{Name: Unknown}, size
	}
	return &Key{Rune, string(b[:size])}, size
}

// escaped takes a key that begins with the escape character.
func escaped(b []byte) (*Key, int) {
	if len(b) == 1 {
		return nil, 0
	}
	size := 0
	switch b[1] {
	case esc:
		return &Key{Name: Escape}, 1
	case '[':
		size = controlSequence(b)
	case 'O':
		size = min(len(b), 3) / 3 * 3
	default: // a key together with Alt
		if k, n := character(b[1:]); k != nil || n > 0 {
			size = 1 + n
		}
	}
	if size == 0 {
		return nil, 0
	}
	return &Key{Name: sent[string(b[:size])]}, size
}

// controlSequence is the length of the sequence that begins b, 0 while it has no
// end. A byte that cannot stand in one ends it and is not of it.
func controlSequence(b []byte) int {
	if len(b) > 2 && b[2] == '[' { // a function key of a bare console
		return min(len(b), 4) / 4 * 4
	}
	for i := 2; i < len(b); i++ {
		switch c := b[i]; {
		case c >= 0x40 && c <= 0x7e:
			return i + 1
		case c < 0x20 || c > 0x7e || i == longestSequence:
			return i
		}
	}
	return 0
}
