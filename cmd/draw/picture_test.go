package draw

import (
	"bytes"
	"image"
	_ "image/png"
	"testing"

	"github.com/stretchr/testify/require"

	"strandwise/chart"
)

// requirePicture wants a PNG of the right side to show every stitch in its yarn's color.
func requirePicture(t *testing.T, png []byte, k *Knitted) {
	t.Helper()
	img, format, err := image.Decode(bytes.NewReader(png))
	require.NoError(t, err)
	require.Equal(t, "png", format)
	v := newView(k, k.whole(), Options{Side: RightSide})
	v.draw("")
	scale := float64(img.Bounds().Dx()) / v.Width
	for row := 1; row <= k.Rows; row++ {
		r := k.Piece.Row(row)
		for c := range r.Columns() {
			// Near the lower corner no sign reaches.
			x, y := v.x(float64(c)+0.91)*scale, (v.y(row)+v.cell.Y*0.91)*scale
			want := k.Piece.Layout.Fabric.Yarns[r.Cell(c).Yarn].Color
			red, green, blue, _ := img.At(int(x), int(y)).RGBA()
			got := chart.Color{R: uint8(red >> 8), G: uint8(green >> 8), B: uint8(blue >> 8)}
			require.Less(t, chart.DeltaE(want.Lab(), got.Lab()), 3.0, "row %d, column %d: %s and %s", row, c+1, want, got)
		}
	}
}
