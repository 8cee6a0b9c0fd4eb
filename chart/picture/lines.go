package picture

import (
	"math"

	"strandwise/chart"
)

const (
	lineDiffers  = 24   // sum of channel differences by which a line stands out from the cells beside it
	roughDiffers = 36   // the same in a rough picture
	drawnShare   = 0.25 // share of places where a line must stand out; where a yarn has its color it does not
	alikeShare   = 0.25 // share of places with the same color on both sides that is enough to judge by; crossing lines alone make up less
	looksAlong   = 200  // places looked at along a line
)

// drawnLines reports whether lines are drawn between the cells. Where neighboring cells are alike nothing changes
// unless a line does, so such places decide; of too few all places do, and a line must differ from the cells on both
// sides. The places are the middles of the windows that hold the edges.
func drawnLines(at pixelAt, places []float64, wide, from, to int, rough bool) bool {
	differs := lineDiffers
	if rough {
		differs = roughDiffers
	}
	var alike, all, alikeLines, allLines int
	step := max(1, (to-from)/looksAlong)
	for i := 1; i+1 < len(places); i++ {
		left, right := int(places[i-1]+places[i])/2, int(places[i]+places[i+1])/2
		first := int(math.Ceil(places[i] - float64(wide-1)/2))
		for along := from; along < to; along += step {
			before, after := opaque(at(left, along)), opaque(at(right, along))
			line := 0
			for x := first; x < first+wide-1; x++ {
				c := opaque(at(x, along))
				if channels(c, before) >= differs && channels(c, after) >= differs {
					line = 1
				}
			}
			all, allLines = all+1, allLines+line
			if channels(before, after) < differs {
				alike, alikeLines = alike+1, alikeLines+line
			}
		}
	}
	if float64(alike) >= alikeShare*float64(all) {
		all, allLines = alike, alikeLines
	}
	return all > 0 && float64(allLines) >= drawnShare*float64(all)
}

func channels(a, b chart.Color) int { return apart(a.R, b.R) + apart(a.G, b.G) + apart(a.B, b.B) }

const (
	sharpDiffers = 6  // sum of channel differences that no eye sees, of fading light
	plainDiffers = 40 // sum of channel differences that noise near a frame can make in a rough picture
	steadyFor    = 4  // pixels along a strip, between which uneven light changes it little
)

// plainPixels reports whether a strip beside a grid is of one color, or shades slowly, as a margin does; a column of
// cells does not.
func plainPixels(at pixelAt, from, to, first, last int, rough bool) bool {
	noise := sharpDiffers
	if rough {
		noise = plainDiffers
	}
	var strip []chart.Color // median across the strip for each pixel along it
	for along := first; along <= last; along++ {
		var across []chart.Color
		for x := max(from, 0); x < to; x++ {
			across = append(across, opaque(at(x, along)))
		}
		strip = append(strip, medianColor(across))
		if channels(strip[along-first], strip[max(along-first-steadyFor, 0)]) > noise {
			return false
		}
	}
	return true
}
