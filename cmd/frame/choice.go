package frame

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"strandwise/session"
	"strandwise/session/hold"
)

// Choice is a flag's value that is one of a few words.
type Choice struct {
	to    *string
	words []string
}

// OneOf makes the value of a flag; to holds the default and later the word given.
func OneOf(to *string, words ...string) *Choice { return &Choice{to, words} }

// String is the word in force.
func (c *Choice) String() string {
	return *c.to
}

// Type is the list of words, as help shows it.
func (c *Choice) Type() string { return strings.Join(c.words, "|") }

// Set takes a word, or gives a *ChoiceError.
func (c *Choice) Set(word string) error {
	if !slices.Contains(c.words, word) {
		return &ChoiceError{word, c.words}
	}
	*c.to = word
	return nil
}

// ChoiceError tells that a word is none of the few that were possible.
type ChoiceError struct {
	word  string
	words []string
}

func (e *ChoiceError) Error() string {
	return fmt.Sprintf("takes %s, not %q", session.Listed(e.words, "or"), e.word)
}

// Hint is form with the word most likely meant for %s; where nothing tells which, otherwise, or
// if that is "" the first word in form. Where several may be meant it asks which.
func (e *ChoiceError) Hint(form, otherwise string) string {
	word := strings.ToLower(e.word)
	if slices.Contains(e.words, hold.TwoHands.String()) && slices.Contains(styles, word) {
		return whichHand
	}
	meant := otherWords[word]
	if !slices.Contains(e.words, meant) {
		meant = Nearest(e.word, e.words)
	}
	if meant == "" && otherwise != "" {
		return otherwise
	}
	return fmt.Sprintf(form, cmp.Or(meant, e.words[0]))
}

// styles are names of ways to knit with one yarn; with two they say nothing sure.
var styles = []string{"continental", "picking", "picker", "pick", "german", "english", "throwing", "thrower", "throw", "american", "flicking"}

const whichHand = "which hand holds which yarn? two-hands is one in each, left-one-finger and left-two-fingers both in the left, right-one-finger and right-two-fingers both in the right, one-at-a-time one of them only"

// otherWords are words a knitter may give for one of a few, flags among them, where no letters tell.
var otherWords = map[string]string{
	"sock": "hands-feet", "socks": "hands-feet", "stocking": "hands-feet", "mitten": "hands-feet", "mittens": "hands-feet",
	"glove": "hands-feet", "gloves": "hands-feet", "slipper": "hands-feet", "slippers": "hands-feet", "foot": "hands-feet",
	"cuff": "sleeve", "wristlet": "sleeve", "arm": "sleeve", "leg": "sleeve",
	"hat": "general", "cap": "general", "cowl": "general", "body": "general", "sweater": "general", "yoke": "general",
	"bonnet": "baby", "bootee": "baby", "bootie": "baby", "booties": "baby", "child": "baby", "infant": "baby", "babies": "baby", "children": "baby", "toddler": "baby",
	"both": "two-hands", "2": "two-hands", "both-hands": "two-hands", "left": "left-two-fingers", "right": "right-two-fingers",
	"single": "one-at-a-time", "drop": "one-at-a-time", "wrap": "twist", "trap": "weave", "weaving": "weave", "twisting": "twist",
	"yes": "always", "on": "always", "true": "always", "no": "never", "off": "never", "false": "never", "none": "never",
	"in": "inches", "inch": "inches", "metric": "cm", "centimeters": "cm", "mm": "cm",
	"letters": "ascii", "plain": "ascii", "utf-8": "unicode", "utf8": "unicode",
	"back": "wrong", "inside": "wrong", "front": "right", "outside": "right", "stitch": "run", "color": "run",
	"tension": "gauge", "colour": "color", "name": PieceKey, "file": StoreKey, "mirrored": "mirror", "force": yes,
}
