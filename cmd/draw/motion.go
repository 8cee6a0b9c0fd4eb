package draw

import (
	"fmt"
	"slices"
	"strings"

	"strandwise/chart"
	"strandwise/floats"
	"strandwise/session/hold"
)

// A motion is drawn in a panel for each of its steps, as the knitter sees it: two strands run from the fabric, at
// the right, to the hands, and each pass is one crossing of them. All of it follows from the passes that go with the
// words, so that drawing and words cannot differ.
//
// In a weave the strands lie along the needle, one above it and one below; the working strand is looped round it at
// each stitch, and the carried one goes to its other side for one stitch and comes back. Whether a hand leads it or
// the tip passes it (step.go of package hold) matters only to the arrow. In a twist the strands hang from the
// needle, and the one that is led first moves.
//
// What is outside lies farther from the fabric: on the knit side away from the knitter, so that the strand inside
// lies on top; on the purl side towards her. Strands that hang are led to the sides, where the one outside passes
// beneath.

// A panel in mm: its size, and where its parts lie.
const (
	panelWide, panelHigh = 60.0, 44.0
	panelGap             = 3.0
	panelsAcross         = 3
	motionLetter         = 3.0
	motionLine           = motionLetter * 1.35
	nameLetter           = 2.6
	smallMotion          = 0.8                              // of the size, where a motion stands beside its words
	smallLetter          = stripLeast / smallMotion * 1.001 // on paper as large as those of a strip
	strandWide           = 1.5

	lastStitch = 53.0 // from the left
	thisStitch = 29.0
	nextStitch = 7.0
	swing      = 4.3 // half the length on which a strand changes its place

	needleAcross = 21.0 // in a weave
	needleOver   = 6.0  // in a twist
	needleHalf   = 2.1  // of its thickness
	twistEnd     = 38.5
)

var (
	carriedColor = chart.Color{R: 0xE0, G: 0x8A, B: 0x2E}
	carriedText  = chart.Color{R: 0x94, G: 0x50, B: 0x08} // of its name: the strand itself is too light on white
	workingColor = chart.Color{R: 0x1F, G: 0x3F, B: 0x6E}
	needleColor  = chart.Color{R: 0xE6, G: 0xE4, B: 0xDF}
	stitchColor  = chart.Color{R: 0xA8, G: 0xA6, B: 0xA2}
)

// Motion draws the steps of a motion in one way round, under a name. A small one stands beside the words: its panels
// have only their numbers.
func Motion(m hold.Motion, w hold.Way, name string, small bool) *Scene {
	acts, words, across := m.In(w).Acts, m.In(w).Steps, panelsAcross
	if len(acts) == 4 {
		across = 2
	}
	s := &Scene{Name: name, Description: strings.Join(words, "; ") + ".", Width: float64(across)*(panelWide+panelGap) - panelGap}
	below, letter := 0.0, nameLetter
	if small {
		letter = smallLetter
	}
	for i := range acts {
		if i%across == 0 {
			s.Height, below = s.Height+below, panelHigh+panelGap
		}
		corner := Point{float64(i%across) * (panelWide + panelGap), s.Height}
		p := &panel{Scene: s, m: m, acts: acts[:i+1], letter: letter, corner: corner}
		p.box("panel", corner, panelWide, panelHigh, Ink{Stroke: &pale, Width: 0.2})
		if p.twist() {
			p.hanging()
		} else {
			p.lying()
		}
		if small {
			p.label("words", corner.plus(panelWide-2, panelHigh-2), 1.3*motionLetter, End, fmt.Sprint(i+1))
		} else {
			below = max(below, p.words(fmt.Sprintf("%d. %s", i+1, words[i])))
		}
	}
	if s.Height += below; small {
		s.change(Point{}, smallMotion)
	}
	return s
}

// panel is the state of the strands after some steps, the last of which it tells.
type panel struct {
	*Scene
	m      hold.Motion
	acts   []hold.Step
	corner Point   // upper left
	letter float64 // size of names
}

func (p *panel) at(x, y float64) Point { return p.path(x, Point{0, y})[0] }

func (p *panel) path(x float64, points ...Point) []Point {
	at, size := p.corner.plus(x, 0), Point{1, 1}
	if p.m.Mirrored {
		at, size = p.corner.plus(panelWide-x, 0), Point{-1, 1}
	}
	return placed(points, at, size)
}

func (p *panel) twist() bool { return p.m.Method == floats.Twist }

// place is so far from the fabric along the strands, and so far across them.
func (p *panel) place(along, across float64) Point {
	if p.twist() {
		return p.at(across, along)
	}
	return p.at(panelWide-along, across)
}

// carriedMoves tells which strand is drawn to move: in a twist that which is led first.
func (p *panel) carriedMoves() bool {
	at := slices.IndexFunc(p.acts, func(s hold.Step) bool { return len(s.Passes) > 0 })
	return !p.twist() || at >= 0 && p.acts[at].Passes[0].Carried
}

