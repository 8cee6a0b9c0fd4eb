package chart

// A knitter who reads the wrong one of two rows that begin alike notices it only
// where they part. Nearly all rows share a first stitch or two with an earlier
// one, so a beginning counts when it has at least twinRuns whole runs: after two
// changes of yarn a row is taken for recognised. Our choice.
const twinRuns = 2

// Twins is a row and its twin as Twin returns them.
type Twins struct {
	Row     int `json:"row"`
	Other   int `json:"twin"`
	PartsAt int `json:"parts_at"`
}

// AllTwins lists the twins of all rows that have one, lowest first.
func (c *Chart) AllTwins(direction Direction) []Twins {
	var twins []Twins
	var rows [][]Cell
	for row := 1; row <= c.Height(); row++ {
		rows = append(rows, c.InOrder(row, direction(row)))
		if other, partsAt := Twin(rows); other > 0 {
			twins = append(twins, Twins{row, other, partsAt})
		}
	}
	return twins
}

// Twin finds, among rows as their stitches are knitted, the one below the last that begins like it for the
// longest, from 1; the nearest of several. PartsAt is the stitch at which the two part, from 1, 0 when they
// are alike throughout. Other is 0 when none begins alike for two whole runs; rows of one yarn have no twin.
// It takes time linear in the stitches.
func Twin(rows [][]Cell) (other, partsAt int) {
	row := len(rows)
	this := rows[row-1]
	longest := secondChange(this)
	if longest < 0 {
		return 0, 0
	}
	for earlier := row - 1; earlier >= 1; earlier-- {
		that := rows[earlier-1]
		switch alike := alikeFor(this, that); {
		case alike == len(this) && alike == len(that):
			return earlier, 0
		case alike == len(this): // part of a longer row: nothing tells the two apart
		case alike > longest, other == 0 && alike == longest && endsRun(that, alike):
			other, longest = earlier, alike
		}
	}
	if other > 0 {
		partsAt = longest + 1
	}
	return other, partsAt
}

// secondChange is the number of stitches before the change of yarn that ends run
// twinRuns; the whole row when it has just that many runs, -1 when fewer.
func secondChange(stitches []Cell) int {
	changes := 0
	for i := 1; i < len(stitches); i++ {
		if stitches[i].Yarn != stitches[i-1].Yarn {
			if changes++; changes == twinRuns {
				return i
			}
		}
	}
	if changes == twinRuns-1 {
		return len(stitches)
	}
	return -1
}

func endsRun(stitches []Cell, at int) bool {
	return at == len(stitches) || stitches[at].Yarn != stitches[at-1].Yarn
}

func alikeFor(a, b []Cell) int {
	n := min(len(a), len(b))
	for i := range n {
		if a[i] != b[i] {
			return i
		}
	}
	return n
}
