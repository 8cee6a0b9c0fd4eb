package picture

import (
	"fmt"
	"math"

	"strandwise/chart"
)

// Light that falls off over a photograph makes one yarn many shades. It is taken off before
// colors are told apart. Cells of one yarn that lie side by side differ by the light alone,
// so neighbors that differ little are joined into patches; over each patch the logarithm of
// the brightness is that of the yarn plus that of the light. The light is a surface of the
// second degree over the whole chart, and its five slopes are fitted by least squares to what
// varies within the patches, the yarn's own brightness being the mean of each. It costs time
// linear in the cells. A chart whose yarns themselves shade by less than a twelfth from stitch
// to stitch would be leveled too: the note says that it was done.
const (
	sameStep  = 0.08 // logarithm of the brightness by which neighbors of one yarn differ at most
	darkest   = 30   // of 255: darker cells tell nothing of the light
	worthDone = 0.06 // share by which the light must fall off to be worth leveling
	slopes    = 5
)

// litCell is a cell in a patch: the logarithm of its brightness and the light's terms there.
type litCell struct {
	log   float64
	terms [slopes]float64
}

// evenLight levels the light in place and returns a note when it did.
func evenLight(cells [][]colorCell) string {
	fit, ok := fitLight(patches(cells))
	if !ok {
		return ""
	}
	light := make([][]float64, len(cells))
	least, most := math.Inf(1), math.Inf(-1)
	for i, row := range cells {
		light[i] = make([]float64, len(row))
		for j := range row {
			for k, t := range terms(i, j, len(cells), len(row)) {
				light[i][j] += fit[k] * t
			}
			least, most = min(least, light[i][j]), max(most, light[i][j])
		}
	}
	fall := 1 - math.Exp(least-most)
	if fall < worthDone {
		return ""
	}
	for i, row := range cells {
		for j := range row {
			row[j].color = times(row[j].color, math.Exp(most-light[i][j]))
		}
	}
	return fmt.Sprintf("the light falls off by %.0f %%: it was leveled before the colors were told apart", 100*fall)
}

// terms are those of the surface at a cell, its place from -1 to 1.
func terms(i, j, rows, columns int) [slopes]float64 {
	y, x := 2*(float64(i)+0.5)/float64(rows)-1, 2*(float64(j)+0.5)/float64(columns)-1
	return [slopes]float64{x, y, x * x, x * y, y * y}
}

func times(c chart.Color, by float64) chart.Color {
	v := func(v uint8) uint8 { return uint8(math.Round(min(255, by*float64(v)))) }
	return rgb(v(c.R), v(c.G), v(c.B))
}

// patches joins neighboring cells that differ little.
func patches(cells [][]colorCell) [][]litCell {
	seen := make([][]bool, len(cells))
	for i := range seen {
		seen[i] = make([]bool, len(cells[i]))
	}
	var all [][]litCell
	for i := range cells {
		for j := range cells[i] {
			if !seen[i][j] {
				if patch := spread(cells, seen, i, j); len(patch) > 1 {
					all = append(all, patch)
				}
			}
		}
	}
	return all
}

// spread gathers the patch of a cell.
func spread(cells [][]colorCell, seen [][]bool, i, j int) []litCell {
	var patch []litCell
	seen[i][j] = true
	for next := [][2]int{{i, j}}; len(next) > 0; {
		at := next[len(next)-1]
		next = next[:len(next)-1]
		cell := cells[at[0]][at[1]]
		if cell.empty || cell.doubtful || brightness(cell.color) < darkest {
			continue
		}
		patch = append(patch, litCell{math.Log(brightness(cell.color)), terms(at[0], at[1], len(cells), len(cells[0]))})
		for _, by := range [4][2]int{{0, 1}, {1, 0}, {0, -1}, {-1, 0}} {
			y, x := at[0]+by[0], at[1]+by[1]
			if y >= 0 && y < len(cells) && x >= 0 && x < len(cells[y]) && !seen[y][x] && oneYarn(cell, cells[y][x]) {
				seen[y][x] = true
				next = append(next, [2]int{y, x})
			}
		}
	}
	return patch
}

func brightness(c chart.Color) float64 { return (float64(c.R) + float64(c.G) + float64(c.B)) / 3 }

// oneYarn reports whether two cells differ by no more than the light may change from one to
// the next, and alike in all channels.
func oneYarn(a, b colorCell) bool {
	if b.empty || b.doubtful || brightness(b.color) < darkest {
		return false
	}
	by := brightness(b.color) / brightness(a.color)
	return math.Abs(math.Log(by)) <= sameStep && channels(times(a.color, by), b.color) <= plainDiffers/2
}

// fitLight solves the normal equations; false when there is too little to go by.
func fitLight(patches [][]litCell) (fit [slopes]float64, ok bool) {
	var m [slopes][slopes + 1]float64
	n := 0
	for _, patch := range patches {
		var mean litCell
		for _, c := range patch {
			mean.log += c.log / float64(len(patch))
			for k, t := range c.terms {
				mean.terms[k] += t / float64(len(patch))
			}
		}
		for _, c := range patch {
			for k := range slopes {
				for l := range slopes {
					m[k][l] += (c.terms[k] - mean.terms[k]) * (c.terms[l] - mean.terms[l])
				}
				m[k][slopes] += (c.terms[k] - mean.terms[k]) * (c.log - mean.log)
			}
		}
		n += len(patch)
	}
	if n < 4*slopes {
		return fit, false
	}
	return solve(m)
}

// solve is Gauss's elimination with the largest pivot; false when it is too small to go by.
func solve(m [slopes][slopes + 1]float64) (x [slopes]float64, ok bool) {
	for k := range slopes {
		best := k
		for i := k + 1; i < slopes; i++ {
			if math.Abs(m[i][k]) > math.Abs(m[best][k]) {
				best = i
			}
		}
		m[k], m[best] = m[best], m[k]
		if math.Abs(m[k][k]) < 1e-3 {
			return x, false
		}
		for i := range slopes {
			if i != k {
				by := m[i][k] / m[k][k]
				for l := k; l <= slopes; l++ {
					m[i][l] -= by * m[k][l]
				}
			}
		}
	}
	for k := range slopes {
		x[k] = m[k][slopes] / m[k][k]
	}
	return x, true
}
