package render

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"strandwise/cmd/paint"
	"strandwise/session"
	"strandwise/session/hold"
)

// SheetOptions say what a sheet shows beyond what the row calls for.
type SheetOptions struct {
	YarnPlaces bool // where every yarn sits, as after a break
	Steps      bool // every motion in full, known or not
	Why        bool // why catches were moved
	Alike      bool // which yarns this stream cannot tell apart by color
}

// Sheet writes the row sheet. The row for a glance comes first and stands out; all
// else steps back. A row without catches takes three lines: the glance, its place in
// the piece, its strip.
func Sheet(w io.Writer, s *session.Sheet, look Look, o SheetOptions) error {
	p := &sheetPage{page: page{w: w, look: look}, s: s, o: o}
	if look.Plain {
		p.plain()
	} else {
		p.write()
	}
	return p.err
}

type sheetPage struct {
	page
	s *session.Sheet
	o SheetOptions
}

func (p *sheetPage) write() {
	p.glance()
	for _, words := range differing(p.s) {
		p.text("   ", words, p.look.Paint.Strong)
	}
	p.quiet("%s", place(p.s))
	if p.s.Begun > 0 {
		p.say("%s", begun(p.s))
	}
	p.seats()
	if words := collideWords(p.look, p.s); words != "" && (p.o.Alike || len(p.s.Moves) > 0) {
		p.quiet("%s", words)
	}
	p.strip()
	for _, line := range p.moved() {
		p.text(session.MovedSign+" ", line, p.look.Paint.Quiet)
	}
	if words := Shaping(p.s, p.look); words != "" {
		p.say("%s", words)
	}
	for _, n := range p.s.Notes {
		p.say("%s", n.Text)
	}
	for i := range p.s.Motions {
		p.motion(&p.s.Motions[i])
	}
	for _, c := range p.s.Cautions {
		p.say("%s", c)
	}
}

// glance writes the row to be read aloud, its number on every line.
func (p *sheetPage) glance() {
	number, texts := p.s.Glance()
	prefix := number + " "
	for _, line := range paint.Wrap(prefix, p.runs(texts, p.look.Width-paint.Width(prefix)), p.look.Width) {
		p.line(p.look.Paint.Strong(prefix) + line[len(prefix):])
	}
}

// runs makes the pieces of the glance. Count and name of a run stand on its color. A
// piece wider than a line is broken between words.
func (p *sheetPage) runs(texts []string, width int) []paint.Span {
	var pieces []paint.Span
	for i, text := range texts {
		if paint.Width(text) > width {
			for _, word := range strings.Fields(text) {
				pieces = append(pieces, paint.Span{Text: word, Style: p.look.Paint.Strong})
			}
			continue
		}
		pieces = append(pieces, paint.Span{Text: text, Style: p.runStyle(i)})
	}
	return pieces
}

func (p *sheetPage) runStyle(i int) style {
	if i >= len(p.s.Runs) {
		return p.look.Paint.Strong
	}
	run := p.s.Runs[i]
	yarn := p.s.Yarns[run.Yarn]
	own := fmt.Sprintf("%d %s", run.Stitches, yarn.Name)
	leans := leaning(p.look, p.s.Yarns)
	return func(text string) string {
		return yarnText(p.look, own, run.Yarn, p.s.Yarns, leans) + p.look.Paint.Strong(strings.TrimPrefix(text, own))
	}
}

// differing tells what some repeats have otherwise, repeats alike together, and what was
// planned otherwise in a finished row.
func differing(s *session.Sheet) []string {
	var order []string
	names := map[string][]string{}
	for _, d := range s.OtherRepeats {
		name, words, _ := strings.Cut(s.DifferingWords(d), ": ")
		if names[words] == nil {
			order = append(order, words)
		}
		names[words] = append(names[words], name)
	}
	lines := make([]string, len(order))
	for i, words := range order {
		lines[i] = fmt.Sprintf("%s: %s, counted in the repeat", listed(names[words]), words)
	}
	for _, words := range s.Changes {
		lines = append(lines, "otherwise than planned, counted in the repeat: "+words)
	}
	return lines
}

// place tells where the row stands: piece, part, chart row, side, and an earlier row
// that begins alike.
func place(s *session.Sheet) string {
	text := fmt.Sprintf("%s, %s %d of %d; %s", s.Piece, s.Word(), s.Row, s.Of, partWords(s.Part))
	if !s.Round {
		text += "; " + side(s)
	}
	if s.Twin != nil {
		text += "; " + twin(s)
	}
	return text
}

func partWords(p session.PartPlace) string {
	text := fmt.Sprintf("%s row %d of %d", p.Name, p.Row, p.Rows)
	if p.Times > 1 {
		text += fmt.Sprintf(", copy %d of %d", p.Copy, p.Times)
	}
	if p.Of > 1 {
		text += fmt.Sprintf(", part %d of %d", p.Number, p.Of)
	}
	return text
}

func side(s *session.Sheet) string {
	if s.WrongSide {
		return "wrong side"
	}
	return "right side"
}

