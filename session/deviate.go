package session

import (
	"fmt"
	"slices"
	"strings"

	"strandwise/chart"
	"strandwise/floats"
)

// Otherwise is what was done in a row otherwise than its sheet says, as a knitter
// writes it: lists with commas. Stitches count in knitting order within the repeat,
// from 1. A yarn may stand in front (x:15, oat:15) and a repeat, from 1, behind
// (15@3); without a repeat every repeat is meant.
type Otherwise struct {
	Moved  string // FROM:TO, planned on the one and made on the other
	Missed string // planned and not made
	Extra  string // made and not planned
}

// DeviationError tells that a row cannot have been worked as was said: what is wrong,
// and what to say instead.
type DeviationError struct {
	What string
	Try  string // "--moved 14:16"; may be empty
}

func (e *DeviationError) Error() string { return e.What }

// Otherwise tells how the row to work next was made, when all was done as its sheet shows
// but for what is given. With no row left it is a *FinishedError. A text that cannot be
// read is a *FieldError; a catch that was not planned, and one where the yarn is not
// carried, is a *DeviationError.
func (p *Piece) Otherwise(o Otherwise) (Changes, error) {
	if p.State.Row >= p.Rows() {
		return Changes{}, &FinishedError{Rows: p.Rows(), Round: p.State.round()}
	}
	d := p.deviating(p.State.Row + 1)
	for _, step := range []struct {
		kind, list string
		apply      func(deviationItem) error
	}{
		{"moved", o.Moved, d.move},
		{"missed", o.Missed, d.miss},
		{"extra", o.Extra, d.extra},
	} {
		items, err := readDeviationItems(step.kind, step.list)
		if err != nil {
			return Changes{}, err
		}
		for _, s := range items {
			if err := d.check(s); err != nil {
				return Changes{}, err
			}
			if err := step.apply(s); err != nil {
				return Changes{}, err
			}
		}
	}
	return d.result()
}

// deviating is a row while it is told what was otherwise. Stitches of marks count
// over the whole row.
type deviating struct {
	p        *Piece
	row      int
	r        *floats.Row
	shown    []Mark
	gone     map[Mark]bool // shown and not made
	told     Changes       // so far
	passages []passage     // where yarns are carried behind the row
}

// passage is the part of a float that lies in one row, both ends in.
type passage struct{ yarn, from, to int }

func (p *Piece) deviating(row int) *deviating {
	d := p.passing(row)
	d.shown, d.gone = p.Shown(row), map[Mark]bool{}
	return d
}

// passing is a row with the strands that lie behind it, and nothing told of it yet.
func (p *Piece) passing(row int) *deviating {
	d := &deviating{p: p, row: row, r: p.Row(row)}
	for _, fl := range p.Layout.Fabric.RowFloats(row-1, p.State.Setup.RestLimit) {
		d.passages = append(d.passages, p.passageIn(row, fl))
	}
	return d
}

// passageIn cuts a float to one of its rows.
func (p *Piece) passageIn(row int, fl floats.Float) passage {
	n := p.Row(fl.Row + 1).Stitches()
	end := fl.Stitch + fl.Length - 1
	if fl.Row+1 == row {
		return passage{fl.Yarn, fl.Stitch, min(end, n)}
	}
	return passage{fl.Yarn, 1, end - n}
}

// under finds the float of a yarn that passes behind a stitch; -1 when none does.
func (d *deviating) under(yarn, stitch int) int {
	return slices.IndexFunc(d.passages, func(l passage) bool { return l.yarn == yarn && l.from <= stitch && stitch <= l.to })
}

// check holds an item to the stitches, repeats and yarns there are.
func (d *deviating) check(s deviationItem) error {
	width := d.r.RepeatStitches()
	for _, stitch := range []int{s.stitch, s.to} {
		if stitch > width || stitch == 0 && (stitch == s.stitch || s.kind == "moved") {
			return &DeviationError{What: fmt.Sprintf("%s %s: there is no stitch %d: a repeat of %s has %s",
				s.kind, s.text, stitch, d.name(), plural(width, "stitch"))}
		}
	}
	if s.repeat > d.r.Repeats {
		return &DeviationError{What: fmt.Sprintf("%s %s: there is no repeat %d: %s has %s",
			s.kind, s.text, s.repeat, d.name(), plural(d.r.Repeats, "repeat"))}
	}
	_, err := d.yarn(s)
	return err
}

// yarn finds the yarn of an item by symbol or name; chart.NoYarn when none was said.
func (d *deviating) yarn(s deviationItem) (int, error) {
	if s.yarn == "" {
		return chart.NoYarn, nil
	}
	yarns := d.p.Layout.Fabric.Yarns
	if i := chart.YarnNamed(yarns, s.yarn); i != chart.NoYarn {
		return i, nil
	}
	var names []string
	for _, y := range yarns {
		names = append(names, y.Name)
	}
	near := chart.Nearest(s.yarn, names)
	if near == "" {
		near = strings.Join(names, ", ")
	}
	return chart.NoYarn, &DeviationError{What: fmt.Sprintf("%s %s: the piece has no yarn %s", s.kind, s.text, s.yarn), Try: near}
}

