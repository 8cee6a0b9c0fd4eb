package answer

import (
	"strandwise/chart"
	"strandwise/session"
	"strandwise/session/hold"
)

// Review is what review answers; its JSON is schema 2. Rows, repeats and stitches count
// from 1, stitches in knitting order within the repeat; yarns are symbols. Lengths are in
// mm, 0 without a gauge; times in seconds.
type Review struct {
	Piece    string              `json:"piece"`
	Round    bool                `json:"round"`
	Rows     int                 `json:"rows"` // finished
	Of       int                 `json:"of"`
	BoundOff bool                `json:"bound_off"`
	Limit    int                 `json:"limit"` // of the next row
	Gauge    string              `json:"gauge"`
	Catches  session.Tally       `json:"catches"`
	ByRow    []session.RowReview `json:"by_row"`
	ByYarn   []YarnReview        `json:"by_yarn"`
	OnCharts []session.HeatMap   `json:"on_charts"` // catches made, by chart; those without are left out
	Stacked  []Meeting           `json:"stacked"`
	Near     []Meeting           `json:"near"`
	Mending  []Mend              `json:"mending"` // the most urgent first
	Turns    []Turns             `json:"turns"`
	Ripped   int                 `json:"ripped_rows"`
	Time     session.Pace        `json:"time"`
	Pair     *session.PairReview `json:"pair"` // null but for the second of a pair
	Cautions []string            `json:"cautions"`

	piece  *session.Piece
	of     *session.Review
	inches bool
}

// YarnReview is one yarn; longest is null when it has no float.
type YarnReview struct {
	Yarn    chart.Yarn `json:"yarn"`
	Name    string     `json:"name"`
	Floats  int        `json:"floats"`
	Caught  int        `json:"caught_floats"`
	Catches int        `json:"catches"`
	Longest *Gap       `json:"longest_gap"`
}

// Gap is stitches behind which a yarn runs uncaught, from the first to the last. Kind
// is that of its float: within, over-start, to-edge, from-edge or across.
type Gap struct {
	Yarn     chart.Yarn `json:"yarn"`
	Kind     string     `json:"kind"`
	From     Spot       `json:"from"`
	To       Spot       `json:"to"`
	Stitches int        `json:"stitches"`
	Limit    int        `json:"limit"`
	Length   float64    `json:"length_mm"`
}

// Mend is a gap over the limit, or several alike in the repeats of a row, of which it is the
// first; tacks are the stitches behind which to tack the yarn down.
type Mend struct {
	Number int `json:"number"`
	Gap
	Block   int    `json:"block,omitempty"` // in which they begin, in rows of several
	Repeats []int  `json:"repeats"`         // in which they begin
	Tacks   []Spot `json:"tacks"`
	Text    string `json:"text"`
	How     string `json:"-"` // how that is done, with the first of its kind
}

// Meeting is two catches in adjacent rows.
type Meeting struct {
	Row   int         `json:"row"` // the upper one
	Upper LoggedCatch `json:"upper"`
	Below LoggedCatch `json:"below"`
}

// Turns is how often two yarns are turned about each other.
type Turns struct {
	Yarns []chart.Yarn `json:"yarns"` // two
	Turns int          `json:"turns"`
	Text  string       `json:"text"`
}

// NewReview is the answer of a piece that was reviewed; inches are for its words.
func NewReview(p *session.Piece, r *session.Review, inches bool) *Review {
	next := p.State.SegmentAt(p.State.Row + 1)
	a := &Review{
		Piece: r.Piece, Round: !p.Layout.Fabric.Flat, Rows: r.Row, Of: p.Rows(), BoundOff: p.State.BoundOff, Limit: next.Limit, Gauge: next.Gauge,
		Catches: r.Catches, ByRow: r.Rows, Stacked: meetingsOf(p, r.Stacked), Near: meetingsOf(p, r.Near), Ripped: p.State.Ripped,
		Time: r.Pace, OnCharts: p.HeatMaps(), Pair: r.Pair,
		Cautions: p.State.Setup.Cautions(), piece: p, of: r, inches: inches,
	}
	for _, y := range r.ByYarn {
		yarn := YarnReview{Yarn: r.Yarns[y.Yarn], Name: r.Yarns[y.Yarn].Name, Floats: y.Floats, Caught: y.Caught, Catches: y.Catches}
		if y.Longest.Stitches > 0 {
			yarn.Longest = newGap(p, y.Longest)
		}
		a.ByYarn = append(a.ByYarn, yarn)
	}
	a.Mending = mapped(p.Mends(r), func(m session.Mend) Mend {
		tacks := mapped(m.Tacks, func(s session.Spot) Spot { return spotOf(p, s) })
		return Mend{m.Number, *newGap(p, m.Gap), m.Block, m.Repeats, tacks, m.String(), m.How}
	})
	a.Turns = mapped(p.Turns().Tangles(), func(t hold.Tangle) Turns {
		pair := []chart.Yarn{r.Yarns[t.A], r.Yarns[t.B]}
		return Turns{pair, t.Turns, t.Untangle(pair[0].Name, pair[1].Name)}
	})
	return a
}

func newGap(p *session.Piece, g session.Gap) *Gap {
	return &Gap{p.Layout.Fabric.Yarns[g.Yarn], g.Kind.String(), spotOf(p, g.From), spotOf(p, g.To), g.Stitches, g.Limit, p.LengthOf(g)}
}

func meetingsOf(p *session.Piece, all []session.Meeting) []Meeting {
	return mapped(all, func(m session.Meeting) Meeting {
		return Meeting{m.Row, catchOf(p, m.Row, m.Upper), catchOf(p, m.Row-1, m.Under)}
	})
}
