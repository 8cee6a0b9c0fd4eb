package cmd

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/spf13/cobra"

	"strandwise/chart"
	"strandwise/cmd/answer"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
	"strandwise/floats"
	"strandwise/session"
)

// yarnOptions are the flags of yarn.
type yarnOptions struct {
	balls, used, lots []string
	gauge             string
	finish            string
	replace           bool
}

func newYarn(a *frame.App) *cobra.Command {
	o := &yarnOptions{finish: session.WetRelaxed.String()}
	c := a.Leaf(frame.Spec{Use: "yarn", Writes: true, JSON: true}, o.run)
	set := c.Flags()
	set.StringArrayVar(&o.balls, "ball", nil, "a ball there is for the piece, `YARN=50g/175m`, or =50g/175m*3 for three, or in ounces and yards; may be given again")
	set.BoolVar(&o.replace, "replace", false, "what --ball tells stands in the place of the balls of those yarns noted before")
	set.StringArrayVar(&o.lots, "lot", nil, "the dye lot of the balls of a yarn noted with it, `YARN=LOT`")
	set.StringArrayVar(&o.used, "used", nil, "what the piece has taken of a yarn so far, `YARN=18g` or =61m or =18g/61m")
	set.StringVar(&o.gauge, "gauge", "", "stitches x rows to estimate with: `22x24/10cm` (default: that of the piece)")
	set.Var(frame.OneOf(&o.finish, finishWords()...), "finish", "what the gauge was measured on: `"+strings.Join(finishWords(), "|")+"`")
	return c
}

func finishWords() []string { return frame.WordsOf(session.Finishes()) }

func (o *yarnOptions) run(a *frame.App, _ []string) error {
	p, more, err := noteYarn(a, o)
	if err != nil {
		return err
	}
	for _, m := range more {
		m.tell(a)
	}
	var gauge floats.Gauge
	if o.gauge != "" {
		if gauge, err = floats.ParseGauge(o.gauge); err != nil {
			return asUsage(err)
		}
	}
	finish, err := session.ParseFinish(o.finish)
	if err != nil {
		return err
	}
	sum, err := p.YarnSum(gauge, finish)
	if none := (*session.NoGaugeError)(nil); errors.As(err, &none) {
		return frame.Refused("%v", err).Hint("strandwise yarn --gauge 22x24/10cm").Hint("strandwise replan --gauge 22x24/10cm, to keep it").Because(err)
	}
	if err != nil {
		return err
	}
	yards, err := inches(a)
	if err != nil {
		return err
	}
	return a.Answer(1, answer.NewYarn(answer.YarnAsked{
		Piece: p.State.Setup.Name, Round: !p.Layout.Fabric.Flat, Yarns: p.Layout.Fabric.Yarns,
		Sum: sum, Supplies: p.Supplies(sum), Yards: yards,
	}))
}

// noteYarn logs the balls and amounts given and returns the piece and which yarns have more
// than one ball by it; nothing given writes nothing.
func noteYarn(a *frame.App, o *yarnOptions) (*stored.Piece, []moreBalls, error) {
	if o.replace && len(o.balls) == 0 {
		return nil, nil, frame.Usage("--replace needs a --ball to put in the place of the others").Hint("strandwise yarn --replace --ball x=50g/175m")
	}
	if len(o.balls)+len(o.used)+len(o.lots) == 0 {
		a.Writes.Store(false)
		p, err := stored.Take(a)
		return p, nil, err
	}
	if o.gauge != "" {
		if _, err := floats.ParseGauge(o.gauge); err != nil {
			return nil, nil, asUsage(err) // before anything is logged
		}
	}
	var more []moreBalls
	p, err := stored.Change(a, func(p *stored.Piece) (events []session.Event, err error) {
		events, more, err = o.events(p)
		return events, err
	})
	return p, more, err
}

// events are the balls, then the amounts used.
func (o *yarnOptions) events(p *stored.Piece) ([]session.Event, []moreBalls, error) {
	yarns := p.Layout.Fabric.Yarns
	balls, err := o.ballEvents(yarns)
	if err != nil {
		return nil, nil, err
	}
	before := ballsNoted(p.State.Balls)
	var first []session.Event
	for _, y := range yarns {
		if o.replace && before[y.Symbol] > 0 && sizedBalls(balls)[y.Symbol] > 0 {
			first = append(first, &session.BallsCleared{Yarn: y.Symbol})
			before[y.Symbol] = 0
		}
	}
	used, err := o.usedEvents(p)
	return slices.Concat(first, balls, used), o.moreBalls(yarns, before, sizedBalls(balls)), err
}

// ballEvents notes each ball with the lot of its yarn; a lot of a yarn without balls
// is noted by itself.
func (o *yarnOptions) ballEvents(yarns []chart.Yarn) ([]session.Event, error) {
	lots, err := o.lotsByYarn(yarns)
	if err != nil {
		return nil, err
	}
	var events []session.Event
	noted := map[rune]bool{}
	for _, text := range o.balls {
		yarn, amount, err := yarnAndRest("ball", "50g/175m", text, yarns)
		if err != nil {
			return nil, err
		}
		grams, meters, times, err := readAmounts("ball", text, amount)
		if err != nil {
			return nil, err
		}
		for range times {
			events = append(events, &session.BallNoted{Yarn: yarn, Grams: grams, Meters: meters, DyeLot: lots[yarn]})
		}
		noted[yarn] = true
	}
	for _, y := range yarns {
		if lot := lots[y.Symbol]; lot != "" && !noted[y.Symbol] {
			events = append(events, &session.BallNoted{Yarn: y.Symbol, DyeLot: lot})
		}
	}
	return events, nil
}