// name is the row in words.
func (d *deviating) name() string { return fmt.Sprintf("%s %d", d.p.rowWord(), d.row) }

// repeats lists the repeats an item is about, from 0.
func (d *deviating) repeats(s deviationItem) (from, to int) {
	if s.repeat > 0 {
		return s.repeat - 1, s.repeat
	}
	return 0, d.r.Repeats
}

// planned finds the catches an item says were planned.
func (d *deviating) planned(s deviationItem) ([]Mark, error) {
	yarn, _ := d.yarn(s)
	var found []Mark
	from, to := d.repeats(s)
	for rep := from; rep < to; rep++ {
		at := rep*d.r.RepeatStitches() + s.stitch
		var here []Mark
		for _, m := range d.shown {
			if m.Stitch == at && (yarn == chart.NoYarn || m.Yarn == yarn) {
				here = append(here, m)
			}
		}
		if len(here) > 1 {
			return nil, d.twoYarns(s, here)
		}
		if len(here) > 0 && d.gone[here[0]] {
			return nil, &DeviationError{What: fmt.Sprintf("%s %s: the catch on stitch %d is told twice", s.kind, s.text, s.stitch)}
		}
		found = append(found, here...)
	}
	if len(found) == 0 {
		return nil, d.unplanned(s)
	}
	return found, nil
}

func (d *deviating) twoYarns(s deviationItem, here []Mark) error {
	symbol := d.p.Layout.Fabric.Yarns[here[0].Yarn].Symbol
	return &DeviationError{
		What: fmt.Sprintf("%s %s: %s and %s are both there; say which", s.kind, s.text, d.p.yarnName(here[0].Yarn), d.p.yarnName(here[1].Yarn)),
		Try:  fmt.Sprintf("--%s %c:%s", s.kind, symbol, s.text),
	}
}

// unplanned says that nothing was planned where an item has it, and names the one that
// the sheet has by that number, else the nearest that was.
func (d *deviating) unplanned(s deviationItem) error {
	e := &DeviationError{What: fmt.Sprintf("no catch is planned on stitch %d of %s", s.stitch, d.name())}
	var tries []string
	if s.repeat > 0 {
		e.What = fmt.Sprintf("no catch is planned on stitch %d of repeat %d of %s", s.stitch, s.repeat, d.name())
	}
	inRun, name := d.inRun(s)
	near, ok := d.nearest(s)
	switch {
	case len(inRun) > 0:
		e.What += fmt.Sprintf("; (%s) counts within its run: it is stitch %s of the repeat", name, numbers(inRun, "or"))
		for _, at := range inRun {
			tries = append(tries, s.instead(at, (s.to+at-s.stitch-1)%d.r.RepeatStitches()+1))
		}
	case !ok && s.kind == "moved":
		e.What, tries = d.name()+" has no catch planned", []string{fmt.Sprintf("--extra %d", s.to)}
	case !ok:
		e.What += "; none is in the " + d.p.rowWord()
	default:
		e.What += fmt.Sprintf("; the nearest is %s on %d", d.p.yarnName(near.Yarn), near.Stitch)
		tries = []string{s.instead(near.Stitch, s.to)}
	}
	e.Try = strings.Join(tries, ", or ")
	return e
}

// inRun lists the stitches of the repeat that the sheet, which counts within a run,
// calls by an item's number, and gives a catch there as it stands in the sheet: a
// knitter may have read the number off it.
func (d *deviating) inRun(s deviationItem) (stitches []int, name string) {
	yarn, _ := d.yarn(s)
	sheet := d.p.Sheet(d.row)
	for _, run := range sheet.Runs {
		for _, c := range run.Catches {
			if c.InRun == s.stitch && (yarn == chart.NoYarn || c.Yarn == yarn) && d.has(s, c) {
				stitches = append(stitches, c.Stitch)
				name = fmt.Sprintf("%s %s %d", d.p.yarnName(c.Yarn), sheet.CatchWord(), c.InRun)
			}
		}
	}
	return stitches, name
}

// has reports whether a catch of the sheet is in a repeat an item is about.
func (d *deviating) has(s deviationItem, c SheetCatch) bool {
	from, to := d.repeats(s)
	for rep := from; rep < to; rep++ {
		if slices.Contains(d.shown, Mark{rep*d.r.RepeatStitches() + c.Stitch, c.Yarn}) {
			return true
		}
	}
	return false
}

// nearest is the planned catch nearest to an item's stitch, counted in the repeat;
// the earlier of two equally near.
func (d *deviating) nearest(s deviationItem) (Mark, bool) {
	width := d.r.RepeatStitches()
	best, least := Mark{}, width+1
	from, to := d.repeats(s)
	yarn, _ := d.yarn(s)
	for _, m := range d.shown {
		rep, at := (m.Stitch-1)/width, (m.Stitch-1)%width+1
		if rep < from || rep >= to || yarn != chart.NoYarn && m.Yarn != yarn {
			continue
		}
		if away := max(at-s.stitch, s.stitch-at); away < least {
			best, least = Mark{at, m.Yarn}, away
		}
	}
	return best, least <= width
}

