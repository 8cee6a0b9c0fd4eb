package hold

import (
	"regexp"
	"slices"
)

// sideWord finds the words that name a side of the knitter, also as the beginning of leftward and
// left-hand. A test holds that the tables keep "right" and "left" for sides only.
var sideWord = regexp.MustCompile(`\b([Ll]eft|[Rr]ight)(ward|-hand)?\b`)

var otherSide = map[string]string{"left": "right", "right": "left", "Left": "Right", "Right": "Left"}

// swapSides swaps left and right in a text; done twice it gives the text back.
func swapSides(text string) string {
	return sideWord.ReplaceAllStringFunc(text, func(word string) string {
		parts := sideWord.FindStringSubmatch(word)
		return otherSide[parts[1]] + parts[2]
	})
}

func mirrorIf(mirror bool, text string) string {
	if mirror {
		return swapSides(text)
	}
	return text
}

func (m Making) mirror() Making {
	m.Short, m.Steps = swapSides(m.Short), slices.Clone(m.Steps)
	for i, step := range m.Steps {
		m.Steps[i] = swapSides(step)
	}
	return m
}

// Mirror is the motion with left and right swapped in its places and sentences.
func (m Motion) Mirror() Motion {
	m.Carried, m.Working = m.Carried.Mirror(), m.Working.Mirror()
	m.Making, m.Note, m.Mirrored = m.Making.mirror(), swapSides(m.Note), !m.Mirrored
	if m.Other != nil {
		other := m.Other.mirror()
		m.Other = &other
	}
	return m
}
