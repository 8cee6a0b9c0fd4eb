package cmd

import (
	"time"

	"strandwise/session"
)

// reviewAnswer is the JSON of review, schema 1. Rows, stitches and columns count from
// 1, stitches in knitting order over the whole row; yarns are symbols. Lengths are in
// mm, 0 without a gauge; times in seconds.
type reviewAnswer struct {
	Piece    string            `json:"piece"`
	Round    bool              `json:"round"`
	Rows     int               `json:"rows"` // finished
	Of       int               `json:"of"`
	BoundOff bool              `json:"bound_off"`
	Limit    int               `json:"limit"` // of the next row
	Gauge    string            `json:"gauge"`
	Catches  tallyItem         `json:"catches"`
	ByRow    []rowReviewItem   `json:"by_row"`
	ByYarn   []yarnReviewItem  `json:"by_yarn"`
	Stacked  []meetingItem     `json:"stacked"`
	Near     []meetingItem     `json:"near"`
	Mending  []mendItem        `json:"mending"` // the most urgent first
	Turns    []turnItem        `json:"turns"`
	Ripped   int               `json:"ripped_rows"`
	Time     timeItem          `json:"time"`
	Pair     *pairReviewAnswer `json:"pair"` // null but for the second of a pair
	Cautions []string          `json:"cautions"`
}

// tallyItem counts catches: shown by the sheets, made, and how the two differ.
type tallyItem struct {
	Planned     int `json:"planned"`
	Used        int `json:"used"`
	Moved       int `json:"moved"`
	Missed      int `json:"missed"`
	Extra       int `json:"extra"`
	Unwitnessed int `json:"unwitnessed"` // of those made
}

// rowReviewItem is one row with the catches made in it by yarn.
type rowReviewItem struct {
	Row         int            `json:"row"`
	Unwitnessed bool           `json:"unwitnessed"`
	Catches     tallyItem      `json:"catches"`
	ByYarn      map[string]int `json:"by_yarn"` // yarns without a catch are left out
}

// yarnReviewItem is one yarn; longest is null when it has no float.
type yarnReviewItem struct {
	Yarn    string   `json:"yarn"`
	Name    string   `json:"name"`
	Floats  int      `json:"floats"`
	Caught  int      `json:"caught_floats"`
	Catches int      `json:"catches"`
	Longest *gapItem `json:"longest_gap"`
}

// gapItem is stitches behind which a yarn runs uncaught, from the first to the last. Kind
// is that of its float: within, over-start, to-edge, from-edge or across.
type gapItem struct {
	Yarn     string  `json:"yarn"`
	Kind     string  `json:"kind"`
	Row      int     `json:"row"`
	Stitch   int     `json:"stitch"`
	ToRow    int     `json:"to_row"`
	ToStitch int     `json:"to_stitch"`
	Stitches int     `json:"stitches"`
	Limit    int     `json:"limit"`
	Length   float64 `json:"length_mm"`
}

// mendItem is a gap over the limit; tacks are the stitches behind which to tack the
// yarn down.
type mendItem struct {
	Number int `json:"number"`
	gapItem
	Tacks []spotItem `json:"tacks"`
	Text  string     `json:"text"`
}

// spotItem is a stitch.
type spotItem struct {
	Row    int `json:"row"`
	Stitch int `json:"stitch"`
}

// meetingItem is two catches in adjacent rows, the upper one in row and column.
type meetingItem struct {
	Row       int    `json:"row"`
	Column    int    `json:"column"`
	Yarn      string `json:"yarn"`
	Below     int    `json:"column_below"`
	YarnBelow string `json:"yarn_below"`
}

// turnItem is how often two yarns are turned about each other.
type turnItem struct {
	Yarns []string `json:"yarns"` // two
	Turns int      `json:"turns"`
	Text  string   `json:"text"`
}

// timeItem is the time knitted; per_stitch and to_come are 0 when no pace is known.
type timeItem struct {
	PerStitch float64       `json:"per_stitch_s"`
	SoFar     float64       `json:"so_far_s"`
	ToCome    float64       `json:"to_come_s"`
	Sittings  []sittingItem `json:"sittings"`
}

// sittingItem is a stretch of knitting without a break, from its first finished row to
// its last.
type sittingItem struct {
	From     time.Time `json:"from"`
	To       time.Time `json:"to"`
	First    int       `json:"first_row"`
	Last     int       `json:"last_row"`
	Rows     int       `json:"rows"`
	Stitches int       `json:"stitches"`
	Time     float64   `json:"time_s"`
}

// pairReviewAnswer sets the second of a pair beside the first, over the rows finished in
// both.
type pairReviewAnswer struct {
	First         string       `json:"first"`
	Rows          int          `json:"rows"`
	This          pairSideItem `json:"this"`
	Other         pairSideItem `json:"other"`
	CatchesDiffer []int        `json:"catches_differ_in_rows"`
}

