package follow

import (
	"fmt"
	"slices"
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
		blocks = append(blocks, s.motionBlocks(r, true)...)
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
		blocks = append(blocks, s.wholeRow(look, r)...)
	case s.o.By != ByRow:
		blocks = s.stretchView(r)
	default:
		blocks = s.wholeRow(look, r)
	}
	return document.Document{Yarns: s.piece.Layout.Fabric.Yarns, Blocks: blocks}
}

func line(tone document.Tone, format string, args ...any) document.Block {
	return document.Line{Text: document.Words(fmt.Sprintf(format, args...)), Tone: tone}
}

func (s State) wholeRow(look paint.Look, r room) []document.Block {
	o := answer.RowOptions{Large: r.large, StripFirst: r.first}
	if !s.looking() && s.Rows() == 0 { // once in a sitting
		o.Alike = document.Alike(look, s.sheet.Worked())
	}
	o.Strip = func(strip document.Strip) []document.Block { return []document.Block{s.strip(r, strip)} }
	o.Motions = func(*session.Sheet) []document.Block { return s.motionBlocks(r, false) }
	return answer.NewRow(s.sheet, o).Document().Blocks
}

// motionBlocks tells the motions of the row, in full or until they are known; none on a page, which has a
// place of its own for them.
func (s State) motionBlocks(r room, full bool) []document.Block {
	var blocks []document.Block
	for i := range s.sheet.Motions {
		m := &s.sheet.Motions[i]
		switch {
		case r.page && !full:
		case r.folded:
			title := strings.TrimPrefix(strings.Join(m.Letters, ", ")+": ", ": ") + answer.MotionTitle(s.sheet, m)
			blocks = append(blocks, line(document.Quiet, "%s; m shows how", title))
		default:
			blocks = append(blocks, answer.MotionBlocks(s.sheet, m, full)...)
		}
	}
	return blocks
}

func (s State) keyList() []document.Block {
	var blocks []document.Block
	list := func(name, does string) {
		text := document.Named(name, ": "+strings.ReplaceAll(does, "ROW", s.Word()))
		text[0].Tone = document.Strong
		blocks = append(blocks, document.Line{Text: text, Indent: 2})
	}
	if s.o.Lines {
		blocks = append(blocks, line(document.Strong, "words"))
		for _, w := range words() {
			list(strings.TrimSpace(w.name+" "+w.rest), w.does)
		}
		return blocks
	}
	blocks = append(blocks, line(document.Strong, "keys"),
		line(document.Quiet, "a press forward within 2 seconds of a new %s logs nothing", s.Word()))
	for _, b := range bindings(knitting) {
		list(b.label, b.does)
	}
	blocks = append(blocks, line(document.Strong, "while a catch is chosen"))
	for _, b := range bindings(choosing) {
		list(b.label, b.does)
	}
	return blocks
}

// The row to work is laid out to the room there is: what is to be done next as large as fits,
// then what explains it, then the fabric below it. The layouts are tried from the largest to
// the smallest; the motion is folded first, since m shows it. The first that fits is taken, and the
// lines it leaves are filled with finished rows. Where none fits, the smallest scrolls.

// room is a layout of the row to work. The zero room is that of lines, which go on as they must.
type room struct {
	laid   bool                // for a screen
	page   bool                // for a page, which has places of its own for motions and for what is chosen
	large  bool                // runs as chips, stitches two lines high
	least  int                 // columns of a stitch, even where the row then takes several lines
	most   int                 // columns of a stitch where the row fits one line
	folded bool                // motions by their names
	first  bool                // the strip stands above the row for a glance, which is scrolled
	alone  bool                // in colors, with no finished row below, which would be far flatter than its stitches are wide
	under  [][]document.Column // finished rows below the strip, the nearest first
}

var rooms = [...]room{
	{laid: true, large: true, least: 2, most: 8, alone: true},
	{laid: true, large: true, least: 2, most: 4},
	{laid: true, large: true, least: 2, most: 4, folded: true},
	{laid: true, least: 2, most: 4, folded: true},
	{laid: true, most: 4, folded: true},
	{laid: true, most: 4, folded: true, first: true},
}

