package paint

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

func TestNarrowIsNarrowToTheLibraryToo(t *testing.T) {
	for _, stretch := range narrow {
		for r := stretch[0]; r <= stretch[1]; r++ {
			assert.True(t, isNarrow(r))
			assert.Equal(t, 1, condition.RuneWidth(r), "U+%04X", r)
			for _, with := range []string{"a", "\u0301", "\ufe0f", "\u200d", "本"} {
				joined := string(r) + with
				assert.Equal(t, condition.StringWidth(joined), Width(joined), "U+%04X", r)
			}
		}
	}
	for _, mark := range []Marks{ChooseMarks(Unicode, nil), ChooseMarks(ASCII, nil)} {
		assert.Equal(t, 1, Width(mark.Catch))
	}
}

func TestWidthIsThatOfTheLibrary(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringOf(rapid.OneOf(rapid.Rune(), rapid.SampledFrom([]rune("a é×▲←│・本"))))
		s := text.Draw(t, "text")
		assert.Equal(t, condition.StringWidth(s), Width(s))
	})
}