// crossing is where the moving strand crosses the other, along it, and from where to where across.
type crossing struct {
	along, from, to float64
	onTop           bool
	itself          bool // the strand drawn to move is the one that is led
}

// crossings are those of all passes so far: in a weave those before the stitch lie between it and the one before, the
// others behind it; in a twist each lies below the one before.
func (p *panel) crossings(at float64) (all []crossing) {
	along, aside := panelWide-(lastStitch+thisStitch)/2, 24.0
	if p.twist() {
		along, aside = 21, 20
	}
	for _, a := range p.acts {
		for _, pass := range a.Passes {
			itself, step := pass.Carried == p.carriedMoves(), aside  // else the other does the opposite
			if grows := pass.Forward == p.twist(); grows != itself { // forward is up, or to the right
				step = -step
			}
			onTop := (pass.Outside == itself) == (p.m.Side == hold.PurlSide && !p.twist())
			all = append(all, crossing{along, at, at + step, onTop, itself})
			if at += step; p.twist() {
				along += 2*swing + 2.4
			}
		}
		if a.Stitch {
			along = panelWide - (thisStitch+nextStitch)/2
		}
	}
	return all
}

func (p *panel) tipDid(t hold.Tip) bool {
	return slices.ContainsFunc(p.acts, func(s hold.Step) bool { return s.Tip == t })
}

func (p *panel) lying() {
	carried, working := 13.0, 29.0 // across the strands
	if p.m.Level == hold.Below {
		carried, working = working, carried
	}
	tip := thisStitch - 4
	drawn, on := p.tipDid(hold.Draws) || p.tipDid(hold.Works), p.tipDid(hold.GoesOn)
	switch {
	case on:
		tip = nextStitch - 4
	case p.tipDid(hold.Enters) && !drawn:
		tip -= 11
	}
	if !on {
		p.needle(0, thisStitch-6, needleAcross+1.5*needleHalf)
	}
	p.needle(panelWide, tip, needleAcross)
	p.oldStitch(lastStitch, false)
	p.oldStitch(thisStitch, !drawn)

	way := p.looped([]Point{p.place(0, working)}, lastStitch, working)
	if slices.ContainsFunc(p.acts, func(s hold.Step) bool { return s.Stitch }) {
		way = p.looped(way, thisStitch, working)
	}
	if on {
		p.oldStitch(nextStitch, false)
		way = p.looped(way, nextStitch, working)
	}
	way = straight(way, p.place(panelWide, working))
	carried = p.strands([]Point{p.place(0, carried)}, carried, way)
	names := []string{"carried", "working"}
	if p.m.Carry != hold.Rotating {
		names = []string{p.m.Carried.Strand(), p.m.Working.Strand()}
	}
	short := strings.NewReplacer("the ", "", "yarn from", "from", " strand", "")
	p.name(short.Replace(names[0]), p.place(panelWide, carried), &carriedText, false)
	p.name(short.Replace(names[1]), p.place(panelWide, working), &workingColor, false)
}

// hanging draws a twist: the working strand hangs from the last stitch, the carried one comes from behind.
func (p *panel) hanging() {
	const last, next, high = 30.0, 6.0, needleOver + 6
	carried, working := 34.0, 24.0 // across the strands
	p.needle(panelWide, 1, needleOver)
	own := append(p.looped([]Point{p.at(last+9, high)}, last, high), p.path(working, Point{0, high}, Point{0, high + 4})...)
	other := append([]Point{p.at(panelWide, high-1)}, p.path(carried, Point{0, high - 1}, Point{0, high + 4})...)
	if p.carriedMoves() {
		carried = p.strands(other, carried, straight(own, p.at(working, twistEnd)))
	} else {
		working = p.strands(own, working, straight(other, p.at(carried, twistEnd)))
	}
	p.name("carried", p.at(carried, twistEnd+4), &carriedText, carried > working)
	if !p.tipDid(hold.GoesOn) {
		p.name("working", p.at(working, twistEnd+4), &workingColor, working > carried)
		return
	}
	on := p.path(working, Point{0, twistEnd - 1}, Point{0, twistEnd + 3}, Point{-5, twistEnd + 1})
	on = append(on, p.path(next+5, Point{0, twistEnd}, Point{0, 25})...)
	p.strand(false, p.looped(on, next, high))
}

// strands draws the strand that moves through its crossings, and the other with it, each set off by a white edge from
// what lies beneath; it returns where the moving one ends across them.
func (p *panel) strands(way []Point, at float64, still []Point) (end float64) {
	var above, rest [][]Point
	moving, crossings := p.carriedMoves(), p.crossings(at)
	for _, c := range crossings {
		turn := p.turn(c.along, c.from, c.to)
		rest = append(rest, straight(way, turn[0]))
		if c.onTop {
			above = append(above, turn)
		} else {
			p.strand(moving, turn)
		}
		way, at = turn[4:], c.to
	}
	length := panelWide
	if p.twist() {
		length = twistEnd
	}
	rest = append(rest, straight(way, p.place(length, at)))
	edge := Ink{Stroke: &white, Width: 2 * strandWide}
	p.curve("strand-edge", edge, still)
	p.strand(!moving, still)
	for _, turn := range above {
		p.curve("strand-edge", edge, turn)
	}
	for _, points := range append(rest, above...) {
		p.strand(moving, points)
	}
	p.arrows(crossings)
	return at
}