func (s State) body(look paint.Look, lines int) []string {
	var body []string
	fits := func(r room) bool {
		body = written(s.document(look, r), look)
		return len(body) <= lines
	}
	if s.sheet == nil || s.mode != knitting && !s.writing() {
		fits(room{})
		return body
	}
	for _, r := range rooms {
		if r.alone && (!look.Paint.Colors() || s.finished(1) != nil) || !fits(r) {
			continue
		}
		for r.under = s.finished(lines - len(body)); !fits(r); {
			r.under = r.under[:len(r.under)-1]
		}
		break
	}
	return body
}

// finished are rows below the one on the screen, the nearest first, while their stitches match.
func (s State) finished(most int) [][]document.Column {
	var below [][]document.Column
	sheet := s.sheet
	for sheet != nil && len(below) < most && sheet.Row > 1 && sheet.Strips.BelowFits {
		below = append(below, answer.Below(sheet))
		sheet = s.piece.Sheet(sheet.Row - 1)
	}
	return below
}

// strip lays a strip out to the room, what is worked of it stepped back. A row of one run without a
// catch has nothing to find in it.
func (s State) strip(r room, strip document.Strip) document.Strip {
	if !r.laid || strip.Optional {
		return strip
	}
	strip.Least, strip.Most, strip.High, strip.Below = r.least, r.most, r.large, r.under
	strip.Ruler = true
	if worked := s.place(); worked > 0 && worked < s.sheet.Stitches() && !s.looking() {
		for _, st := range s.sheet.InOrder()[:s.sheet.InPattern(worked+1)] {
			strip.Columns[st.Column].Worked = true
		}
	}
	return strip
}

// Scene is a state as a page shows it.
type Scene struct {
	Document  document.Document // what the sitting is about
	Sayings   document.Document // what the last press did, and what else there is to say
	Aloud     string            // the row or the stretch to work, as it is heard
	Offers    []Offer
	Choosing  bool     // a catch is chosen
	Choices   []string // the catches of the row; those below are about one of them
	Chosen    int      // into Choices
	Scope     string   // in which repeats a change is made
	Repeat    int      // which of them, from 1; 0 for every one
	Repeats   []int    // those that have the chosen catch
	Motions   document.Document
	NewMotion bool           // one of them is not known yet
	Caught    map[string]int // by the sign under a stitch: the yarn that is caught there
}

// Scene lays the state out for a page.
func (s State) Scene(look paint.Look) Scene {
	heard := look
	heard.Plain = true
	scene := Scene{
		Document: s.document(look, room{page: true, laid: true, under: s.finished(pageRows)}), Sayings: s.sayings(true), Aloud: strings.Join(s.matter(heard), " "),
		Offers: s.offers(), Choosing: s.mode == choosing, Chosen: s.pick.at, Repeat: s.pick.repeat,
	}
	if s.sheet != nil {
		scene.Caught = map[string]int{}
		for _, l := range s.sheet.Letters {
			scene.Caught[answer.Sign(s.sheet.Yarns, l.Letter)] = l.Yarn.Index
		}
	}
	if families := s.families(); scene.Choosing && len(families) > 0 {
		for _, f := range families {
			scene.Choices = append(scene.Choices, s.familyWords(f))
		}
		scene.Scope, scene.Repeats = s.scope(families[s.pick.at]), families[s.pick.at].repeats
	}
	if s.sheet != nil && s.mode == knitting {
		for i := range s.sheet.Motions {
			m := &s.sheet.Motions[i]
			scene.Motions.Blocks = append(append(scene.Motions.Blocks, answer.MotionBlocks(s.sheet, m, true)...), answer.MotionPicture(s.sheet, m))
		}
		scene.NewMotion = slices.ContainsFunc(s.sheet.Motions, func(m session.SheetMotion) bool { return !m.Known })
	}
	return scene
}

// pageRows is how many finished rows a page shows below the row.
const pageRows = 4
