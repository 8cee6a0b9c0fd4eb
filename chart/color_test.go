package chart

import (
	"encoding/csv"
	"os"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestParseColor(t *testing.T) {
	for text, want := range map[string]Color{
		"#1F4E79": {0x1F, 0x4E, 0x79},
		"#1f4e79": {0x1F, 0x4E, 0x79},
		"#000000": {},
	} {
		got, err := ParseColor(text)
		require.NoError(t, err)
		assert.Equal(t, want, got)
	}
	for text, want := range map[string]string{
		"1F4E79":    `"1F4E79" is not a color: write #1F4E79`,
		"#abc":      "write #AABBCC",
		"#1F4E7":    "six digits",
		"#1F4E790":  "six digits",
		"#+F4E79":   "six digits",
		"blue":      "six digits",
		"":          "six digits",
		"#":         "six digits",
		"#1F_E79":   "six digits",
		"#éa":       "six digits",
		"##1F4E79":  "six digits",
		"0x1F4E":    "six digits",
		"#１F4E79":   "six digits",
		"#1F4E79 #": "six digits",
	} {
		_, err := ParseColor(text)
		assert.ErrorContains(t, err, want)
	}
}

// Sharma, Wu, Dalal 2005, Table 1: all pairs, both ways round. The values are
// given to four decimals.
func TestDeltaE(t *testing.T) {
	file, err := os.Open("testdata/ciede2000.csv")
	require.NoError(t, err)
	defer file.Close()
	records, err := csv.NewReader(file).ReadAll()
	require.NoError(t, err)
	require.Len(t, records, 1+34)
	for _, record := range records[1:] {
		var v [8]float64
		for i := range v {
			v[i], err = strconv.ParseFloat(record[i], 64)
			require.NoError(t, err)
		}
		a, b := Lab{v[1], v[2], v[3]}, Lab{v[4], v[5], v[6]}
		assert.InDelta(t, v[7], DeltaE(a, b), 0.00005, "pair %s", record[0])
		assert.InDelta(t, v[7], DeltaE(b, a), 0.00005, "pair %s the other way round", record[0])
	}
}

func TestDeltaEIsADifference(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := randomColor(t), randomColor(t)
		ab, ba := DeltaE(a.Lab(), b.Lab()), DeltaE(b.Lab(), a.Lab())
		assert.InDelta(t, ab, ba, 1e-9)
		assert.GreaterOrEqual(t, ab, 0.0)
		assert.Less(t, ab, 150.0)
		assert.Equal(t, a == b, ab == 0)
		assert.Zero(t, DeltaE(a.Lab(), a.Lab()))
	})
}

// W3C WCAG 2.2, relative luminance and contrast ratio.
func TestContrastRatio(t *testing.T) {
	white := Color{255, 255, 255}
	for _, c := range []struct {
		color Color
		want  float64
	}{
		{Color{}, 21},
		{Color{0x77, 0x77, 0x77}, 4.478},
		{Color{0x76, 0x76, 0x76}, 4.542},
		{Color{0xFF, 0, 0}, 3.998},
		{white, 1},
	} {
		assert.InDelta(t, c.want, ContrastRatio(c.color, white), 0.0005, c.color)
		assert.InDelta(t, c.want, ContrastRatio(white, c.color), 0.0005, c.color)
		assert.Equal(t, 1.0, ContrastRatio(c.color, c.color)) // arithmetic
	}
}

// CIE 15 / ISO 11664-4.
func TestLightness(t *testing.T) {
	for _, c := range []struct {
		color Color
		want  float64
	}{
		{Color{}, 0},
		{Color{0xFF, 0xFF, 0xFF}, 100},
		{Color{0xFF, 0, 0}, 53.233},
		{Color{0x80, 0x80, 0x80}, 53.585},
	} {
		assert.InDelta(t, c.want, c.color.Lightness(), 0.0005, c.color)
	}
}

// The lightness from the luminance and L* of Lab agree but for the rounding of
// the luminance coefficients in WCAG.
func TestLabLightness(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := randomColor(t)
		assert.InDelta(t, c.Lightness(), c.Lab().L, 0.02, c)
	})
}

// A gray has no hue whatever its lightness: a and b are 0. (CIE 15: the white
// point maps to 0.)
func TestLabOfGrays(t *testing.T) {
	for v := range 256 {
		lab := Color{uint8(v), uint8(v), uint8(v)}.Lab()
		assert.InDelta(t, 0, lab.A, 0.0001)
		assert.InDelta(t, 0, lab.B, 0.0001)
	}
}

// The way from linear sRGB to XYZ follows from the primaries of IEC 61966-2-1 (x, y: red
// 0.64 0.33, green 0.30 0.60, blue 0.15 0.06) and the white: each primary by so much that
// their sum is the white. Solved here by Cramer's rule.
func TestPrimariesAddUpToTheWhite(t *testing.T) {
	var p [3][3]float64 // XYZ of the primaries at Y = y, one a column
	for j, xy := range [3][2]float64{{0.64, 0.33}, {0.30, 0.60}, {0.15, 0.06}} {
		p[0][j], p[1][j], p[2][j] = xy[0], xy[1], 1-xy[0]-xy[1]
	}
	det := func(m [3][3]float64) float64 {
		return m[0][0]*(m[1][1]*m[2][2]-m[1][2]*m[2][1]) - m[0][1]*(m[1][0]*m[2][2]-m[1][2]*m[2][0]) + m[0][2]*(m[1][0]*m[2][1]-m[1][1]*m[2][0])
	}
	for j := range 3 {
		with := p
		for i := range 3 {
			with[i][j] = [3]float64{0.95047, 1, 1.08883}[i]
		}
		for i := range 3 {
			assert.InDelta(t, p[i][j]*det(with)/det(p), fromRGB[i][j], 0.0000001)
		}
	}
}

// Everyday words for colors from the harbor.
func TestColorName(t *testing.T) {
	for text, want := range map[string]string{
		"#FFFFFF": "white", "#000000": "black", "#808080": "gray", "#C0C0C0": "pale gray", "#404040": "dark gray",
		"#FF0000": "red", "#8B0000": "dark red", "#FFC0CB": "pale pink", "#FFA500": "orange", "#7A4A1E": "brown",
		"#FFFF00": "yellow", "#FFF3A0": "pale yellow", "#6B6B20": "olive", "#EFE6D2": "cream", "#C8B48C": "sand",
		"#008000": "green", "#0B3D0B": "dark green", "#C0F0C0": "pale green", "#1E8C8C": "sea green",
		"#0000FF": "dark blue", "#3C78D8": "blue", "#1F4E79": "dark blue", "#C0D8F0": "pale blue",
		"#8040A0": "purple", "#40104F": "dark purple", "#D8B8E8": "lilac",
	} {
		c, err := ParseColor(text)
		require.NoError(t, err)
		assert.Equal(t, want, c.Name(), text)
	}
}