func (o *yarnOptions) usedEvents(p *stored.Piece) ([]session.Event, error) {
	var events []session.Event
	for _, text := range o.used {
		yarn, amount, err := yarnAndRest("used", "18g", text, p.Layout.Fabric.Yarns)
		if err != nil {
			return nil, err
		}
		grams, meters, times, err := readAmounts("used", text, amount)
		switch {
		case err != nil:
			return nil, err
		case times != 1:
			return nil, frame.Usage("--used takes what was used in all, so %q cannot be", text).Hint("one amount: --used %c=18g", yarn)
		case p.State.Row == 0:
			return nil, frame.Refused("no %s is finished yet, so what was used cannot be compared", p.RowWord()).Hint("strandwise knit")
		}
		events = append(events, &session.YarnUsed{Yarn: yarn, Grams: grams, Meters: meters})
	}
	return events, nil
}

func (o *yarnOptions) lotsByYarn(yarns []chart.Yarn) (map[rune]string, error) {
	lots := map[rune]string{}
	for _, text := range o.lots {
		yarn, lot, err := yarnAndRest("lot", "T12", text, yarns)
		if err != nil {
			return nil, err
		}
		lots[yarn] = lot
	}
	return lots, nil
}

// yarnAndRest parts YARN=REST and finds the yarn by symbol or name.
func yarnAndRest(flag, example, text string, yarns []chart.Yarn) (rune, string, error) {
	var word, rest string
	var found bool
	if r, n := utf8.DecodeRuneInString(text); strings.HasPrefix(text[n:], "=") {
		word, rest, found = string(r), text[n+1:], true // the symbol may be an equals sign itself
	} else {
		word, rest, found = strings.Cut(text, "=")
	}
	if !found || rest == "" {
		return 0, "", frame.Usage("--%s takes YARN=%s or the like, not %q", flag, example, text).Hint("--%s %c=%s", flag, yarns[0].Symbol, example)
	}
	names := make([]string, len(yarns))
	for i, y := range yarns {
		if word == string(y.Symbol) || strings.EqualFold(word, y.Name) {
			return y.Symbol, rest, nil
		}
		names[i] = y.Name
	}
	f := frame.Usage("there is no yarn %q", word)
	if near := chart.Nearest(word, names); near != "" {
		return 0, "", f.Hint("--%s %q", flag, near+"="+rest)
	}
	return 0, "", f.Hint("the yarns are %s", session.Listed(symbolsAndNames(yarns), "and"))
}

func symbolsAndNames(yarns []chart.Yarn) []string {
	words := make([]string, len(yarns))
	for i, y := range yarns {
		words[i] = fmt.Sprintf("%c (%s)", y.Symbol, y.Name)
	}
	return words
}

// mostBalls is the most balls noted at once.
const mostBalls = 99

// amountUnits are the units of an amount, the longer of two alike first: how many grams, or
// meters, one is. An ounce is the avoirdupois ounce, a yard the international yard, both by
// definition.
var amountUnits = []struct {
	word   string
	weight bool
	size   float64
}{
	{"yards", false, 0.9144},
	{"yds", false, 0.9144},
	{"yd", false, 0.9144},
	{"y", false, 0.9144},
	{"ounces", true, 28.349523125},
	{"oz", true, 28.349523125},
	{"grams", true, 1},
	{"g", true, 1},
	{"meters", false, 1},
	{"metres", false, 1},
	{"m", false, 1},
}

// readAmounts reads 50g, 175m, 50g/175m or 1.75oz/190yd, with *N for that many balls.
func readAmounts(flag, text, amount string) (grams, meters session.Milli, times int, err error) {
	bad := frame.Usage("--%s %q cannot be read", flag, text).
		Hint("grams, meters or both: 18g, 61.5m, 50g/175m; or ounces and yards: 1.75oz/190yd; a ball may end in *3 for three alike")
	times = 1
	if sizes, count, found := strings.Cut(amount, "*"); found {
		if times, err = strconv.Atoi(strings.TrimSpace(count)); err != nil || times < 1 || times > mostBalls {
			return 0, 0, 0, bad
		}
		amount = sizes
	}
	for _, part := range strings.Split(floats.Typed(amount), "/") {
		to, number, size := &meters, "", 0.0
		for _, u := range amountUnits {
			if rest, is := strings.CutSuffix(part, u.word); is {
				if number, size = rest, u.size; u.weight {
					to = &grams
				}
				break
			}
		}
		n, err := session.ParseMilli(number)
		if size == 0 || *to != 0 || err != nil {
			return 0, 0, 0, bad
		}
		*to = session.Milli(math.Round(float64(n) * size))
	}
	return grams, meters, times, nil
}
