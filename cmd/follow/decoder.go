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

// controls are the keys that one control character stands for.
var controls = [...]struct {
	char byte
	name Name
}{
	{'\r', Enter},
	{'\n', Enter},
	{'\t', Tab},
	{0x7f, Backspace},
	{0x08, Backspace},
	{0x03, Interrupt},
	{0x1a, Suspend},
	{0x0c, Refresh},
	{0x04, Finish},
}

func control(char byte) Name {
	for _, c := range controls {
		if c.char == char {
			return c.name
		}
	}
	return Unknown
}

// sequences are the keys by what follows ESC.
var sequences = [...]struct {
	text string
	name Name
}{
	{"[A", Up},
	{"[B", Down},
	{"[C", Right},
	{"[D", Left},
	{"[H", Home},
	{"[F", End},
	{"OA", Up},
	{"OB", Down},
	{"OC", Right},
	{"OD", Left},
	{"OH", Home},
	{"OF", End},
	{"OM", Enter},
	{"[1~", Home},
	{"[7~", Home},
	{"[4~", End},
	{"[8~", End},
	{"[3~", Delete},
	{"[5~", PageUp},
	{"[6~", PageDown},
}

func sequence(text string) Name {
	for _, s := range sequences {
		if s.text == text {
			return s.name
		}
	}
	return Unknown
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
	if b[0] == esc {
		return escaped(b)
	}
	if b[0] < ' ' || b[0] == 0x7f {
		return &Key{Name: control(b[0])}, 1
	}
	return character(b)
}

func (d *Decoder) paste() (*Key, int) {
	at := bytes.Index(d.pending, []byte(pasteEnds))
	switch {
	case at >= 0:
		d.pasting = false
		k := pasted(d.pending[:at])
		return &k, at + len(pasteEnds)
	case len(d.pending) > longestText:
		d.pasting = false
		k := pasted(d.pending)
		return &k, len(d.pending)
	}
	return nil, 0
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
	return &Key{Name: sequence(string(b[1:size]))}, size
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
