package floats

import (
	"fmt"

	"strandwise/chart"
)

// Increases and decreases spread over a row. A row of w stitches that gains or loses n is n
// groups, each with one increase or decrease; groups differ by at most one stitch. In the round a
// group ends with its increase. Flat, half a group stands at the end, so that no increase is made
// at the very edge, where there is no strand to lift.

func spread(yarn int, part *Part, width int, flat bool) ([]side, error) {
	n := max(part.Adds, -part.Adds)
	if n == 0 {
		return nil, nil
	}
	at, most := group{yarn, part.Adds > 0}, width/2
	if at.adds && !flat {
		most = width
	}
	if n > most {
		does := "adds %d to"
		if !at.adds {
			does = "takes %d of"
		}
		return nil, &LayError{
			fmt.Sprintf("%s "+does+" %d stitches, which can be %d at most in one row", part.Name, n, width, most),
			fmt.Sprintf("%d or fewer, or more in another part of plain rows above it", most),
		}
	}
	small := width / n
	sides := at.evenly(n, width%n, small)
	if plain := len(at.of(small)) - 1; flat && plain > 1 {
		sides = at.edged(sides, plain/2)
	}
	return sides, nil
}

type group struct {
	yarn int
	adds bool
}

func (g group) of(stitches int) []chart.Cell {
	if g.adds {
		return append(knitted(g.yarn, stitches), chart.Cell{Yarn: g.yarn, Technique: chart.M1})
	}
	return append(knitted(g.yarn, stitches-2), chart.Cell{Yarn: g.yarn, Technique: chart.K2tog})
}

// evenly is n groups, so many of them one stitch larger than the others. Larger and smaller ones
// take turns where they can as a pattern of two or three; else the larger stand in the middle.
func (g group) evenly(n, larger, small int) []side {
	if times := gcd(n, larger); larger > 0 && n/times <= 3 {
		var cells []chart.Cell
		for i := range n / times {
			size := small
			if i >= (n-larger)/times {
				size++
			}
			cells = append(cells, g.of(size)...)
		}
		return []side{{cells, times}}
	}
	before := (n - larger + 1) / 2
	var sides []side
	for _, s := range []side{{g.of(small), before}, {g.of(small + 1), larger}, {g.of(small), n - larger - before}} {
		if s.repeats > 0 {
			sides = append(sides, s)
		}
	}
	return sides
}

func (g group) edged(sides []side, edge int) []side {
	first := sides[0]
	sides[0].repeats--
	if sides[0].repeats == 0 {
		sides = sides[1:]
	}
	begin := []side{{first.cells[edge:], 1}}
	return append(append(begin, sides...), side{knitted(g.yarn, edge), 1})
}

func gcd(a, b int) int {
	for b > 0 {
		a, b = b, a%b
	}
	return a
}
