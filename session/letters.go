package session

import (
	"fmt"
	"slices"
	"strings"
)

// Place is a stitch of a row as it is said everywhere: the repeat of the chart and the
// stitch in it, both from 1 in knitting order, empty cells left out.
type Place struct {
	Repeat int `json:"repeat"`
	Stitch int `json:"stitch"`
}

// placeIn is the place of a stitch of a row whose repeat has so many.
func placeIn(stitch, width int) Place {
	return Place{Repeat: (stitch-1)/width + 1, Stitch: (stitch-1)%width + 1}
}

// A catch is known within its row by its letter. The distinct catches of a row as it was
// shown, by stitch and yarn over all its repeats, are lettered in knitting order: a, b, c
// and, after z, aa. A letter means the same stitch in every repeat; a repeat without that
// catch leaves it out. What was made otherwise keeps the letter it was shown with, and a
// catch that was not shown has none.

// Lettered is one of the distinct catches of a row.
type Lettered struct {
	Letter string
	Stitch int // in the repeat, from 1
	Yarn   int
}

// lettered letters the catches of a row whose repeat has so many stitches.
func lettered(shown []Mark, width int) []Lettered {
	var distinct []Mark
	for _, m := range shown {
		m.Stitch = (m.Stitch-1)%width + 1
		if at, known := slices.BinarySearchFunc(distinct, m, Mark.Compare); !known {
			distinct = slices.Insert(distinct, at, m)
		}
	}
	letters := make([]Lettered, len(distinct))
	for i, m := range distinct {
		letters[i] = Lettered{letter(i), m.Stitch, m.Yarn}
	}
	return letters
}

// letterOf is the letter of a catch of the row that was shown with these; empty for one
// that was not shown.
func letterOf(letters []Lettered, m Mark, width int) string {
	for _, l := range letters {
		if l.Stitch == (m.Stitch-1)%width+1 && l.Yarn == m.Yarn {
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
func withLetter(letters []Lettered, text string) (Lettered, bool) {
	at := slices.IndexFunc(letters, func(l Lettered) bool { return l.Letter == strings.ToLower(text) })
	if at < 0 {
		return Lettered{}, false
	}
	return letters[at], true
}

// namesOf names catches: "a (oat, stitch 6)".
func namesOf(letters []Lettered, yarn func(int) string) []string {
	names := make([]string, len(letters))
	for i, l := range letters {
		names[i] = fmt.Sprintf("%s (%s, stitch %d)", l.Letter, yarn(l.Yarn), l.Stitch)
	}
	return names
}
