package session

import (
	"cmp"
	"fmt"
	"math/bits"
	"slices"
)

// Mark is one catch of a row.
type Mark struct {
	Stitch int // the stitch it is on (weave) or just before (twist), in knitting order over the whole row, from 1
	Yarn   int // the yarn caught: index into the yarns of the fabric laid from the parts in force at the row
}

// Compare orders marks by stitch, then by yarn: the order a row keeps them in.
func (m Mark) Compare(o Mark) int {
	return cmp.Or(cmp.Compare(m.Stitch, o.Stitch), cmp.Compare(m.Yarn, o.Yarn))
}

// A list of marks is written as its count, then (unless it is empty) the number of
// low bits a yarn needs, then for each mark the step from the mark before, a mark
// counting as stitch<<bits + yarn. Marks are in order, so every step is at least
// 1, and with two yarns a step of up to 63 stitches takes one byte.

const (
	maxYarnBits = 12 // that a yarn index of a mark may take
	maxKey      = maxInt<<maxYarnBits | 1<<maxYarnBits - 1
)

func yarnBits(marks []Mark) int {
	all := 0
	for _, m := range marks {
		all |= m.Yarn
	}
	return bits.Len(uint(all))
}

// marks takes a list of marks. What it accepts passes checkMarks.
func (w *wire) marks(marks *[]Mark) {
	n := w.count(len(*marks), 1)
	if n == 0 {
		return
	}
	width := yarnBits(*marks)
	number(w, &width, maxYarnBits, "a yarn number is too large")
	if !w.writing {
		*marks = make([]Mark, n)
	}
	key := uint64(0)
	for i := range *marks {
		m := &(*marks)[i]
		step := (uint64(m.Stitch)<<width | uint64(m.Yarn)) - key
		if w.uint(&step); w.writing {
			key += step
			continue
		}
		if step == 0 || step > maxKey {
			w.fail("catches are out of order")
			return
		}
		key += step
		m.Stitch, m.Yarn = int(key>>width), int(key&(1<<width-1))
		if m.Stitch < 1 || m.Stitch > maxInt {
			w.fail("a catch is on no stitch or of no yarn")
			return
		}
	}
	if yarnBits(*marks) != width {
		w.fail("a catch is on no stitch or of no yarn")
	}
}

// lastStitch is the highest stitch with a mark, 0 without one.
func lastStitch(lists ...[]Mark) (last int) {
	for _, m := range slices.Concat(lists...) {
		last = max(last, m.Stitch)
	}
	return last
}

func checkMarks(field string, marks []Mark) error {
	last := Mark{}
	for _, m := range marks {
		if m.Stitch < 1 || m.Stitch > maxInt || m.Yarn < 0 || m.Yarn >= 1<<maxYarnBits {
			return &FieldError{field, fmt.Sprintf("stitch %d, yarn number %d", m.Stitch, m.Yarn), "stitches from 1 and yarns of the piece"}
		}
		if m.Compare(last) <= 0 {
			return &FieldError{field, fmt.Sprintf("stitch %d after stitch %d", m.Stitch, last.Stitch), "each catch once, in knitting order"}
		}
		last = m
	}
	return nil
}