func (d *deviating) miss(s deviationItem) error {
	marks, err := d.planned(s)
	for _, m := range marks {
		d.gone[m] = true
		d.told.Missed = append(d.told.Missed, m)
	}
	return err
}

func (d *deviating) move(s deviationItem) error {
	if s.to == s.stitch {
		return &DeviationError{What: fmt.Sprintf("moved %s: that is the stitch it was planned on", s.text)}
	}
	marks, err := d.planned(s)
	if err != nil {
		return err
	}
	for _, m := range marks {
		to, err := d.target(s, m)
		if err != nil {
			return err
		}
		d.gone[m] = true
		d.told.Moved = append(d.told.Moved, Move{m, Mark{to, m.Yarn}})
	}
	return nil
}

// target finds the stitch of the row to which a catch was moved: on the same float,
// in the same repeat or, where the float goes on there, in one beside it.
func (d *deviating) target(s deviationItem, m Mark) (int, error) {
	width := d.r.RepeatStitches()
	same := (m.Stitch-1)/width*width + s.to
	float := d.under(m.Yarn, m.Stitch)
	for _, at := range []int{same, same - width, same + width} {
		if found := d.under(m.Yarn, at); found >= 0 && found == float {
			return at, nil
		}
	}
	name := d.p.yarnName(m.Yarn)
	if d.under(m.Yarn, same) < 0 {
		return 0, &DeviationError{What: fmt.Sprintf("%s %s: %s is not carried behind stitch %d of %s", s.kind, s.text, name, s.to, d.name())}
	}
	return 0, &DeviationError{
		What: fmt.Sprintf("%s %s: stitches %d and %d have two different strands of %s behind them; say one was missed and one is extra", s.kind, s.text, s.stitch, s.to, name),
		Try:  fmt.Sprintf("--missed %d --extra %d", s.stitch, s.to),
	}
}

// extra adds a catch in each repeat meant. One over all repeats is left out where no yarn
// is carried: a strand that runs from repeat to repeat lies behind one fewer.
func (d *deviating) extra(s deviationItem) error {
	from, to := d.repeats(s)
	var none error
	found := false
	for rep := from; rep < to; rep++ {
		at := rep*d.r.RepeatStitches() + s.stitch
		if len(d.behind(s, at)) == 0 {
			_, none = d.carried(s, at)
			continue
		}
		found = true
		yarn, err := d.carried(s, at)
		if err != nil {
			return err
		}
		m := Mark{at, yarn}
		if slices.Contains(d.shown, m) && !d.gone[m] || slices.Contains(d.told.come(), m) {
			return &DeviationError{What: fmt.Sprintf("extra %s: a catch of %s is there already; an extra one is one that was not planned", s.text, d.p.yarnName(yarn))}
		}
		d.told.Extra = append(d.told.Extra, m)
	}
	if !found {
		return none
	}
	return nil
}

// behind lists the yarns carried behind a stitch that an item may be about.
func (d *deviating) behind(s deviationItem, at int) []int {
	said, _ := d.yarn(s)
	var yarns []int
	for _, l := range d.passages {
		if l.from <= at && at <= l.to && (said == chart.NoYarn || l.yarn == said) {
			yarns = append(yarns, l.yarn)
		}
	}
	return yarns
}

// carried finds the yarn that an extra catch at a stitch is of.
func (d *deviating) carried(s deviationItem, at int) (int, error) {
	said, _ := d.yarn(s)
	yarns := d.behind(s, at)
	switch {
	case len(yarns) == 1:
		return yarns[0], nil
	case len(yarns) > 1:
		return 0, d.twoYarns(s, []Mark{{at, yarns[0]}, {at, yarns[1]}})
	case said != chart.NoYarn:
		return 0, &DeviationError{What: fmt.Sprintf("extra %s: %s is not carried behind stitch %d of %s", s.text, d.p.yarnName(said), s.stitch, d.name())}
	}
	return 0, &DeviationError{What: fmt.Sprintf("extra %s: no yarn is carried behind stitch %d of %s", s.text, s.stitch, d.name())}
}

// result is all that was told, in order. A catch that was missed and is extra as well was
// made after all.
func (d *deviating) result() (Changes, error) {
	c := d.told
	c.Missed, c.Extra = without(c.Missed, d.told.Extra, Mark.Compare), without(c.Extra, d.told.Missed, Mark.Compare)
	c = c.inOrder()
	made := c.applied(d.shown)
	for i := 1; i < len(made); i++ {
		if made[i] == made[i-1] {
			width := d.r.RepeatStitches()
			return Changes{}, &DeviationError{What: fmt.Sprintf("two catches of %s on stitch %d of repeat %d: one of them is told twice",
				d.p.yarnName(made[i].Yarn), (made[i].Stitch-1)%width+1, (made[i].Stitch-1)/width+1)}
		}
	}
	return c, nil
}
