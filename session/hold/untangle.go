package hold

import "fmt"

// Which way a turn comes out follows from how it came in. Taken from under, a yarn
// passes the other's strand from right to left between it and the fabric, on the
// knitter's side. The strands lie straight again when the balls pass each other the same
// way as the strands did: both ends have then gone round together. Since balls may lie
// anywhere, the sentence also says how to see that the way is right.

// Untangle says how to take the turns out; a and b are the names of the yarns A and B
// as the knitter reads them.
func (t Tangle) Untangle(a, b string, mirror bool) string {
	side := "your side"
	if t.Sense == Over {
		side = "the far side"
	}
	way := fmt.Sprintf("with both balls before you, lead the %s one round the other %s, starting along %s of it; "+
		"if the strands draw tighter, go round the opposite way.", mirrorIf(mirror, "right-hand"), times(t.Turns), side)
	return fmt.Sprintf("%s and %s have %s on each other. To take %s out, %s", a, b, turns(t.Turns), them(t.Turns), way)
}

// LetItHang is the other way to take turns out.
const LetItHang = "Or make the stitches fast, hold both strands and let the work hang: it turns itself back."

func turns(n int) string {
	if n == 1 {
		return "1 turn"
	}
	return fmt.Sprintf("%d turns", n)
}

func times(n int) string {
	if n == 1 {
		return "once"
	}
	return fmt.Sprintf("%d times", n)
}

func them(n int) string {
	if n == 1 {
		return "it"
	}
	return "them"
}
