package cmd

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/spf13/cobra"

	"strandwise/chart"
	"strandwise/cmd/answer"
	"strandwise/cmd/document"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
	"strandwise/floats"
	"strandwise/session"
)

type yarnOptions struct {
	balls, used, lots []string
	gauge             floats.Gauge // zero where none is given
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
	set.Func("gauge", "stitches x rows to estimate with: `22x24/10cm` (default: that of the piece)", readInto(&o.gauge, floats.ParseGauge))
	set.Var(frame.OneOf(&o.finish, finishWords...), "finish", "what the gauge was measured on: `"+strings.Join(finishWords, "|")+"`")
	return c
}

var finishWords = frame.WordsOf(session.Finishes())

func (o *yarnOptions) run(a *frame.App, _ []string) error {
	if o.replace && len(o.balls) == 0 {
		return frame.Usage("--replace needs a --ball to put in the place of the others").Hint("strandwise yarn --replace --ball x=50g/175m")
	}
	var before []session.BallNoted
	var balls []amount
	asked := len(o.balls)+len(o.used)+len(o.lots) > 0
	p, err := stored.ChangeIf(a, asked, func(p *stored.Piece) (events []session.Event, err error) {
		before = p.State.Balls
		balls, events, err = o.events(p)
		return events, err
	})
	if err != nil {
		return err
	}
	for _, y := range p.Layout.Fabric.Yarns {
		o.tellMore(a, y, balls, ballsNoted(before, y.Symbol), ballsNoted(p.State.Balls, y.Symbol))
	}
	sum, err := p.YarnSum(o.gauge, session.ParseFinish(o.finish)) // the flag takes no other words
	if _, none := errors.AsType[*session.NoGaugeError](err); none {
		return frame.Refused("%v", err).Hint("strandwise yarn --gauge 22x24/10cm").Hint("strandwise replan --gauge 22x24/10cm, to keep it").Because(err)
	}
	if err != nil {
		return err
	}
	return a.Answer(1, answer.NewYarn(p.Piece, sum, inches(a)))
}

// tellMore tells that a yarn has more than one ball now, which may not have been meant.
func (o *yarnOptions) tellMore(a *frame.App, y chart.Yarn, balls []amount, before, now int) {
	named := slices.DeleteFunc(slices.Clone(balls), func(b amount) bool { return b.yarn != y.Symbol })
	switch {
	case len(named) > 0 && before > 0 && !o.replace:
		a.Notice("%s had %s noted before, and has %d now.", y.Name, document.Counted(before, "ball"), now)
		a.Try("strandwise yarn --replace --ball " + frame.InShell(named[len(named)-1].text) + ", if that is all there is")
	case len(named) > 1:
		a.Notice("%s has %s now.", y.Name, document.Counted(now, "ball"))
	}
}

// events have balls, each with the lot of its yarn, then lots without balls, then amounts used.
func (o *yarnOptions) events(p *stored.Piece) (balls []amount, events []session.Event, err error) {
	yarns := p.Layout.Fabric.Yarns
	lots := map[rune]string{}
	for _, text := range o.lots {
		yarn, lot, err := yarnAndRest("lot", "T12", text, yarns)
		if err != nil {
			return nil, nil, err
		}
		lots[yarn] = lot
	}
	if balls, err = readAmounts("ball", "50g/175m", o.balls, yarns); err != nil {
		return nil, nil, err
	}
	var cleared, noted []session.Event
	for _, b := range balls {
		for range b.balls {
			noted = append(noted, &session.BallNoted{Yarn: b.yarn, Grams: b.grams, Meters: b.meters, DyeLot: lots[b.yarn]})
		}
	}
	for _, y := range yarns {
		named := slices.ContainsFunc(balls, func(b amount) bool { return b.yarn == y.Symbol })
		switch {
		case !named && lots[y.Symbol] != "":
			noted = append(noted, &session.BallNoted{Yarn: y.Symbol, DyeLot: lots[y.Symbol]})
		case named && o.replace && ballsNoted(p.State.Balls, y.Symbol) > 0:
			cleared = append(cleared, &session.BallsCleared{Yarn: y.Symbol})
		}
	}
	used, err := o.usedEvents(p)
	return balls, slices.Concat(cleared, noted, used), err
}