// pairSideItem is one of the pair; longest gap and time are of its whole piece so far.
type pairSideItem struct {
	Used      int     `json:"used"`
	Mending   int     `json:"mending"`
	Longest   int     `json:"longest_gap"`
	PerStitch float64 `json:"per_stitch_s"`
	Time      float64 `json:"time_s"`
}

func reviewBody(p *session.Piece, r *session.Review) reviewAnswer {
	b := reviewBuilder{p, r}
	return reviewAnswer{
		Piece: r.Piece, Round: r.Round, Rows: r.Row, Of: r.Of, BoundOff: r.BoundOff, Limit: r.Limit, Gauge: r.Gauge,
		Catches: tally(r.Catches), ByRow: b.byRow(), ByYarn: b.byYarn(),
		Stacked: b.meetings(r.Stacked), Near: b.meetings(r.Near), Mending: b.mending(), Turns: b.turns(),
		Ripped: r.Ripped, Time: b.time(), Pair: b.pair(), Cautions: r.Cautions,
	}
}

// reviewBuilder fills the lists of a reviewAnswer.
type reviewBuilder struct {
	p *session.Piece
	r *session.Review
}

func (b reviewBuilder) symbol(yarn int) string { return string(b.r.Yarns[yarn].Symbol) }

func tally(t session.Tally) tallyItem {
	return tallyItem{t.Planned, t.Used, t.Moved, t.Missed, t.Extra, t.Unwitnessed}
}

func (b reviewBuilder) byRow() []rowReviewItem {
	items := make([]rowReviewItem, len(b.r.Rows))
	for i, row := range b.r.Rows {
		items[i] = rowReviewItem{row.Row, row.Unwitnessed, tally(row.Tally), map[string]int{}}
		for y, n := range row.ByYarn {
			if n > 0 {
				items[i].ByYarn[b.symbol(y)] = n
			}
		}
	}
	return items
}

func (b reviewBuilder) byYarn() []yarnReviewItem {
	items := make([]yarnReviewItem, len(b.r.ByYarn))
	for i, y := range b.r.ByYarn {
		items[i] = yarnReviewItem{b.symbol(y.Yarn), b.r.Yarns[y.Yarn].Name, y.Floats, y.Caught, y.Catches, nil}
		if y.Longest.Stitches > 0 {
			longest := b.gap(y.Longest)
			items[i].Longest = &longest
		}
	}
	return items
}

func (b reviewBuilder) gap(g session.Gap) gapItem {
	return gapItem{
		Yarn: b.symbol(g.Yarn), Kind: g.Kind.String(), Row: g.From.Row, Stitch: g.From.Stitch,
		ToRow: g.To.Row, ToStitch: g.To.Stitch, Stitches: g.Stitches, Limit: g.Limit, Length: g.Length,
	}
}

func (b reviewBuilder) meetings(all []session.Meeting) []meetingItem {
	items := make([]meetingItem, len(all))
	for i, m := range all {
		items[i] = meetingItem{m.Row, m.Column, b.symbol(m.Yarn), m.Below, b.symbol(m.YarnBelow)}
	}
	return items
}

func (b reviewBuilder) mending() []mendItem {
	var items []mendItem
	for _, m := range b.p.Mends(b.r) {
		item := mendItem{Number: m.Number, gapItem: b.gap(m.Gap), Text: m.String()}
		for _, s := range m.Tacks {
			item.Tacks = append(item.Tacks, spotItem{s.Row, s.Stitch})
		}
		items = append(items, item)
	}
	return items
}

func (b reviewBuilder) turns() []turnItem {
	var items []turnItem
	for _, t := range b.r.Turns {
		items = append(items, turnItem{
			[]string{b.symbol(t.A), b.symbol(t.B)},
			t.Turns,
			t.Untangle(b.r.Yarns[t.A].Name, b.r.Yarns[t.B].Name),
		})
	}
	return items
}

func (b reviewBuilder) time() timeItem {
	pace := b.r.Pace
	item := timeItem{pace.PerStitch.Seconds(), pace.SoFar.Seconds(), pace.ToCome.Seconds(), nil}
	for _, s := range pace.Sittings {
		item.Sittings = append(item.Sittings, sittingItem{s.From, s.To, s.First, s.Last, s.Rows, s.Stitches, s.Time.Seconds()})
	}
	return item
}

func (b reviewBuilder) pair() *pairReviewAnswer {
	pair := b.r.Pair
	if pair == nil {
		return nil
	}
	side := func(s session.PairSide) pairSideItem {
		return pairSideItem{s.Used, s.Mending, s.Longest, s.PerStitch.Seconds(), s.Time.Seconds()}
	}
	return &pairReviewAnswer{pair.First, pair.Rows, side(pair.This), side(pair.Other), pair.CatchesDiffer}
}
