package document

import "unicode/utf8"

// chipPad is what a chip has of its color beside the letters, in parts of their size.
const chipPad = 0.2

// lines holds the lines of bits, which after the first go in by hang.
func (f *flow) lines(bits []Text, size, indent, hang float64) {
	line := setting{size: size, x: f.inset + indent, before: 0.6, height: size * lineHeight}
	end := func() {
		if len(line.text) > 0 {
			f.held = append(f.held, line)
		}
		line.text, line.before, line.x = nil, 0, f.inset+indent+hang
	}
	for _, bit := range f.fitted(bits, size, f.width-line.x-hang) {
		if len(line.text) > 0 && f.reach(line.text, size)+f.reach(bit, size) > f.width-line.x {
			end()
		}
		if len(line.text) == 0 && bit[0] == blank {
			bit = bit[1:]
		}
		line.text = append(line.text, bit...)
	}
	end()
}

// blank stands in front of a bit that does not join on the one before.
var blank = Span{Text: " "}

// fitted are bits with the blanks in front of them, none wider than the room: what is wider is
// parted at blanks that are usually kept, and what still is between its letters.
func (f *flow) fitted(bits []Text, size, room float64) []Text {
	var all []Text
	for i, bit := range bits {
		parts := []Text{bit}
		if f.reach(bit, size) > room {
			parts = f.parted(bit, size, room)
		}
		if i > 0 {
			parts[0] = append(Text{blank}, parts[0]...)
		}
		all = append(all, parts...)
	}
	return all
}

// parted is a bit that is wider than the room in parts that are not.
func (f *flow) parted(bit Text, size, room float64) []Text {
	for _, finer := range [][]Text{bit.bits(), bit.split(func(Span) bool { return false })} {
		if len(finer) > 1 {
			return f.fitted(finer, size, room)
		}
	}
	var parts []Text
	for _, s := range bit {
		for fits := s; s.Text != ""; fits = s {
			for f.reach(Text{fits}, size) > room {
				_, n := utf8.DecodeLastRuneInString(fits.Text)
				fits.Text = fits.Text[:len(fits.Text)-n]
			}
			parts, s.Text = append(parts, Text{fits}), s.Text[len(fits.Text):]
		}
	}
	return parts
}

// bold reports whether a span stands out.
func (s Span) bold() bool { return s.Tone == Strong || s.Tone == Warning }

// reach is how far a text goes, in mm.
func (f *flow) reach(text Text, size float64) float64 {
	reach := 0.0
	for _, s := range text {
		f.Letters(size, s.bold())
		reach += f.Reach(s.Text)
		if s.Yarn > 0 {
			reach += 2 * chipPad * size
		}
	}
	return reach
}

// write writes a text above the lower edge of its line, what is of a yarn on a chip of its color.
func (f *flow) write(s setting, left, bottom float64) {
	for _, span := range s.text {
		ink, pad, reach := paperBlack, 0.0, f.reach(Text{span}, s.size)
		if span.Yarn > 0 {
			c := f.yarns[span.Yarn-1].Color
			ink, pad = c.Ink(), chipPad*s.size
			f.stroke(paperLine, 0.2)
			f.SetFillColor(int(c.R), int(c.G), int(c.B))
			f.RoundedRect(left, bottom-s.size*1.27, reach, s.size*1.22, pad, "1234", "DF")
		}
		f.Letters(s.size, span.bold())
		f.Words(left+pad, bottom-s.size*0.35, span.Text, ink)
		left += reach
	}
}
