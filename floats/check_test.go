package floats

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// The checker names what is wrong with each set that is not allowed; the rules' wording,
// by hand. Floats of fjord behind that many stitches.
func TestCheckNamesTheBrokenRule(t *testing.T) {
	for _, c := range []struct {
		n, limit int
		method   Method
		set      []int
		fault    string
	}{
		{5, 5, Weave, nil, ""},
		{5, 5, Weave, []int{3}, "within the limit"},
		{6, 5, Weave, nil, "0 catches where 1 can do"},
		{11, 5, Weave, []int{6}, ""},
		{11, 5, Weave, []int{3, 7}, ""},
		{11, 5, Weave, []int{3, 6, 9}, "3 catches where 1 can do"},
		{11, 5, Weave, []int{7}, "gap of 6"},
		{11, 5, Weave, []int{5}, "gap of 6 stitches at its end"},
		{7, 5, Weave, []int{1}, "first stitch"},
		{6, 5, Weave, []int{6}, "last stitch"},
		{11, 5, Weave, []int{5, 6}, "adjacent"},
		{4, 1, Weave, []int{1, 3}, ""},
		{5, 1, Weave, []int{1, 3}, "first stitch"},
		{11, 5, Twist, []int{6, 11}, ""},
		{11, 5, Twist, []int{6}, "1 catches where 2 can do"},
		{10, 5, Twist, []int{6}, ""},
		{6, 5, Twist, []int{1}, "before the first"},
		{6, 5, Twist, []int{4, 4}, "one place"},
	} {
		if fault := faultOf(c.set, c.n, c.limit, c.method); c.fault == "" {
			assert.Empty(t, fault, "%+v", c)
		} else {
			assert.Contains(t, fault, c.fault, "%+v", c)
		}
	}
}

// The checker and the twin of the rules hold the same sets for allowed.
func TestCheckAllowsWhatTheTwinAllows(t *testing.T) {
	for n := 1; n <= 11; n++ {
		for limit := 1; limit <= 6; limit++ {
			for _, m := range []Method{Weave, Twist} {
				allowed := map[string]bool{}
				if n > limit {
					for _, set := range naiveSets(n, limit, m) {
						allowed[key(set)] = true
					}
				} else {
					allowed[key(nil)] = true
				}
				for bits := range 1 << n {
					set := positionsOf(bits, n)
					require.Equal(t, allowed[key(set)], n <= limit && len(set) == 0 || n > limit && naiveAllowed(n, limit, m, set))
					require.Equal(t, allowed[key(set)], faultOf(set, n, limit, m) == "", "%d stitches, limit %d, %v: %v", n, limit, m, set)
				}
			}
		}
	}
}

func key(set []int) string {
	b := []byte{}
	for _, p := range set {
		b = append(b, byte(p))
	}
	return string(b)
}

func positionsOf(bits, n int) (set []int) {
	for p := range n {
		if bits>>p&1 == 1 {
			set = append(set, p+1)
		}
	}
	return set
}

// Every plan passes; with a catch taken out, put in or moved to a gap too long it does not.
func TestCheckFindsWhatWasChanged(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := pieceOf(t).fabric(t)
		task := Task{Limit: limitOf(t), Method: methodOf(t), RestLimit: DefaultRestLimit, Effort: 1}
		p, err := MakePlan(t.Context(), f, task)
		require.NoError(t, err)
		require.NoError(t, f.Check(p.Catches, task))
		groups, _ := naiveSetsOf(t, f, p)
		if len(p.Catches) == 0 {
			return
		}
		at := rapid.IntRange(0, len(p.Catches)-1).Draw(t, "catch")
		changed := slices.Clone(p.Catches)
		if rapid.Bool().Draw(t, "out") {
			changed = slices.Delete(changed, at, at+1)
		} else {
			changed[at].Stitch += rapid.IntRange(-9, 9).Draw(t, "moved")
		}
		sortCatches(changed)
		require.Equal(t, naiveHolds(f, task, groups, changed), f.Check(changed, task) == nil, "%v", changed)
	})
}

// naiveHolds reports whether catches are an allowed plan, by the twin.
func naiveHolds(f *Fabric, task Task, groups []naiveGroup, catches []Catch) bool {
	left := map[Catch]int{}
	for _, c := range catches {
		left[c]++
	}
	for _, group := range groups {
		var like []int
		for i, fl := range group {
			var set []int
			for p, c := range naiveCells(f, fl) {
				at := Catch{c.row, c.stitch + 1, fl.Yarn}
				if left[at] > 1 {
					return false
				}
				if left[at] == 1 {
					set = append(set, p+1)
					delete(left, at)
				}
			}
			if !naiveAllowed(fl.Length, task.Limit, task.Method, set) || i > 0 && !slices.Equal(like, set) {
				return false
			}
			like = set
		}
	}
	return len(left) == 0
}