// ballsNoted counts the balls of a yarn; what tells a dye lot only is none.
func ballsNoted(balls []session.BallNoted, yarn rune) (n int) {
	for _, b := range balls {
		if b.Yarn == yarn && (b.Grams > 0 || b.Meters > 0) {
			n++
		}
	}
	return n
}

func (o *yarnOptions) usedEvents(p *stored.Piece) (events []session.Event, err error) {
	used, err := readAmounts("used", "18g", o.used, p.Layout.Fabric.Yarns)
	for _, u := range used {
		switch {
		case u.balls != 1:
			return nil, frame.Usage("--used takes what was used in all, so %q cannot be", u.text).Hint("one amount: --used %c=18g", u.yarn)
		case p.State.Row == 0:
			return nil, frame.Refused("no %s is finished yet, so what was used cannot be compared", p.RowWord()).Hint("strandwise knit")
		}
		events = append(events, &session.YarnUsed{Yarn: u.yarn, Grams: u.grams, Meters: u.meters})
	}
	return events, err
}

func yarnAndRest(flag, example, text string, yarns []chart.Yarn) (rune, string, error) {
	word, rest, _ := strings.Cut(text, "=")
	if r, n := utf8.DecodeRuneInString(text); strings.HasPrefix(text[n:], "=") {
		word, rest = string(r), text[n+1:] // the symbol may be an equals sign itself
	}
	if rest == "" {
		meant := yarns[max(0, chart.YarnNamed(yarns, word))].Symbol
		return 0, "", frame.Usage("--%s takes YARN=%s or the like, not %q", flag, example, text).Hint("--%s %c=%s", flag, meant, example)
	}
	if i := chart.YarnNamed(yarns, word); i != chart.NoYarn {
		return yarns[i].Symbol, rest, nil
	}
	f := frame.Usage("there is no yarn %q", word)
	if near := chart.Nearest(word, listOf(yarns, func(y chart.Yarn) string { return y.Name })); near != "" {
		return 0, "", f.Hint("--%s %q", flag, near+"="+rest)
	}
	known := listOf(yarns, func(y chart.Yarn) string { return fmt.Sprintf("%c (%s)", y.Symbol, y.Name) })
	return 0, "", f.Hint("the yarns are %s", session.Listed(known, "and"))
}

const mostBalls = 99

var sizeForm = regexp.MustCompile(`^([^a-z]+)(g|grams|oz|ounces|m|meters|metres|y|yds?|yards)$`)

// An ounce is the avoirdupois ounce, a yard the international yard, both by definition.
const (
	gramsAnOunce = 28.349523125
	metersAYard  = 0.9144
)

// amount is what a value of --ball or --used says; grams and meters are of one ball.
type amount struct {
	yarn          rune
	grams, meters session.Milli
	balls         int
	text          string // as it was given
}

// readAmounts reads YARN= followed by 50g, 175m, 50g/175m or 1.75oz/190yd, with *N for that many balls.
func readAmounts(flag, example string, texts []string, yarns []chart.Yarn) (amounts []amount, err error) {
	for _, text := range texts {
		read := amount{balls: 1, text: text}
		var sizes string
		if read.yarn, sizes, err = yarnAndRest(flag, example, text, yarns); err != nil {
			return nil, err
		}
		if !read.read(sizes) {
			return nil, frame.Usage("--%s %q cannot be read", flag, text).
				Hint("grams, meters or both: 18g, 61.5m, 50g/175m; or ounces and yards: 1.75oz/190yd; a ball may end in *3 for three alike")
		}
		amounts = append(amounts, read)
	}
	return amounts, nil
}

func (m *amount) read(text string) bool {
	if sizes, count, found := strings.Cut(text, "*"); found {
		var err error
		if m.balls, err = strconv.Atoi(strings.TrimSpace(count)); err != nil || m.balls < 1 || m.balls > mostBalls {
			return false
		}
		text = sizes
	}
	for size := range strings.SplitSeq(floats.Typed(text), "/") {
		unit := sizeForm.FindStringSubmatch(size)
		if unit == nil {
			return false
		}
		n, err := session.ParseMilli(unit[1])
		to, each := &m.meters, 1.0
		switch unit[2][0] {
		case 'g':
			to = &m.grams
		case 'o':
			to, each = &m.grams, gramsAnOunce
		case 'y':
			each = metersAYard
		}
		if *to != 0 || err != nil {
			return false
		}
		*to = session.Milli(math.Round(float64(n) * each))
	}
	return true
}
