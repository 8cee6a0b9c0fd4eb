package cmd

import (
	"strandwise/chart"
	"strandwise/cmd/document"
	"strandwise/cmd/frame"
	"strandwise/session"
)

// moreBalls tells that what was noted makes more than one ball of a yarn, which may not have
// been meant.
type moreBalls struct {
	yarn          chart.Yarn
	before, added int
	given         string // the value of --ball that noted the last
}

// tell says how many balls there are, and how to take the last for the only one.
func (m moreBalls) tell(a *frame.App) {
	if m.before == 0 {
		a.Notice("%s has %s now.", m.yarn.Name, document.Counted(m.added, "ball"))
		return
	}
	a.Notice("%s had %s noted before, and has %d now.", m.yarn.Name, document.Counted(m.before, "ball"), m.before+m.added)
	a.Try("strandwise yarn --replace --ball " + frame.InShell(m.given) + ", if that is all there is")
}

// moreBalls lists the yarns --ball names that had balls before, or that it names twice.
func (o *yarnOptions) moreBalls(yarns []chart.Yarn, before, added map[rune]int) []moreBalls {
	var more []moreBalls
	for _, y := range yarns {
		named, given := 0, ""
		for _, text := range o.balls {
			if symbol, _, err := yarnAndRest("ball", "", text, yarns); err == nil && symbol == y.Symbol {
				named, given = named+1, text
			}
		}
		if named > 1 || named > 0 && before[y.Symbol] > 0 {
			more = append(more, moreBalls{y, before[y.Symbol], added[y.Symbol], given})
		}
	}
	return more
}

// ballsNoted counts the balls of each yarn; what tells a dye lot only is none.
func ballsNoted(balls []session.BallNoted) map[rune]int {
	n := map[rune]int{}
	for _, b := range balls {
		if b.Grams > 0 || b.Meters > 0 {
			n[b.Yarn]++
		}
	}
	return n
}

// sizedBalls is ballsNoted of what is to be noted.
func sizedBalls(events []session.Event) map[rune]int {
	var balls []session.BallNoted
	for _, e := range events {
		if b, is := e.(*session.BallNoted); is {
			balls = append(balls, *b)
		}
	}
	return ballsNoted(balls)
}
