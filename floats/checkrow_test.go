package floats

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
)

// The lower half of a float over the start is sound when some allowed set begins so: all
// sets are tried.
func TestLowerHalvesThatCanBeEnded(t *testing.T) {
	for n := 2; n <= 10; n++ {
		for limit := 1; limit < n; limit++ {
			for _, m := range []Method{Weave, Twist} {
				sets := naiveSets(n, limit, m)
				for half := 1; half < n; half++ {
					begins := map[string]bool{}
					for _, set := range sets {
						begins[key(slices.DeleteFunc(slices.Clone(set), func(p int) bool { return p > half }))] = true
					}
					for bits := range 1 << half {
						set := positionsOf(bits, half)
						require.Equal(t, begins[key(set)], headFault(set, half, n, limit, m) == "",
							"%d of %d stitches, limit %d, %v: %v", half, n, limit, m, set)
					}
				}
			}
		}
	}
}

// The upper half, whatever was made below: the fewest stitches over the limit, with no more
// of them the fewest catches or one more, and no more than the float may have as long as
// that can be. All sets are tried.
func TestUpperHalvesAsGoodAsCanBe(t *testing.T) {
	for n := 2; n <= 9; n++ {
		for limit := 1; limit < n; limit++ {
			for _, m := range []Method{Weave, Twist} {
				fewest := len(slices.MinFunc(naiveSets(n, limit, m), func(a, b []int) int { return len(a) - len(b) }))
				for half := 1; half < n; half++ {
					for bits := range 1 << half {
						tryUpper(t, n, limit, half, fewest, m, positionsOf(bits, half))
					}
				}
			}
		}
	}
}

func tryUpper(t *testing.T, n, limit, half, fewest int, m Method, made []int) {
	d := &Deviation{Task: Task{Limit: limit, Method: m}, Made: m}
	var uppers [][]int
	var over []int
	least, count := math.MaxInt, 0
	for bits := range 1 << (n - half) {
		set := positionsOf(bits, n-half)
		for i := range set {
			set[i] += half
		}
		uppers = append(uppers, set)
		over = append(over, math.MaxInt)
		if !allowedAbove(n, m, slices.Concat(made, set), len(made)) {
			continue
		}
		o := excess(Float{Length: n}, limit, m, made, set)
		over[len(over)-1] = o
		if o < least || o == least && len(set) < count {
			least, count = o, len(set)
		}
	}
	for i, set := range uppers {
		sound := over[i] == least && (len(set) == count || len(set) == count+1 && len(made)+len(set) <= fewest+1)
		_, fault := tailFault(made, set, half, n, d)
		require.Equal(t, sound, fault == "", "%d of %d stitches, limit %d, %v: %v then %v: %s", half, n, limit, m, made, set, fault)
	}
}