func (p *panel) strand(carried bool, points []Point) {
	class, color := "working", &workingColor
	if carried {
		class, color = "carried", &carriedColor
	}
	p.curve(class, Ink{Stroke: color, Width: strandWide}, points)
}

func straight(way []Point, to Point) []Point {
	return append(way, toward(way[len(way)-1], to, 0.5), to)
}

// looped adds a loop round the needle, at an x, to a strand that runs beside it.
func (p *panel) looped(way []Point, x, beside float64) []Point {
	needle := needleAcross
	if p.twist() {
		needle = needleOver
	}
	far := needle - needleHalf - 1.5
	if beside < needle {
		far = needle + needleHalf + 1.5
	}
	return append(straight(way, p.at(x+5, beside)), p.path(x, Point{2.6, beside}, Point{2.4, needle}, Point{2.4, far}, Point{0, far},
		Point{-2.4, far}, Point{-2.4, needle}, Point{-2.6, beside}, Point{-5, beside})...)
}

func (p *panel) needle(from, tip, y float64) {
	shoulder := tip + 5
	if from < tip {
		shoulder = tip - 5
	}
	p.line("needle", Ink{Fill: &needleColor, Stroke: &stitchColor, Width: 0.3}, p.path(0, Point{from, y - needleHalf},
		Point{shoulder, y - needleHalf}, Point{tip, y}, Point{shoulder, y + needleHalf}, Point{from, y + needleHalf}))
}

// oldStitch draws the stitch of the row below, which hangs from the loop worked into it or waits on the left needle.
func (p *panel) oldStitch(x float64, waits bool) {
	const bottom = panelHigh - 1.0
	top := needleAcross + 1.0
	if waits {
		x, top = x-9, needleAcross-needleHalf-1.5
	}
	p.curve("stitch", Ink{Stroke: &stitchColor, Width: 1}, p.path(x, Point{-3.4, bottom}, Point{-2.6, bottom - 4}, Point{-2.6, top + 4},
		Point{-2.4, top}, Point{0, top}, Point{2.4, top}, Point{2.6, top + 4}, Point{2.6, bottom - 4}, Point{3.4, bottom}))
}

// name writes at a strand's end what the words call it: off the needle, or to the side of each that hangs.
func (p *panel) name(text string, end Point, ink *chart.Color, left bool) {
	align, margin := Start, 1.0
	if p.twist() {
		left, margin = left == p.m.Mirrored, -2
	} else if left = p.m.Mirrored; end.Y-p.corner.Y < needleAcross {
		end.Y -= 1.5
	} else {
		end.Y += 1 + 0.75*p.letter
	}
	if left {
		margin, align = -margin, End
	}
	p.text("name", end.plus(margin, 0), p.letter, align, text, ink).Bold = true
}

func (p *panel) turn(along, from, to float64) []Point {
	return []Point{
		p.place(along-swing, from), p.place(along-swing/2, from), p.place(along, (from+to)/2),
		p.place(along+swing/2, to), p.place(along+swing, to),
	}
}

// arrows tell what the step moves: the strand drawn to move, or against it the tip, which passes that strand.
func (p *panel) arrows(crossings []crossing) {
	told := p.acts[len(p.acts)-1]
	if told.Tip == hold.Reaches {
		p.arrow(p.path(thisStitch-14, Point{0, needleAcross}, Point{0, needleAcross / 2}, Point{0, 4}), "tip")
	}
	for _, c := range crossings[len(crossings)-len(told.Passes):] {
		way, what := p.turn(c.along-3.8, c.from, c.to), ""
		if !c.itself {
			slices.Reverse(way)
		}
		if !c.itself && !p.twist() {
			what = "tip"
		}
		if what == "" || told.Tip != hold.GoesOn {
			p.arrow(way, what)
		}
	}
}

// arrow draws one along bows, its head the way the last one turns, a word at its beginning.
func (p *panel) arrow(way []Point, what string) {
	ink, before, end := Ink{Stroke: &black, Width: 0.5}, way[len(way)-2], way[len(way)-1]
	back := toward(end, before, 1.6/distance(end, before))
	x, y := (end.X-back.X)*0.7, (end.Y-back.Y)*0.7
	p.curve("arrow", ink, way)
	p.line("arrow", ink, []Point{back.plus(-y, x), end, back.plus(y, -x)})
	if what != "" {
		p.label("name", way[0].plus(1, -0.5), p.letter, Start, what).Bold = true
	}
}

func (p *panel) words(text string) float64 {
	lines := broken(text, motionLetter, panelWide)
	for i, line := range lines {
		p.label("words", p.corner.plus(0, panelHigh+motionLine*float64(i+1)), motionLetter, Start, line)
	}
	return panelHigh + motionLine*(float64(len(lines))+0.8)
}
