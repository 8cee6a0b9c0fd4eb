package answer

import (
	"fmt"
	"strings"

	"strandwise/chart"
	d "strandwise/cmd/document"
	"strandwise/session"
)

// metersAYard turns meters into yards.
const metersAYard = 0.9144

// Document tells what a piece takes of each yarn, and how far the balls reach.
func (a *Yarn) Document() d.Document {
	p := &prose{}
	p.heading(d.Named(a.Piece, fmt.Sprintf(": yarn for %s, %d done", d.Counted(a.Rows, a.row), a.Row)))
	p.add(d.Line{Text: d.Text{
		{Text: "At gauge "},
		gauge(a.Gauge, a.row),
		{Text: fmt.Sprintf(" a stitch takes %.1f mm of yarn (%s).", a.sum.Loop, finishNotes[a.sum.Finish])},
	}})
	for i := range a.supplies {
		a.supply(p, &a.supplies[i])
	}
	p.heading(d.Words("How this is estimated"))
	p.aside("Loops by the relation of gauge and loop of Munden, J. Textile Inst. 50 (1959), its constants from memory. Assumed by this program: "+
		"%.0f %% slack on floats, half a stitch width for each catch, %d cm for each end. Cast-on, bind-off and seams are not in it. "+
		"What you really used beats every formula: --used SYMBOL=18g scales all of it.", 100*session.FloatSlack, session.EndMillimeter/10)
	return d.Document{Title: a.Piece + ": yarn", Blocks: p.blocks}
}

var finishNotes = [...]string{
	session.WetRelaxed: "washed and laid to dry", session.DryRelaxed: "never washed", session.FullyRelaxed: "washed and tumbled",
}

func (a *Yarn) meters(m float64) string {
	if a.yards {
		return fmt.Sprintf("%.1f yd", m/metersAYard)
	}
	return fmt.Sprintf("%.1f m", m)
}

// amount is a length of the sum with its weight, where that is known.
func (a *Yarn) amount(s *session.Supply, parts session.YarnParts) string {
	text := a.meters(s.Meters(parts))
	if g := s.Grams(parts); s.PerGram > 0 {
		text += fmt.Sprintf(", %.1f g", g)
	}
	return text
}

func (a *Yarn) supply(p *prose, s *session.Supply) {
	y := a.of.Layout.Fabric.Yarns[s.Yarn]
	p.heading(append(d.Named(y.Name, " ("), symbol(string(y.Symbol)), d.Span{Text: ")"}))
	whole := "Whole piece: " + a.amount(s, s.Whole)
	if a.Row > 0 {
		whole += fmt.Sprintf(". Done: %s. To come: %s", a.amount(s, s.Done), a.amount(s, s.ToCome))
	}
	p.item("%s.", whole)
	part := func(mm float64) string { return a.meters(mm * s.Factor / 1000) }
	p.item("Of the whole: loops %s, floats %s, catches %s, ends %s.", part(s.Whole.Loops), part(s.Whole.Floats), part(s.Whole.Catches), part(s.Whole.Ends))
	if s.Used != nil {
		p.item("%s", a.measured(s))
	}
	a.stock(p, s)
}

func (a *Yarn) measured(s *session.Supply) string {
	var amounts []string
	if s.Used.Meters > 0 {
		amounts = append(amounts, a.meters(s.Used.Meters.Float()))
	}
	if s.Used.Grams > 0 {
		amounts = append(amounts, s.Used.Grams.String()+" g")
	}
	text := fmt.Sprintf("Measured after %s: %s used.", d.Counted(s.Used.Row, a.row), strings.Join(amounts, ", "))
	if s.Used.Meters == 0 && s.Stock == 0 {
		return text + " The weights follow from it; the lengths are as estimated, since no ball tells meters and grams."
	}
	text = fmt.Sprintf("%s All is scaled by %.2f.", text, s.Factor)
	if s.Factor < 1/farOff || s.Factor > farOff {
		text += " That is far from the estimate: check the amount, its unit, and the gauge."
	}
	return text
}

// Our choices: by what part an estimate may be wrong, and how many times as much makes a measure doubtful, since
// knitters differ by less.
const (
	surety = 0.05
	farOff = 1.6
)

