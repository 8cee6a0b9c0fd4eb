package chart

import "math"

// hueTie is how near to half a turn, in degrees, two hues count as opposite. Hues
// come out of an arc tangent, so that two which are opposite on paper differ from
// half a turn in the last digits, and on which side is chance; the mean hue, and
// with it the result, jumps there (pairs 10 and 14 of the published table). The
// nearest pair that is not opposite is 0.002 degrees away.
//
// The color library has the formula too, without such a bound and for colors in
// RGB only: from there pair 10 comes out on the wrong side.
const hueTie = 1e-9

// DeltaE is the CIEDE2000 color difference with all three weights 1. About 1 can
// just be seen side by side; 0 means equal. It is symmetric and never NaN for
// colors made from sRGB.
//
// The steps are those of Sharma, Wu, Dalal, "The CIEDE2000 color-difference
// formula: implementation notes, supplementary test data, and mathematical
// observations", Color Research & Application 30 (2005) 21-30, equations 2 to 22:
// the a* axis is stretched for grays, lightness, chroma and hue differences are
// taken, each is divided by how coarsely the eye judges it there, and a rotation
// term corrects the blues.
func DeltaE(a, b Lab) float64 {
	stretch := 1 + 0.5*(1-chromaStep((math.Hypot(a.A, a.B)+math.Hypot(b.A, b.B))/2))
	c1, h1 := polar(a.A*stretch, a.B)
	c2, h2 := polar(b.A*stretch, b.B)
	turn, hue := hues(c1, h1, c2, h2)

	light, chroma := (a.L+b.L)/2, (c1+c2)/2
	t := 1 - 0.17*cosine(hue-30) + 0.24*cosine(2*hue) + 0.32*cosine(3*hue+6) - 0.20*cosine(4*hue-63)
	off := (light - 50) * (light - 50)
	dl := (b.L - a.L) / (1 + 0.015*off/math.Sqrt(20+off))
	dc := (c2 - c1) / (1 + 0.045*chroma)
	dh := 2 * math.Sqrt(c1*c2) * sine(turn/2) / (1 + 0.015*chroma*t)

	blue := (hue - 275) / 25
	rotation := -2 * chromaStep(chroma) * sine(60*math.Exp(-blue*blue))
	return math.Sqrt(max(0, dl*dl+dc*dc+dh*dh+rotation*dc*dh))
}

// chromaStep goes from 0 for grays to 1 for strong colors.
func chromaStep(chroma float64) float64 {
	p := math.Pow(chroma, 7)
	return math.Sqrt(p / (p + 25*25*25*25*25*25*25))
}

// polar gives chroma and hue, the hue in degrees from 0 to 360; 0 for gray.
func polar(a, b float64) (chroma, hue float64) {
	hue = math.Atan2(b, a) * 180 / math.Pi
	if hue < 0 {
		hue += 360
	}
	return math.Hypot(a, b), hue
}

// hues gives difference and mean in degrees, the shorter way round; opposite hues are
// taken not to pass 360. A gray has no hue: the other's is the mean.
func hues(c1, h1, c2, h2 float64) (turn, mean float64) {
	if c1*c2 == 0 {
		return 0, h1 + h2
	}
	turn, mean = h2-h1, (h1+h2)/2
	if math.Abs(turn) <= 180+hueTie {
		return turn, mean
	}
	if turn > 0 {
		turn -= 360
	} else {
		turn += 360
	}
	if h1+h2 < 360 {
		return turn, mean + 180
	}
	return turn, mean - 180
}

func cosine(degrees float64) float64 { return math.Cos(degrees * math.Pi / 180) }

func sine(degrees float64) float64 { return math.Sin(degrees * math.Pi / 180) }