func twin(s *session.Sheet) string {
	if s.Twin.PartsAt == 0 {
		if !s.Twin.Caught {
			return fmt.Sprintf("the same as %s %d, but for its catches", s.Word(), s.Twin.Row)
		}
		return fmt.Sprintf("the same as %s %d", s.Word(), s.Twin.Row)
	}
	return fmt.Sprintf("begins like %s %d, parts at stitch %d", s.Word(), s.Twin.Row, s.Twin.PartsAt)
}

// begun tells how far the row is worked.
func begun(s *session.Sheet) string {
	text := fmt.Sprintf("%d of %s worked", s.Begun, counted(s.Total, "stitch", "stitches"))
	if width := len(s.Order); s.Repeats > 1 && s.Begun < s.Total {
		text += fmt.Sprintf("; next is stitch %d of repeat %d", s.Begun%width+1, s.Begun/width+1)
	}
	return text
}

// seats tells where the yarns sit when that changes or is asked for.
func (p *sheetPage) seats() {
	if len(p.s.Moves) > 0 || p.o.YarnPlaces {
		p.quiet("%s", SeatWords(p.s, p.s.YarnPlaces))
	}
}

// SeatWords tells where yarns sit: "oat: left hand, dominant; fjord: right hand". In a
// rotating carry no yarn has a place of its own.
func SeatWords(s *session.Sheet, seats []session.YarnPlace) string {
	words := make([]string, len(seats))
	for i, seat := range seats {
		if seat.Place == hold.SameSide {
			return hold.RotatingSide
		}
		words[i] = fmt.Sprintf("%s: %s", s.Yarns[seat.Yarn].Name, seat.Place)
		if seat.Dominant {
			words[i] += ", dominant"
		}
		if seat.Shares {
			words[i] += ", shared"
		}
	}
	return strings.Join(words, "; ")
}

// strip writes the row, and below it, where there is something to compare, the row
// below. A row of one yarn that does not fit a line shows nothing in a strip.
func (p *sheetPage) strip() {
	st := p.s.Strips
	caught := slices.Contains(st.Caught, true)
	if len(p.s.Runs) == 1 && !caught && len(p.s.Shaping) == 0 && len(st.Row)+8 > p.look.Width {
		return
	}
	strip := Strip{
		Yarns: p.s.Yarns, Row: p.s.Row, Cells: st.Row, FromLeft: p.s.FromLeft, Signs: SheetSigns(p.s, p.look.Marks),
	}
	if st.BelowFits && caught {
		strip.Below, strip.SignsBelow = st.Below, catchSigns(st.CaughtBelow, p.look.Marks.Catch)
	}
	WriteStrip(p.look, p.line, strip)
}

// SheetSigns are the signs under the stitches of a row, by column: its catches, those
// moved with a star, and the stitches that are not plain.
func SheetSigns(s *session.Sheet, marks paint.Marks) []string {
	signs := catchSigns(s.Strips.Caught, marks.Catch)
	for _, sh := range s.Shaping {
		at := s.Order[sh.Stitch-1].Column
		if signs[at] == "" {
			signs[at] = marks.Shape
		} else {
			signs[at] = marks.Both
		}
	}
	for _, c := range s.Catches {
		if c.Moved {
			signs[s.Order[c.Stitch-1].Column] = session.MovedSign
		}
	}
	return signs
}

// moved explains the sign of moved catches where one stands: in a few words, or the reason
// of each.
func (p *sheetPage) moved() []string {
	switch {
	case len(p.s.Reasons) == 0:
		return nil
	case p.o.Why:
		return p.s.Reasons
	}
	return []string{fmt.Sprintf("moved to fit the %s below", p.s.Word())}
}

// shapeSign is the sign by which the strip marks the stitches that are not plain, and
// what stands there where one is caught as well.
func shapeSign(s *session.Sheet, marks paint.Marks) string {
	sign := marks.Shape
	if slices.Contains(SheetSigns(s, marks), marks.Both) {
		sign += fmt.Sprintf(" (%s with a catch)", marks.Both)
	}
	return sign
}

// Shaping tells the stitches that are not plain, with their sign in the strip and the
// count after the row; empty where all are.
func Shaping(s *session.Sheet, look Look) string {
	switch {
	case len(s.Shaping) == 0:
		return ""
	case look.Plain:
		return shaping(s)
	}
	return shapeSign(s, look.Marks) + " " + shaping(s)
}

// shaping lists the stitches that are not plain, by word, and the count after the row.
func shaping(s *session.Sheet) string {
	var order []string
	at := map[string][]string{}
	for _, sh := range s.Shaping {
		if at[sh.Word] == nil {
			order = append(order, sh.Word)
		}
		at[sh.Word] = append(at[sh.Word], fmt.Sprint(sh.Stitch))
	}
	words := make([]string, len(order))
	for i, word := range order {
		words[i] = fmt.Sprintf("%s on %s", word, strings.Join(at[word], ", "))
	}
	where := ""
	if s.Repeats > 1 {
		where = " of each repeat"
	}
	return fmt.Sprintf("%s%s; %s after this %s", strings.Join(words, "; "), where, counted(s.After, "stitch", "stitches"), s.Word())
}