func (a *Yarn) stock(p *prose, s *session.Supply) {
	for _, b := range s.Balls {
		p.item("%s", a.ball(&b))
	}
	if len(s.Lots) > 1 {
		p.item("Warning: dye lots %s differ. Keep one lot for the whole, or change lots where bands change.", strings.Join(s.Lots, ", "))
	}
	at := a.Row + s.Enough + 1
	switch spare := -s.Short; {
	case s.Stock == 0:
	case spare >= 0 && spare < surety*s.Meters(s.ToCome):
		p.item("Only just: %s needed of %s, less than the estimate can tell; keep another ball.", a.meters(s.Meters(s.ToCome)), a.meters(s.Left))
	case spare >= 0:
		p.item("Enough for the %s to come, with %s to spare.", d.Counted(a.Rows-a.Row, a.row), a.meters(spare))
	case s.Enough == 0:
		p.warn("It runs out in %s %d, the next one: short by %s.", a.row, at, a.meters(s.Short))
	default:
		p.warn("Enough for %s, short by %s: it runs out in %s %d.", d.Counted(s.Enough, "more "+a.row), a.meters(s.Short), a.row, at)
	}
}

func (a *Yarn) ball(b *session.BallNoted) string {
	var words []string
	if b.Grams > 0 {
		words = append(words, d.Tenths(b.Grams.Float())+" g")
	}
	if b.Meters > 0 {
		words = append(words, a.meters(b.Meters.Float()))
	}
	if b.DyeLot != "" {
		words = append(words, "dye lot "+b.DyeLot)
	}
	return "Ball: " + strings.Join(words, ", ") + "."
}

// Yarn is what yarn answers, schema 1: what a piece takes of each yarn. Lengths are in meters, weights in
// grams, 0 where not known; the loop is in mm. Parts are scaled as the totals are.
type Yarn struct {
	Piece  string   `json:"piece"`
	Row    int      `json:"row"`
	Rows   int      `json:"rows"`
	Gauge  string   `json:"gauge"`
	Finish string   `json:"finish"`
	Loop   float64  `json:"loop"`
	Yarns  []YarnOf `json:"yarns"`

	of       *session.Piece
	sum      *session.YarnSum
	supplies []session.Supply
	yards    bool
	row      string // what a row of the piece is called
}

// YarnOf is one yarn. Factor is what was really used for what was estimated.
// Enough_rows and short stand for the rows to come; a negative short is to spare, and
// both are 0 where no ball has a length.
type YarnOf struct {
	Symbol     chart.Yarn `json:"symbol"`
	Name       string     `json:"name"`
	Whole      float64    `json:"whole"`
	Done       float64    `json:"done"`
	ToCome     float64    `json:"to_come"`
	Loops      float64    `json:"loops"`
	Floats     float64    `json:"floats"`
	Catches    float64    `json:"catches"`
	Ends       float64    `json:"ends"`
	WholeGrams float64    `json:"whole_grams"`
	DoneGrams  float64    `json:"done_grams"`
	ToComeG    float64    `json:"to_come_grams"`
	Factor     float64    `json:"factor"`
	Stock      float64    `json:"stock"`
	EnoughRows int        `json:"enough_rows"`
	Short      float64    `json:"short"`
	DyeLots    []string   `json:"dye_lots"`
}

// NewYarn is the answer for a piece with its sum; in words lengths are in yards, or else in meters.
func NewYarn(p *session.Piece, sum *session.YarnSum, yards bool) *Yarn {
	a := &Yarn{
		of: p, sum: sum, supplies: p.Supplies(sum), yards: yards, row: session.RowWord(!p.Layout.Fabric.Flat),
		Piece: p.State.Setup.Name, Row: sum.Row, Rows: sum.Rows(), Gauge: sum.Gauge.String(), Finish: sum.Finish.String(), Loop: hundredths(sum.Loop),
	}
	for i := range a.supplies {
		s, y := &a.supplies[i], p.Layout.Fabric.Yarns[a.supplies[i].Yarn]
		part := func(mm float64) float64 { return hundredths(mm * s.Factor / 1000) }
		a.Yarns = append(a.Yarns, YarnOf{
			Symbol: y, Name: y.Name,
			Whole: hundredths(s.Meters(s.Whole)), Done: hundredths(s.Meters(s.Done)), ToCome: hundredths(s.Meters(s.ToCome)),
			Loops: part(s.Whole.Loops), Floats: part(s.Whole.Floats), Catches: part(s.Whole.Catches), Ends: part(s.Whole.Ends),
			WholeGrams: hundredths(s.Grams(s.Whole)), DoneGrams: hundredths(s.Grams(s.Done)), ToComeG: hundredths(s.Grams(s.ToCome)),
			Factor: hundredths(s.Factor), Stock: hundredths(s.Stock), EnoughRows: s.Enough, Short: hundredths(s.Short), DyeLots: s.Lots,
		})
	}
	return a
}
