package draw

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"strandwise/chart"
	"strandwise/cmd/paint"
	"strandwise/floats"
	"strandwise/session/hold"
)

// A motion is drawn in a panel for each of its steps, as the knitter sees it: two strands run from
// the fabric, at the right, to the hands, and each pass of the motion is one crossing of them. All
// of it follows from the passes that go with the words, so that drawing and words cannot differ.
//
// In a weave the strands lie along the needle, one above it and one below; the working strand is
// looped round the needle at each stitch, and the carried one goes to the other side of the needle
// for one stitch and comes back. Whether a hand leads it or the tip passes it makes no difference
// to the strands (step.go of package hold), only to the arrow. In a twist the strands hang from
// the needle, and the one that is led first moves.
//
// What is outside lies farther from the fabric. On the knit side that is away from the knitter, so
// the strand inside lies on top; on the purl side it is towards her. Strands that hang are led
// to the sides, where the one outside passes beneath.

// A panel in mm: its size, and where its parts lie. Stitches are counted from the right.
const (
	panelWide, panelHigh = 60.0, 44.0
	panelGap             = 3.0
	panelsAcross         = 3
	motionLetter         = 3.0
	motionLine           = motionLetter * 1.35
	nameLetter           = stripLeast / smallMotion
	smallMotion          = 0.8 // of the size, where a motion stands beside its words
	strandWide           = 1.5

	lastStitch = 7.0
	thisStitch = 31.0
	nextStitch = 53.0
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

// Motion draws the steps of a motion in one way round. The name says which motion it is. A small one
// stands beside the words: its panels have their numbers only.
func Motion(m hold.Motion, w hold.Way, name string, small bool) *Scene {
	acts, words := m.Acts, m.StepsFor(w)
	if w == hold.Other && len(m.OtherActs) > 0 {
		acts = m.OtherActs
	}
	across := panelsAcross
	if len(acts) == 4 {
		across = 2
	}
	s := &Scene{Name: name, Description: strings.Join(words, "; ") + ".", Width: float64(across)*(panelWide+panelGap) - panelGap}
	below := 0.0
	for i := range acts {
		if i%across == 0 {
			s.Height, below = s.Height+below, panelHigh+panelGap
		}
		p := &panel{Scene: s, m: m, acts: acts[:i+1], left: float64(i%across) * (panelWide + panelGap), top: s.Height}
		p.draw()
		if small {
			p.label("words", p.left+panelWide-2, p.top+panelHigh-2, 1.3*motionLetter, End, fmt.Sprint(i+1))
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
	m         hold.Motion
	acts      []hold.Step
	left, top float64
}

// at is a place of the panel in the scene.
func (p *panel) at(x, y float64) Point {
	if p.m.Mirrored {
		x = panelWide - x
	}
	return Point{p.left + x, p.top + y}
}

func (p *panel) twist() bool { return p.m.Method == floats.Twist }

// place is so far from the fabric along the strands, and so far across them.
func (p *panel) place(along, across float64) Point {
	if p.twist() {
		return p.at(across, along)
	}
	return p.at(panelWide-along, across)
}

// lane is where a strand runs, across the strands, and where it goes to pass the other.
type lane struct{ home, away float64 }

// lanes are those of the carried and of the working strand.
func (p *panel) lanes() (carried, working lane) {
	switch {
	case p.twist():
		return lane{34, 14}, lane{24, 44}
	case p.m.Level == hold.Below:
		return lane{29, 5}, lane{13, 37}
	}
	return lane{13, 37}, lane{29, 5}
}

// carriedMoves tells which strand is drawn to move: in a twist that which is led first.
func (p *panel) carriedMoves() bool {
	at := slices.IndexFunc(p.acts, func(s hold.Step) bool { return len(s.Passes) > 0 })
	return !p.twist() || at >= 0 && p.acts[at].Passes[0].Carried
}

// crossing is where the moving strand crosses the other: the middle of its way, from where to where
// it goes across, and whether it lies on top.
type crossing struct {
	along, from, to float64
	onTop           bool
	itself          bool // the strand drawn to move is the one that is led
}

// crossings are those of all passes so far. In a weave those before the stitch lie between it and
// the one before, the others between it and the next; in a twist each lies below the one before.
func (p *panel) crossings(moves lane) []crossing {
	along, at := (lastStitch+thisStitch)/2, moves.home
	if p.twist() {
		along = 21
	}
	var all []crossing
	for _, a := range p.acts {
		for _, pass := range a.Passes {
			itself := pass.Carried == p.carriedMoves() // else the other does the opposite
			step := max(moves.away-moves.home, moves.home-moves.away)
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
			along = (thisStitch + nextStitch) / 2
		}
	}
	return all
}

func (p *panel) tipDid(t hold.Tip) bool {
	return slices.ContainsFunc(p.acts, func(s hold.Step) bool { return s.Tip == t })
}

func (p *panel) draw() {
	p.add(Shape{Kind: Box, Class: "panel", Points: []Point{{p.left, p.top}, {p.left + panelWide, p.top + panelHigh}}, Ink: Ink{Stroke: &pale, Width: 0.2}})
	carried, working := p.lanes()
	if p.twist() {
		p.hanging(carried, working)
	} else {
		p.lying(carried, working)
	}
}

// lying draws a weave.
func (p *panel) lying(carried, working lane) {
	tip := panelWide - thisStitch - 4
	drawn, on := p.tipDid(hold.Draws) || p.tipDid(hold.Works), p.tipDid(hold.GoesOn)
	switch {
	case on:
		tip = panelWide - nextStitch - 4
	case p.tipDid(hold.Enters) && !drawn:
		tip -= 11
	}
	if !on {
		p.needle(0, panelWide-thisStitch-6, needleAcross+1.5*needleHalf)
	}
	p.needle(panelWide, tip, needleAcross)
	p.oldStitch(lastStitch, false)
	p.oldStitch(thisStitch, !drawn)

	way := p.looped([]Point{p.place(0, working.home)}, lastStitch, working.home)
	if slices.ContainsFunc(p.acts, func(s hold.Step) bool { return s.Stitch }) {
		way = p.looped(way, thisStitch, working.home)
	}
	if on {
		p.oldStitch(nextStitch, false)
		way = p.looped(way, nextStitch, working.home)
	}
	way = straight(way, p.place(panelWide, working.home))
	end := p.strands([]Point{p.place(0, carried.home)}, carried, way)
	p.name(p.m.Carried, p.place(panelWide, end), &carriedText)
	p.name(p.m.Working, p.place(panelWide, working.home), &workingColor)
}

// hanging draws a twist: the working strand hangs from the stitch worked last, the carried one comes
// from behind.
func (p *panel) hanging(carried, working lane) {
	const at, high = 29.0, needleOver + 6
	p.needle(panelWide, 1, needleOver)
	own := p.looped([]Point{p.at(at+9, high)}, at, high)
	own = append(own, p.at(working.home, high), p.at(working.home, high+4))
	other := []Point{p.at(panelWide, high-1), p.at(carried.home, high-1), p.at(carried.home, high+4)}
	moves, still, start := carried, own, other
	if !p.carriedMoves() {
		moves, still, start = working, other, own
	}
	end := p.strands(start, moves, straight(still, p.at(carried.home+working.home-moves.home, twistEnd)))
	on := p.tipDid(hold.GoesOn)
	if on {
		const next = 6.0
		way := []Point{p.at(working.home, twistEnd-1), p.at(working.home, twistEnd+2), p.at(working.home-3, twistEnd+1.5), p.at(next+3, twistEnd), p.at(next+3, 25)}
		p.curve("working", Ink{Stroke: &workingColor, Width: strandWide}, straight(p.looped(straight(way, p.at(next+3, high)), next, high), p.at(0, high+2)))
	}
	if p.carriedMoves() {
		carried.home = end
	} else {
		working.home = end
	}
	p.name(p.m.Carried, p.at(carried.home, twistEnd+4), &carriedText)
	if !on {
		p.name(p.m.Working, p.at(working.home, twistEnd+4), &workingColor)
	}
}

// strands draws the strand that moves, from its beginning through its crossings, and the other with
// it; it returns where the moving one ends across them. Each part is set off by a white edge from
// what lies beneath it.
func (p *panel) strands(way []Point, moves lane, still []Point) (end float64) {
	class, color, stillClass, stillColor := "carried", &carriedColor, "working", &workingColor
	if !p.carriedMoves() {
		class, color, stillClass, stillColor = stillClass, stillColor, class, color
	}
	end = moves.home
	var beneath, above, between [][]Point
	crossings := p.crossings(moves)
	for _, c := range crossings {
		from, to := p.place(c.along-swing, c.from), p.place(c.along+swing, c.to)
		between = append(between, straight(way, from))
		turn := []Point{from, p.place(c.along-swing/2, c.from), p.place(c.along, (c.from+c.to)/2), p.place(c.along+swing/2, c.to), to}
		if c.onTop {
			above = append(above, turn)
		} else {
			beneath = append(beneath, turn)
		}
		way, end = []Point{to}, c.to
	}
	length := panelWide
	if p.twist() {
		length = twistEnd
	}
	between = append(between, straight(way, p.place(length, end)))
	edge := func(points []Point) { p.curve("strand-edge", Ink{Stroke: &white, Width: 2 * strandWide}, points) }
	for _, points := range beneath {
		p.curve(class, Ink{Stroke: color, Width: strandWide}, points)
	}
	edge(still)
	p.curve(stillClass, Ink{Stroke: stillColor, Width: strandWide}, still)
	for _, points := range above {
		edge(points)
	}
	for _, points := range append(between, above...) {
		p.curve(class, Ink{Stroke: color, Width: strandWide}, points)
	}
	p.arrows(crossings)
	return end
}

// straight adds a straight way to a point to a path of bows.
func straight(way []Point, to Point) []Point {
	return append(way, toward(way[len(way)-1], to, 0.5), to)
}

// looped adds a loop round the needle to a strand beside it.
func (p *panel) looped(way []Point, along, across float64) []Point {
	if p.twist() {
		over := needleOver - needleHalf - 1.5
		return append(way, p.at(along+3, across), p.at(along+2.4, needleOver), p.at(along+2.4, over), p.at(along, over),
			p.at(along-2.4, over), p.at(along-2.4, needleOver), p.at(along-2.6, across-1), p.at(along-4, across))
	}
	far := needleAcross + needleHalf + 1.5
	if across > needleAcross {
		far = needleAcross - needleHalf - 1.5
	}
	way = straight(way, p.place(along-5, across))
	return append(way, p.place(along-2.6, across), p.place(along-2.4, needleAcross), p.place(along-2.4, far), p.place(along, far),
		p.place(along+2.4, far), p.place(along+2.4, needleAcross), p.place(along+2.6, across), p.place(along+5, across))
}

// needle draws one that comes in from a side and has its tip at a place.
func (p *panel) needle(from, tip, y float64) {
	shoulder := tip + 5
	if from < tip {
		shoulder = tip - 5
	}
	p.line("needle", Ink{Fill: &needleColor, Stroke: &stitchColor, Width: 0.3}, []Point{
		p.at(from, y-needleHalf), p.at(shoulder, y-needleHalf), p.at(tip, y), p.at(shoulder, y+needleHalf), p.at(from, y+needleHalf),
	})
}

// oldStitch draws the stitch of the row below, which hangs from the loop worked into it, or still
// waits on the left needle.
func (p *panel) oldStitch(along float64, waits bool) {
	top := needleAcross + 1.0
	if waits {
		along, top = along+9, needleAcross-needleHalf-1.5
	}
	x, bottom := panelWide-along, panelHigh-1.0
	p.curve("stitch", Ink{Stroke: &stitchColor, Width: 1}, []Point{
		p.at(x-3.4, bottom), p.at(x-2.6, bottom-4), p.at(x-2.6, top+4), p.at(x-2.4, top), p.at(x, top),
		p.at(x+2.4, top), p.at(x+2.6, top+4), p.at(x+2.6, bottom-4), p.at(x+3.4, bottom),
	})
}

// name writes what the words call a strand at its end, off the needle; of two that hang the left one
// has its name to the left.
func (p *panel) name(place hold.Place, end Point, ink *chart.Color) {
	text := strings.TrimPrefix(place.Strand(), "the ")
	if !p.twist() {
		if end.Y += 3; end.Y-p.top < needleAcross {
			end.Y -= 4.5
		}
		align, margin := Start, 1.0
		if p.m.Mirrored {
			align, margin = End, -1
		}
		p.text("name", Point{end.X + margin, end.Y}, nameLetter, align, text, true, ink)
		return
	}
	align, carries := Start, ink == &carriedText
	if passed := len(p.crossings(lane{})); carries == (passed%2 == 1) {
		end.X, align = end.X+4, End
	}
	text = map[bool]string{true: "carried yarn", false: "working yarn"}[carries]
	p.text("name", Point{end.X - 2, end.Y}, nameLetter, align, text, true, ink)
}

// arrows tell what the step told moves: beside a crossing the strand that is drawn to move, or
// against it the tip, which passes that strand.
func (p *panel) arrows(crossings []crossing) {
	const beside = 3.8
	told := p.acts[len(p.acts)-1]
	if told.Tip == hold.Reaches {
		p.arrow([]Point{p.place(thisStitch+14, needleAcross), p.place(thisStitch+14, needleAcross/2), p.place(thisStitch+14, 4)}, "tip")
	}
	for _, c := range crossings[len(crossings)-len(told.Passes):] {
		along := c.along - beside
		way := []Point{
			p.place(along-swing, c.from), p.place(along-swing/2, c.from), p.place(along, (c.from+c.to)/2),
			p.place(along+swing/2, c.to), p.place(along+swing, c.to),
		}
		what := ""
		if !c.itself {
			slices.Reverse(way)
			what = "tip"
		}
		if p.twist() {
			what = ""
		}
		if c.itself || p.twist() || told.Tip != hold.GoesOn {
			p.arrow(way, what)
		}
	}
}

// arrow draws one along bows, its head towards where the last one turns, with a word at its
// beginning.
func (p *panel) arrow(way []Point, what string) {
	ink, head := Ink{Stroke: &black, Width: 0.5}, 1.6
	before, end := way[len(way)-2], way[len(way)-1]
	x, y := (end.X-before.X)/math.Hypot(end.X-before.X, end.Y-before.Y)*head, (end.Y-before.Y)/math.Hypot(end.X-before.X, end.Y-before.Y)*head
	p.curve("arrow", ink, way)
	p.line("arrow", ink, []Point{{end.X - x - y*0.7, end.Y - y + x*0.7}, end, {end.X - x + y*0.7, end.Y - y - x*0.7}})
	if what != "" {
		p.text("name", Point{way[0].X + 1, way[0].Y - 0.5}, nameLetter, Start, what, true, &black)
	}
}

// words writes a step below its panel and returns the height it takes.
func (p *panel) words(text string) float64 {
	lines := paint.Wrap("", paint.Spans(strings.Fields(text)...), int(panelWide/textWidth("n", motionLetter)))
	for i, line := range lines {
		p.label("words", p.left, p.top+panelHigh+motionLine*float64(i+1), motionLetter, Start, line)
	}
	return panelHigh + motionLine*(float64(len(lines))+0.8)
}
