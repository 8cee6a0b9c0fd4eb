package answer

import (
	"regexp"
	"strings"

	d "strandwise/cmd/document"
)

// lettered finds a catch that is named by its letter.
var lettered = regexp.MustCompile(`\b(?:catch|twist) [a-z]{1,2}\b`)

// Catches is a text in which catches are named by their letters, which are heard as capitals,
// lest "a" be heard as the article.
func Catches(text string) d.Text { return d.Text{{Text: text, Aloud: LettersAloud(text)}} }

// LettersAloud is such a text as it is heard.
func LettersAloud(text string) string {
	return lettered.ReplaceAllStringFunc(text, func(found string) string {
		word, letter, _ := strings.Cut(found, " ")
		return word + " " + strings.ToUpper(letter)
	})
}
