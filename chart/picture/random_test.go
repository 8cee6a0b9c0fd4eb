//go:build survey

package picture

import (
	"fmt"
	"image"
	"image/color"
	palettes "image/color/palette"
	"image/draw"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	xdraw "golang.org/x/image/draw"

	"strandwise/chart"
)

// The suite with all its grids.
//
//	go test -tags survey -run WholePictureSuite -v ./chart/picture
func TestWholePictureSuite(t *testing.T) { runSuite(t, suiteGrids(15, 20)) }

// Random drawings with random damage: whatever comes, no wrong reading is sure.
//
//	go test -tags survey -run RandomPictures -v ./chart/picture
func TestRandomPictures(t *testing.T) {
	const each = 40
	var counts [outcomes]int
	for seed := range uint64(50) {
		random := rand.New(rand.NewPCG(seed, 99))
		for i, c := range suiteGrids(100+seed, each) {
			how, data := randomPicture(t, random, c)
			got, said := judge(data, c)
			counts[got]++
			if got == unasked {
				t.Errorf("seed %d, grid %d: %s: %s", seed, i, how, said)
			}
		}
	}
	t.Logf("right %d, right and asked %d, misread and asked %d, refused %d, unasked %d", counts[right], counts[asked], counts[misread], counts[refused], counts[unasked])
	assert.Greater(t, counts[right], counts[refused])
}

// randomPicture draws a chart in some way and says how.
func randomPicture(t *testing.T, r *rand.Rand, c *chart.Chart) (how string, data []byte) {
	inks := []color.NRGBA{grayInk, paleGray, black, {160, 90, 60, 255}, {255, 255, 255, 255}}
	d := drawing{width: 3 + r.IntN(18), line: r.IntN(4), lineColor: inks[r.IntN(len(inks))], frame: r.IntN(2) == 0}
	d.height = max(3, d.width*(7+r.IntN(6))/10)
	if d.width < 7 {
		d.line = min(d.line, 1)
	}
	by := []damage(nil)
	add := func(odds int, name string, d damage) {
		if r.IntN(odds) == 0 {
			how, by = how+", "+name, append(by, d)
		}
	}
	how = fmt.Sprintf("%+v", d)
	if every := 5 + 5*r.IntN(2); d.line > 0 && r.IntN(4) == 0 {
		how += fmt.Sprintf(", every %d heavier", every)
		by = append(by, heavier(d, c, every))
	}
	if r.IntN(5) == 0 && d.line > 0 {
		how += ", captioned"
		by = append(by, captioned(d, c))
	}
	room, turn, tilt, scale := 3+r.IntN(40), 2*r.Float64()-1, 0.05*r.Float64(), 0.6+r.Float64()
	blur, light, grain := 0.4+r.Float64(), 0.4*r.Float64(), 8*r.Float64()
	add(2, fmt.Sprintf("margin %d", room), onPaper(room))
	add(3, fmt.Sprintf("scaled %.3f", scale), scaled(scale, []xdraw.Interpolator{xdraw.BiLinear, xdraw.CatmullRom, xdraw.ApproxBiLinear, xdraw.NearestNeighbor}[r.IntN(4)]))
	add(5, fmt.Sprintf("turned %.2f", turn), turnedBy(turn))
	add(5, fmt.Sprintf("tilted %.3f", tilt), tilted(tilt))
	add(5, fmt.Sprintf("light %.2f", light), shaded(light))
	add(8, fmt.Sprintf("vignette %.2f", light), vignetted(light))
	add(6, fmt.Sprintf("blurred %.2f", blur), blurred(blur))
	add(8, fmt.Sprintf("grain %.1f", grain), grainy(grain))
	var p *image.NRGBA = damaged(d.picture(c), by...)
	if r.IntN(8) == 0 {
		few := image.NewPaletted(p.Rect, palettes.WebSafe)
		draw.FloydSteinberg.Draw(few, p.Rect, p, image.Point{})
		return how + ", dithered", asGIF(t, few, palettes.WebSafe)
	}
	if r.IntN(2) == 0 {
		quality := 40 + r.IntN(58)
		return fmt.Sprintf("%s, JPEG %d", how, quality), asJPEG(t, p, quality)
	}
	return how, asPNG(t, p)
}
