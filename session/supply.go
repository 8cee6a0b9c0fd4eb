package session

import "slices"

// Supply is what a piece takes of one yarn and what there is of it. Lengths are in
// meters, weights in grams; a weight is 0 where it is not known.
type Supply struct {
	Yarn                int // index into the fabric's yarns
	Whole, Done, ToCome YarnParts
	Factor              float64     // what was really used for what was estimated; 1 when nothing was measured
	PerGram             float64     // meters a gram; 0 when not known
	Used                *Used       // the newest measure the factor comes from; nil when there is none
	Balls               []BallNoted // in the order they were noted
	Lots                []string
	Stock               float64 // meters in all balls; 0 when none has a length
	Left                float64 // meters of the stock not used yet; may be negative
	Enough              int     // rows to come that the stock is enough for
	Short               float64 // meters lacking for the rows to come; negative is to spare
}

// Meters is a length of the sum, in mm, as it really turns out.
func (s *Supply) Meters(p YarnParts) float64 { return p.Total() * s.Factor / 1000 }

// Grams is the weight of a length of the sum; 0 when not known.
func (s *Supply) Grams(p YarnParts) float64 {
	if s.PerGram == 0 {
		return 0
	}
	return s.Meters(p) / s.PerGram
}

// Supplies tells for each yarn that is worked what the piece takes and what there is. What was measured
// scales everything. A weight turns into a length by the ball's; where no ball tells both, the estimated
// length stands and the measured weight gives the grams.
func (p *Piece) Supplies(sum *YarnSum) []Supply {
	var supplies []Supply
	for yarn, y := range p.Layout.Fabric.Yarns {
		s := Supply{Yarn: yarn, Factor: 1, Whole: sum.Between(yarn, 1, sum.Rows())}
		if s.Whole.Total() == 0 {
			continue
		}
		s.Done = sum.Between(yarn, 1, sum.Row)
		s.ToCome = sum.Between(yarn, sum.Row+1, sum.Rows())
		s.takeBalls(p.State.Balls, y.Symbol)
		s.takeUsed(p.State.Used, y.Symbol, sum)
		s.measure(sum)
		supplies = append(supplies, s)
	}
	return supplies
}

func (s *Supply) takeBalls(balls []BallNoted, symbol rune) {
	grams, weighed := 0.0, 0.0 // of balls that tell both
	for _, b := range balls {
		if b.Yarn != symbol {
			continue
		}
		s.Balls = append(s.Balls, b)
		s.Stock += b.Meters.Float()
		if b.Grams > 0 && b.Meters > 0 {
			grams += b.Grams.Float()
			weighed += b.Meters.Float()
		}
		if b.DyeLot != "" && !slices.Contains(s.Lots, b.DyeLot) {
			s.Lots = append(s.Lots, b.DyeLot)
		}
	}
	if grams > 0 {
		s.PerGram = weighed / grams
	}
}

// takeUsed finds the factor from the newest measure.
func (s *Supply) takeUsed(all []Used, symbol rune, sum *YarnSum) {
	mine := slices.DeleteFunc(slices.Clone(all), func(u Used) bool { return u.Yarn != symbol })
	if len(mine) == 0 {
		return
	}
	s.Used = &mine[len(mine)-1]
	estimated := sum.Between(s.Yarn, 1, min(s.Used.Row, sum.Rows())).Total() / 1000
	if estimated == 0 {
		s.Used = nil // measured before the yarn was worked
		return
	}
	grams, meters := s.Used.Grams.Float(), s.Used.Meters.Float()
	switch {
	case meters > 0:
		s.Factor = meters / estimated
	case s.PerGram > 0:
		s.Factor = grams * s.PerGram / estimated
	}
	if grams > 0 {
		s.PerGram = estimated * s.Factor / grams
	}
}

// measure sets the stock against what is to come.
func (s *Supply) measure(sum *YarnSum) {
	if s.Stock == 0 {
		return
	}
	s.Left = s.Stock - s.Meters(s.Done)
	s.Short = s.Meters(s.ToCome) - s.Left
	left := s.Left * 1000 / s.Factor
	for row := sum.Row + 1; row <= sum.Rows(); row++ {
		if left -= sum.rows[row-1][s.Yarn].Total(); left < -1e-6 {
			return
		}
		s.Enough++
	}
}
