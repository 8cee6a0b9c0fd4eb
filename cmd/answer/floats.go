package answer

import (
	"strandwise/chart"
	"strandwise/floats"
)

// FloatsOf is what the floats of a chart are told from before it is knitted. Only the document
// needs the survey and the reliefs, which take long.
type FloatsOf struct {
	Name      string // of the chart: its title, or its file
	Chart     *chart.Chart
	Fabric    *floats.Fabric
	Gauge     floats.Gauge // may be zero
	From      string       // where the limit comes from, in words
	RestLimit int          // rows a yarn rests without being cut
	Plan      *floats.Plan
	Survey    *floats.Survey
	Reliefs   []floats.Relief // one for each stack of the survey
}

// Floats is the JSON of floats, schema 1. Rows and stitches count from 1,
// stitches in knitting order over the whole row; yarns are symbols. Floats are
// listed in every repeat, the short ones too, ordered by row, stitch, yarn. Bound
// is what no allowed plan scores less than; proven says that it equals score.
type Floats struct {
	Limit   int          `json:"limit"`
	Score   int          `json:"score"`
	Proven  bool         `json:"proven"`
	Bound   int          `json:"bound"`
	Floats  []Float      `json:"floats"`
	Catches []FloatCatch `json:"catches"`
	Rests   []Rest       `json:"rests"`

	of FloatsOf
}

// Float is a float by its first stitch. Kind is within, over-start, to-edge,
// from-edge or across.
type Float struct {
	Row    int    `json:"row"`
	Stitch int    `json:"stitch"`
	Length int    `json:"length"`
	Yarn   string `json:"yarn"`
	Kind   string `json:"kind"`
}

// FloatCatch is a catch, on its stitch (weave) or just before it (twist).
type FloatCatch struct {
	Row    int    `json:"row"`
	Stitch int    `json:"stitch"`
	Yarn   string `json:"yarn"`
}

// Rest is a yarn that waits for whole rows, from the first to the last of them;
// cut says that it rests too long to be carried up.
type Rest struct {
	Yarn    string `json:"yarn"`
	FromRow int    `json:"from_row"`
	ToRow   int    `json:"to_row"`
	Cut     bool   `json:"cut"`
}

// NewFloats makes the answer.
func NewFloats(of FloatsOf) *Floats {
	f, p := of.Fabric, of.Plan
	symbol := func(yarn int) string { return string(f.Yarns[yarn].Symbol) }
	body := &Floats{Limit: p.Limit, Score: p.Score, Proven: p.Proven, Bound: p.Bound, of: of}
	for _, fl := range f.Floats(of.RestLimit) {
		body.Floats = append(body.Floats, Float{fl.Row + 1, fl.Stitch, fl.Length, symbol(fl.Yarn), fl.Kind.String()})
	}
	for _, c := range p.Catches {
		body.Catches = append(body.Catches, FloatCatch{c.Row + 1, c.Stitch, symbol(c.Yarn)})
	}
	for _, r := range f.Rests(of.RestLimit) {
		body.Rests = append(body.Rests, Rest{symbol(r.Yarn), r.FromRow + 1, r.ToRow + 1, r.Cut})
	}
	return body
}
