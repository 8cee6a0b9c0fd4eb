package follow

import (
	"fmt"
	"strings"

	"strandwise/cmd/answer"
	"strandwise/cmd/document"
	"strandwise/cmd/paint"
	"strandwise/session"
)

func (s State) document(look paint.Look, r room) document.Document {
	var blocks []document.Block
	switch {
	case s.mode == keys:
		blocks = s.keyList()
	case s.mode == motions:
		blocks = append(blocks, line(document.Strong, "%s %d: the motions in full", s.Word(), s.row))
		blocks = append(blocks, answer.EachMotion(s.sheet, true)...)
	case s.mode == choosing && r.page:
		if families := s.families(); len(families) > 0 {
			blocks = append(blocks, s.chosenStrip(families[s.pick.at]))
		}
		blocks = append(blocks, answer.GlanceBlocks(s.sheet, false)[:1]...)
	case s.mode == choosing:
		blocks = s.choices(look)
	case s.sheet == nil:
		blocks = []document.Block{
			line(document.Strong, "%s: %s", s.piece.State.Setup.Name, s.endWords()),
			line(document.Quiet, "%s looks back, %s undoes", s.named("left"), s.named("u")),
		}
	case s.looking():
		done := s.piece.State.DoneRow(s.row)
		logged, _ := s.piece.State.Entry(done.Seq)
		blocks = append(blocks,
			line(document.Strong, "looking back, logged %s", done.At.Format("Monday, 2 January, 15:04")),
			line(document.Quiet, "%s", s.piece.Words(logged)))
		blocks = append(blocks, s.wholeRow(r, "")...)
	case s.o.By != ByRow:
		blocks = s.stretchView(r)
	case s.Rows() == 0: // once in a sitting
		blocks = s.wholeRow(r, document.Alike(look, s.sheet.Worked()))
	default:
		blocks = s.wholeRow(r, "")
	}
	return document.Document{Yarns: s.piece.Layout.Fabric.Yarns, Blocks: blocks}
}

func line(tone document.Tone, format string, args ...any) document.Block {
	return document.Line{Text: document.Words(fmt.Sprintf(format, args...)), Tone: tone}
}

func (s State) wholeRow(r room, alike string) []document.Block {
	o := answer.RowOptions{Alike: alike, Large: r.large, StripFirst: r.first}
	o.Strip = func(strip document.Strip) document.Strip { return s.strip(r, strip) }
	switch {
	case r.page:
		o.Motions = func(*session.Sheet) []document.Block { return nil }
	case r.folded:
		o.Motions = foldedMotions
	}
	return answer.NewRow(s.sheet, o).Document().Blocks
}

func foldedMotions(sheet *session.Sheet) []document.Block {
	var blocks []document.Block
	for i := range sheet.Motions {
		m := &sheet.Motions[i]
		text := answer.MotionTitle(sheet, m)
		if len(m.Letters) > 0 {
			text = strings.Join(m.Letters, ", ") + ": " + text
		}
		blocks = append(blocks, line(document.Quiet, "%s; m shows how", text))
	}
	return blocks
}

func (s State) keyList() []document.Block {
	listed := func(name, does string) document.Block {
		text := document.Named(name, ": "+strings.ReplaceAll(does, "ROW", s.Word()))
		text[0].Tone = document.Strong
		return document.Line{Text: text, Indent: 2}
	}
	if s.o.Lines {
		blocks := []document.Block{line(document.Strong, "words")}
		for _, w := range words() {
			blocks = append(blocks, listed(strings.TrimSpace(w.name+" "+w.rest), w.does))
		}
		return blocks
	}
	blocks := []document.Block{
		line(document.Strong, "keys"),
		line(document.Quiet, "a press forward within 2 seconds of a new %s logs nothing", s.Word()),
	}
	for _, b := range knittingKeys() {
		blocks = append(blocks, listed(b.label, b.does))
	}
	blocks = append(blocks, line(document.Strong, "while a catch is chosen"))
	for _, b := range choosingKeys() {
		blocks = append(blocks, listed(b.label, b.does))
	}
	return blocks
}
