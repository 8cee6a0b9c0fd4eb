package session

import (
	"fmt"
	"slices"
	"strings"

	"strandwise/floats"
)

// Catch is a catch of one repeat as a row shows it.
type Catch struct {
	Letter string // by which it is known in its row; empty for an extra one
	Block  int    // its number; 0 in rows of one block
	Stitch int    // in the repeat, from 1
	Yarn   int    // the yarn caught
	Twist  bool   // just before its stitch, not on it
	Moved  bool   // of a row to come: not where the plan had it
}

// place is where the catch is in its repeat.
func (c Catch) place() floats.Place { return floats.Place{Block: c.Block, Stitch: c.Stitch} }

// shortPlace is a stitch of a repeat as it is written: "4", in a row of blocks "2/4".
func shortPlace(at floats.Place) string {
	if at.Block > 0 {
		return fmt.Sprintf("%d/%d", at.Block, at.Stitch)
	}
	return fmt.Sprint(at.Stitch)
}

// StitchName is a stitch of a repeat: "stitch 4", "block 2 stitch 4".
func StitchName(at floats.Place) string {
	if at.Block > 0 {
		return fmt.Sprintf("block %d stitch %d", at.Block, at.Stitch)
	}
	return fmt.Sprintf("stitch %d", at.Stitch)
}

// lettered letters the catches with which a row is shown.
func lettered(shown []Mark, c *floats.Course) []Catch {
	var distinct []Mark // stitches counted in the pattern
	where := map[int]floats.Place{}
	for _, m := range shown {
		at := c.PlaceOf(m.Stitch)
		m.Stitch = c.InPattern(m.Stitch)
		where[m.Stitch] = at
		if i, known := slices.BinarySearchFunc(distinct, m, Mark.Compare); !known {
			distinct = slices.Insert(distinct, i, m)
		}
	}
	letters := make([]Catch, len(distinct))
	for i, m := range distinct {
		at := where[m.Stitch]
		letters[i] = Catch{Letter: letter(i), Block: at.Block, Stitch: at.Stitch, Yarn: m.Yarn}
	}
	return letters
}

// letterOf is the letter of a catch of the row that was shown with these; empty for one
// that was not shown.
func letterOf(letters []Catch, m Mark, c *floats.Course) string {
	at := c.PlaceOf(m.Stitch)
	for _, l := range letters {
		if l.Block == at.Block && l.Stitch == at.Stitch && l.Yarn == m.Yarn {
			return l.Letter
		}
	}
	return ""
}

// letter is that of the catch at an index: a to z, aa to az, ba and so on.
func letter(i int) string {
	text := ""
	for i++; i > 0; i = (i - 1) / 26 {
		text = string(rune('a'+(i-1)%26)) + text
	}
	return text
}

// withLetter finds a letter, small or capital, since strips print capitals where yarns
// have small symbols.
func withLetter(letters []Catch, text string) (Catch, bool) {
	at := slices.IndexFunc(letters, func(l Catch) bool { return l.Letter == strings.ToLower(text) })
	if at < 0 {
		return Catch{}, false
	}
	return letters[at], true
}

// namesOf names catches: "a (oat, stitch 6)".
func namesOf(letters []Catch, yarn func(int) string) []string {
	names := make([]string, len(letters))
	for i, l := range letters {
		names[i] = fmt.Sprintf("%s (%s, %s)", l.Letter, yarn(l.Yarn), StitchName(l.place()))
	}
	return names
}
