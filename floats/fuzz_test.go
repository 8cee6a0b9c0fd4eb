package floats

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// FuzzGauge feeds the gauge reader anything: an error or a gauge that reads back
// as itself and gives a limit of at least 1.
func FuzzGauge(fz *testing.F) {
	for _, s := range []string{"22x24/10cm", "20/4in", "23x25/9.5x10cm", "", "0/1in", "1e9/1cm", "22x/10cm"} {
		fz.Add(s)
	}
	fz.Fuzz(func(t *testing.T, text string) {
		g, err := ParseGauge(text)
		if err != nil {
			require.NotEmpty(t, err.Error())
			return
		}
		again, err := ParseGauge(g.String())
		require.NoError(t, err)
		require.InDelta(t, g.StitchWidth(), again.StitchWidth(), 1e-9)
		for _, it := range Items {
			require.GreaterOrEqual(t, g.Limit(it), 1)
		}
	})
}

// FuzzLimit feeds the limit reader anything: an error or at least one stitch.
func FuzzLimit(fz *testing.F) {
	for _, s := range []string{"5", "2cm", "3/4in", "15mm", "0", "-1", "1/0in", "9999999999"} {
		fz.Add(s, true)
		fz.Add(s, false)
	}
	gauge, err := ParseGauge("22x24/10cm")
	require.NoError(fz, err)
	fz.Fuzz(func(t *testing.T, text string, with bool) {
		g := Gauge{}
		if with {
			g = gauge
		}
		n, err := ParseLimit(text, g)
		if err != nil {
			require.NotEmpty(t, err.Error())
			return
		}
		require.Positive(t, n)
		require.LessOrEqual(t, n, maxLimit)
	})
}
