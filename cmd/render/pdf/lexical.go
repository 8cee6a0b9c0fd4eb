package pdf

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode/utf16"
)

// literal is a string of bytes in parentheses (7.3.4.2). Parentheses and backslashes are
// escaped, and so are carriage returns, which would be read as line feeds.
func literal(b []byte) string { return string(appendLiteral(nil, b)) }

func appendLiteral(to, b []byte) []byte {
	to = append(to, '(')
	for _, c := range b {
		switch c {
		case '(', ')', '\\':
			to = append(to, '\\', c)
		case '\r':
			to = append(to, `\r`...)
		default:
			to = append(to, c)
		}
	}
	return append(to, ')')
}

// text is a text string (7.9.2.2): UTF-16, the high byte first, after the mark of that order.
func text(s string) string { return literal(appendUTF16([]byte{0xfe, 0xff}, s)) }

func appendUTF16(to []byte, s string) []byte {
	for _, unit := range utf16.Encode([]rune(s)) {
		to = append(to, byte(unit>>8), byte(unit))
	}
	return to
}

// name is a name object (7.3.5): what is neither a letter, a digit nor one of -+_. is written
// as the number of its byte.
func name(s string) string {
	var b strings.Builder
	b.WriteByte('/')
	for i := range len(s) {
		if c := s[i]; plain(c) {
			b.WriteByte(c)
		} else {
			fmt.Fprintf(&b, "#%02X", c)
		}
	}
	return b.String()
}

func plain(c byte) bool {
	return '0' <= c && c <= '9' || 'A' <= c && c <= 'Z' || 'a' <= c && c <= 'z' || strings.IndexByte("-+_.", c) >= 0
}

// number is a real number (7.3.3) to thousandths, in as few signs as it takes.
func number(v float64) string { return string(appendNumber(nil, v)) }

func appendNumber(to []byte, v float64) []byte {
	thousandths := int64(math.Round(v * 1000))
	if thousandths < 0 {
		to = append(to, '-')
		thousandths = -thousandths
	}
	to = strconv.AppendInt(to, thousandths/1000, 10)
	part := thousandths % 1000
	if part == 0 {
		return to
	}
	to = append(to, '.')
	for unit := int64(100); part > 0; unit /= 10 {
		to = append(to, byte('0'+part/unit))
		part %= unit
	}
	return to
}
