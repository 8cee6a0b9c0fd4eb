package document

import (
	"slices"
	"unicode/utf8"

	"strandwise/cmd/paint"
)

// breaker breaks texts into lines, alike on a terminal and on paper; what it measures in is the writer's.
type breaker struct {
	reach func(Text) float64 // how far a text goes
	cuts  bool               // nothing sticks out: what is to be whole is cut where it is wider than a line
}

// blank stands in front of a bit that does not join on the one before.
var blank = Span{Text: " "}

// lines sets bits with a blank between two on lines that go no further than the room, which after the first is
// less by the hang.
func (b breaker) lines(bits []Text, room, hang float64) []Text {
	var lines []Text
	least := room - hang
	for parts := range paint.Lines(b.fitted(bits, least), func(parts []Text) bool { return b.reach(line(parts)) <= room }) {
		lines = append(lines, line(parts))
		room = least
	}
	return lines
}

// line is parts one after another, without the blank in front of the first.
func line(parts []Text) Text {
	text := slices.Concat(parts...)
	if text[0] == blank {
		return text[1:]
	}
	return text
}

// fitted are bits with the blanks in front of them, those in parts that are wider than the room.
func (b breaker) fitted(bits []Text, room float64) []Text {
	var all []Text
	for i, bit := range bits {
		parts := []Text{bit}
		if b.reach(bit) > room {
			parts = b.parted(bit, room)
		}
		if i > 0 {
			parts[0] = append(Text{blank}, parts[0]...)
		}
		all = append(all, parts...)
	}
	return all
}

// parted is a bit that is wider than the room in parts: at its blanks, and if it must be at those
// that are usually kept, then between its letters.
func (b breaker) parted(bit Text, room float64) []Text {
	finer := bit.bits()
	if len(finer) == 1 && b.cuts {
		finer = bit.split(func(Span) bool { return false })
	}
	switch {
	case len(finer) > 1:
		return b.fitted(finer, room)
	case !b.cuts:
		return finer
	}
	var parts []Text
	for _, s := range bit {
		for fits := s; s.Text != ""; fits = s {
			for b.reach(Text{fits}) > room {
				_, n := utf8.DecodeLastRuneInString(fits.Text)
				fits.Text = fits.Text[:len(fits.Text)-n]
			}
			parts, s.Text = append(parts, Text{fits}), s.Text[len(fits.Text):]
		}
	}
	return parts
}
