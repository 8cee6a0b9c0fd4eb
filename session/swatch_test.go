package session

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/floats"
)

func TestCategories(t *testing.T) {
	// Craft Yarn Council, Standard Yarn Weight System, stockinette over 4 in.
	for gauge, want := range map[string][]string{
		"18/4in": {"Medium"}, "24/4in": {"Fine", "Light"}, "30/4in": {"Super Fine"}, "14/4in": {"Bulky"},
		"9/4in": {"Super Bulky"}, "6/4in": {"Jumbo"}, "35/4in": {"Lace"}, "44/4in": nil,
		"22x24/10cm": {"Light"}, // 22.35 over 4 in
		"20.4/4in":   {"Medium"},
	} {
		var names []string
		for _, c := range CategoriesOf(gaugeOf(t, gauge)) {
			names = append(names, c.Name)
		}
		assert.Equal(t, want, names, gauge)
	}
	for n := 1; n <= 40; n++ {
		found := 0
		for _, c := range YarnCategories {
			if c.From <= n && n <= c.To {
				found++
			}
		}
		assert.Positive(t, found, n)
	}
}

func TestNeedleSizes(t *testing.T) {
	// Common practice.
	for mm, want := range map[float64][2]string{4.5: {"7", "7"}, 6: {"10", "4"}, 3.25: {"3", "10"}, 1: {}} {
		us, uk := NeedleNames(mm)
		assert.Equal(t, want, [2]string{us, uk}, mm)
	}
	for _, c := range YarnCategories {
		for _, mm := range []float64{c.NeedleFrom, c.NeedleTo} {
			us, _ := NeedleNames(mm)
			assert.True(t, mm == 0 || us != "", mm)
		}
	}
}

func TestWidths(t *testing.T) {
	// Arithmetic: 22 stitches in 10 cm, 4.545 mm each.
	g := gaugeOf(t, "22x24/10cm")
	assert.InDelta(t, 520, WidthOf(g, 114), 2)
	assert.Equal(t, 114, StitchesFor(g, 520))
	assert.Equal(t, 1, StitchesFor(g, 0.1))
	fit := func(g floats.Gauge, width float64, repeat int) []int {
		below, above, nearer := FitRepeat(g, width, repeat)
		return []int{below, above, nearer}
	}
	assert.Equal(t, []int{96, 120, 120}, fit(g, 520, 24))
	assert.Equal(t, []int{0, 24, 24}, fit(g, 50, 24))
	assert.Equal(t, []int{24, 36, 24}, fit(gaugeOf(t, "20/10cm"), 120, 12), "60 mm a repeat: exactly two")
	assert.Equal(t, []int{24, 36, 36}, fit(gaugeOf(t, "20/10cm"), 150, 12), "as far from both: the larger")
}

func TestLengths(t *testing.T) {
	for text, want := range map[string]float64{"52cm": 520, "520mm": 520, "20.5in": 520.7, " 20 in ": 508, "24,5 cm": 245, `4"`: 101.6, "3/4in": 19.05, `7 1/2"`: 190.5, ".5in": 12.7, "5.cm": 50, "½ in": 12.7, "1⅝″": 41.275} {
		got, err := floats.ParseLength(text)
		require.NoError(t, err, text)
		assert.InDelta(t, want, got, 1e-9, text)
	}
	for _, text := range []string{"", "52", "cm", "0cm", "-1cm", "1e3cm", "1.2.3cm", "infcm", "nancm", "101000mm", "5ft", "5 5cm", "1 9/4in", "1 1/0in", "1/0in", "1/2/3in"} {
		_, err := floats.ParseLength(text)
		assert.Error(t, err, text)
	}
	assert.NoError(t, CheckCount("stitches", 1))
	assert.Error(t, CheckCount("stitches", 0))
	assert.Error(t, CheckCount("stitches", 100_001))
}

func TestLimitsOfItems(t *testing.T) {
	// Arithmetic from the spans of the items: 25, 20, 15 and 15 mm of 5 mm stitches.
	var limits []int
	for _, it := range floats.Items {
		limits = append(limits, gaugeOf(t, "20/10cm").Limit(it))
	}
	assert.Equal(t, []int{5, 4, 3, 3}, limits)
}
