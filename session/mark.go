package session

import (
	"cmp"
	"encoding/binary"
	"fmt"
	"math/bits"
)

// Mark is one catch of a row.
type Mark struct {
	Stitch int // the stitch it is on (weave) or just before (twist), in knitting order over the whole row, from 1
	Yarn   int // the yarn caught: index into the yarns of the fabric laid from the parts in force at the row
}

// Compare orders marks by stitch, then by yarn: the order a row keeps them in.
// It suits slices.SortFunc.
func (m Mark) Compare(o Mark) int {
	if m.Stitch != o.Stitch {
		return cmp.Compare(m.Stitch, o.Stitch)
	}
	return cmp.Compare(m.Yarn, o.Yarn)
}

// A list of marks is written as its count, then (unless it is empty) the number of
// low bits a yarn needs, then for each mark the step from the mark before, a mark
// counting as stitch<<bits + yarn. Marks are in order, so every step is at least
// 1, and with two yarns a step of up to 63 stitches takes one byte.

// maxYarnBits is the most bits a yarn index of a mark may take.
const maxYarnBits = 12

const maxKey = maxInt<<maxYarnBits | 1<<maxYarnBits - 1

func yarnBits(marks []Mark) int {
	all := 0
	for _, m := range marks {
		all |= m.Yarn
	}
	return bits.Len(uint(all))
}

func appendMarks(b []byte, marks []Mark) []byte {
	b = appendInt(b, len(marks))
	if len(marks) == 0 {
		return b
	}
	width := yarnBits(marks)
	b = appendInt(b, width)
	last := uint64(0)
	for _, m := range marks {
		key := uint64(m.Stitch)<<width | uint64(m.Yarn)
		b = binary.AppendUvarint(b, key-last)
		last = key
	}
	return b
}

// marks reads a list of marks. What it accepts passes checkMarks.
func (r *reader) marks() []Mark {
	n := r.count(1)
	if n == 0 {
		return nil
	}
	width := r.int()
	if width > maxYarnBits {
		r.fail("a yarn number is too large")
		return nil
	}
	marks, key := make([]Mark, n), uint64(0)
	for i := range marks {
		step := r.uvarint()
		if step == 0 || step > maxKey {
			r.fail("catches are out of order")
			return nil
		}
		key += step
		marks[i] = Mark{Stitch: int(key >> width), Yarn: int(key & (1<<width - 1))}
		if marks[i].Stitch < 1 || marks[i].Stitch > maxInt {
			r.fail("a catch is on no stitch or of no yarn")
			return nil
		}
	}
	if yarnBits(marks) != width {
		r.fail("a catch is on no stitch or of no yarn")
		return nil
	}
	return marks
}

// checkMarks reports the first mark that is impossible or out of order.
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
