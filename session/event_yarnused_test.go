package session

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestYarnUsedState(t *testing.T) {
	l := castOn(t, 3)
	l.add(&YarnUsed{Yarn: 'x', Grams: 18500}, &YarnUsed{Yarn: 'q', Meters: 61000, Grams: 17000})
	assert.Equal(t, Used{YarnUsed{Yarn: 'x', Grams: 18500}, 3}, l.state.Used[0])
	assert.Equal(t, "fjord used so far: 18.5 g", l.words(5))
	assert.Equal(t, "yarn q used so far: 17 g, 61 m", l.words(6))
	runBadFields(t, l.state, []badField{
		{"amount", &YarnUsed{Yarn: 'x'}},
		{"grams", &YarnUsed{Yarn: 'x', Grams: -1}},
		{"meters", &YarnUsed{Yarn: 'x', Meters: -1}},
		{"yarn", &YarnUsed{Grams: 1}},
	})
}

func TestMilli(t *testing.T) {
	for text, want := range map[string]Milli{"18": 18000, "18.5": 18500, "0.001": 1, "007.250": 7250, "0.1": 100} {
		got, err := ParseMilli(text)
		assert.NoError(t, err, text)
		assert.Equal(t, want, got, text)
		back, err := ParseMilli(got.String())
		assert.NoError(t, err)
		assert.Equal(t, want, back)
	}
	for _, text := range []string{"", "0", "0.000", "-1", "+1", "1.", ".5", "1.2345", "1,5", "1e3", "2147484", "x", " 1"} {
		_, err := ParseMilli(text)
		assert.Error(t, err, text)
	}
	assert.Equal(t, "-1.5", Milli(-1500).String())
	assert.InDelta(t, 18.5, Milli(18500).Float(), 1e-9)
}
