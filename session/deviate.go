package session

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"strandwise/chart"
	"strandwise/floats"
)

// Otherwise tells how the row to work next, which there must be, was made: as its sheet shows but for what is
// given. A text that cannot be read is a *FieldError, what cannot have been so a *RefusedError.
func (p *Piece) Otherwise(o Otherwise) (Changes, error) {
	return p.deviating(p.State.Row + 1).tell(o)
}

// Corrected gives the event that a finished row was caught otherwise than its log says. What is not named
// stays as it was logged; a+0 says that a catch was made as shown after all, and --missed takes an extra
// catch by its stitch. Errors are those of Otherwise and of a row that is not finished.
func (p *Piece) Corrected(row int, o Otherwise) (*RowCorrected, error) {
	e := &RowCorrected{Row: row}
	if err := p.State.Check(e); err != nil {
		return nil, err
	}
	d := p.deviating(row)
	d.correcting, d.told = true, p.Changes(row).InOrder() // of its own
	d.look = fmt.Sprintf("strandwise show --row %d, for its letters", row)
	c, err := d.tell(o)
	if err != nil {
		return nil, err
	}
	e.Changes = c.InOrder()
	if slices.Equal(e.Changes.applied(d.shown), p.State.DoneRow(row).Used) {
		return nil, refuse("the log already says so of %s", d.name()).instead("strandwise show --row %d", row)
	}
	return e, nil
}

// deviating is a row while it is told what was otherwise.
type deviating struct {
	*shownRow
	correcting bool          // the row is finished, and told what its log has otherwise
	named      map[Mark]bool // catches shown that an item was about
	told       Changes       // so far
	look       string        // what to do where something is refused, unless the refusal knows better
	passages
}

func (p *Piece) deviating(row int) *deviating {
	return &deviating{
		shownRow: p.rowShown(row), named: map[Mark]bool{}, passages: p.passages(row), look: "strandwise show, for the catches as planned",
	}
}

func (d *deviating) tell(o Otherwise) (Changes, error) {
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
			if err := step.apply(s); err != nil {
				return Changes{}, err
			}
		}
	}
	return d.result()
}

func (d *deviating) wrong(s deviationItem, format string, args ...any) *RefusedError {
	return refuse("%s %s: "+format, append([]any{s.kind, s.text}, args...)...).instead("%s", d.look)
}

// stitches lists the stitches over the whole row that an item is about: one in each repeat of a
// block, or in that which is named. There must be such a stitch in a repeat of the block.
func (d *deviating) stitches(s deviationItem, block, stitch int) ([]int, error) {
	b := d.Block(block)
	if s.Repeat > b.Repeats {
		return nil, d.wrong(s, "there is no repeat %d%s: %s has %s", s.Repeat, ofBlock(d.Course, b), d.name(), plural(b.Repeats, "repeat"))
	}
	var all []int
	for rep := range b.Repeats {
		if s.Repeat == 0 || rep+1 == s.Repeat {
			all = append(all, b.First+rep*b.Stitches+stitch)
		}
	}
	return all, nil
}

// lettered finds the catches shown that an item names, and takes them out of what was told so far.
func (d *deviating) lettered(s deviationItem) ([]Mark, error) {
	at := slices.IndexFunc(d.Letters, func(c Catch) bool { return c.Letter == s.letter })
	if at < 0 {
		return nil, d.unknown(s)
	}
	l := d.Letters[at]
	var found []Mark
	stitches, err := d.stitches(s, l.Block, l.Stitch)
	if err != nil {
		return nil, err
	}
	for _, at := range stitches {
		m := Mark{at, l.Yarn.Index}
		if !slices.Contains(d.shown, m) {
			continue
		}
		if d.named[m] {
			return nil, d.wrong(s, "catch %s is listed twice", l.Letter)
		}
		d.named[m] = true
		found = append(found, m)
	}
	if len(found) == 0 {
		return nil, d.wrong(s, "repeat %d%s of %s has no catch %s", s.Repeat, ofBlock(d.Course, d.Block(l.Block)), d.name(), l.Letter)
	}
	for _, m := range found {
		d.told.Missed = slices.DeleteFunc(d.told.Missed, func(o Mark) bool { return o == m })
		d.told.Moved = slices.DeleteFunc(d.told.Moved, func(o Move) bool { return o.From == m })
	}
	return found, nil
}

func (d *deviating) unknown(s deviationItem) error {
	if len(d.Letters) == 0 {
		return d.wrong(s, "%s has no catches", d.name())
	}
	names := make([]string, len(d.Letters))
	for i, l := range d.Letters {
		names[i] = fmt.Sprintf("%s (%s, %s)", l.Letter, l.Yarn.Name, StitchName(floats.Place{Block: l.Block, Stitch: l.Stitch}))
	}
	list := fmt.Sprintf("%s has %s", d.name(), Listed(names, "and"))
	if s.letter != "" {
		return d.wrong(s, "there is no catch %s; %s", s.letter, list)
	}
	e := d.wrong(s, "a catch is named by its letter; %s", list)
	for _, l := range d.Letters {
		switch here := l.Stitch == s.Stitch && (s.Block == 0 || s.Block == l.Block); {
		case here && s.kind == "moved":
			return e.instead("--moved %s+1 for one stitch later, %[1]s-1 for one earlier", l.Letter)
		case here:
			return e.instead("--%s %s", s.kind, l.Letter)
		}
	}
	return e
}

func (d *deviating) miss(s deviationItem) error {
	if s.letter != "" || !d.correcting {
		marks, err := d.lettered(s)
		d.told.Missed = append(d.told.Missed, marks...)
		return err
	}
	if s.Block == 0 && len(d.Blocks) > 1 { // else it is an extra catch of the log
		return d.whichBlock(s)
	}
	before := len(d.told.Extra)
	d.told.Extra = slices.DeleteFunc(d.told.Extra, func(m Mark) bool {
		at := d.PlaceOf(m.Stitch)
		return at.Stitch == s.Stitch && at.Block == s.Block && (s.Repeat == 0 || at.Repeat == s.Repeat)
	})
	if len(d.told.Extra) == before {
		return d.unknown(s)
	}
	return nil
}

func (d *deviating) move(s deviationItem) error {
	if s.letter != "" && s.by == 0 && !d.correcting {
		return d.wrong(s, "that is the stitch it was planned on")
	}
	marks, err := d.lettered(s)
	if err != nil {
		return err
	}
	for _, m := range marks {
		to := Mark{m.Stitch + s.by, m.Yarn}
		if found := d.under(m.Yarn, to.Stitch); found < 0 || found != d.under(m.Yarn, m.Stitch) {
			return d.offStrand(s, m, to.Stitch)
		}
		if s.by != 0 {
			d.told.Moved = append(d.told.Moved, Move{m, to})
		}
	}
	return nil
}

func (d *deviating) offStrand(s deviationItem, m Mark, to int) error {
	name := d.piece.yarnName(m.Yarn)
	switch {
	case to < 1 || to > d.Stitches():
		return d.wrong(s, "that would be outside the %s", d.piece.rowWord())
	case d.under(m.Yarn, to) < 0:
		return d.wrong(s, "%s is not carried behind %s of %s", name, placeWords(d.Course, to), d.name())
	}
	e := d.wrong(s, "another strand of %s is behind %s; say one was missed and one is extra", name, placeWords(d.Course, to))
	from, at := d.PlaceOf(m.Stitch), d.PlaceOf(to)
	return e.instead("--missed %s@%d --extra %s@%d", s.letter, from.Repeat, shortPlace(at), at.Repeat)
}

func (d *deviating) whichBlock(s deviationItem) error {
	return d.wrong(s, "%s has %s: say which", d.name(), plural(len(d.Blocks), "block")).instead("--%s %s", s.kind, s.inBlock(2))
}

// extra adds a catch in each repeat meant. One over all repeats is left out where no yarn
// is carried: a strand that runs from repeat to repeat lies behind one fewer.
func (d *deviating) extra(s deviationItem) error {
	b := d.Block(s.Block)
	switch {
	case b == nil && s.Block == 0:
		return d.whichBlock(s)
	case b == nil:
		return d.wrong(s, "there is no block %d: %s has %s", s.Block, d.name(), plural(len(d.Blocks), "block"))
	case s.Stitch < 1 || s.Stitch > b.Stitches:
		return d.wrong(s, "there is no stitch %d: a repeat%s of %s has %s", s.Stitch, ofBlock(d.Course, b), d.name(), plural(b.Stitches, "stitch"))
	}
	said, err := d.yarn(s)
	if err != nil {
		return err
	}
	stitches, err := d.stitches(s, s.Block, s.Stitch)
	if err != nil {
		return err
	}
	before := len(d.told.Extra)
	for _, at := range stitches {
		yarns := d.behind(said, at)
		if len(yarns) == 0 {
			continue
		}
		m := Mark{at, yarns[0]}
		if len(yarns) > 1 {
			e := d.wrong(s, "%s and %s are both there; say which", d.piece.yarnName(m.Yarn), d.piece.yarnName(yarns[1]))
			return e.instead("--%s %c:%s", s.kind, d.piece.Layout.Fabric.Yarns[m.Yarn].Symbol, s.text)
		}
		if slices.Contains(d.told.applied(d.shown), m) {
			return d.wrong(s, "%s is caught there already; an extra catch is one that was not planned", d.piece.yarnName(m.Yarn))
		}
		d.told.Extra = append(d.told.Extra, m)
	}
	if len(d.told.Extra) > before {
		return nil
	}
	yarn, where := "no yarn is", StitchName(floats.Place{Block: s.Block, Stitch: s.Stitch})
	if said != chart.NoYarn {
		yarn = d.piece.yarnName(said) + " is not"
	}
	return d.wrong(s, "%s carried behind %s of %s", yarn, where, d.name())
}

// yarn finds the yarn of an item by symbol or name; chart.NoYarn when none was said.
func (d *deviating) yarn(s deviationItem) (int, error) {
	if s.yarn == "" {
		return chart.NoYarn, nil
	}
	if i := chart.YarnNamed(d.piece.Layout.Fabric.Yarns, s.yarn); i != chart.NoYarn {
		return i, nil
	}
	names := d.piece.yarnNames()
	return chart.NoYarn, d.wrong(s, "the piece has no yarn %s", s.yarn).instead("%s", cmp.Or(chart.Nearest(s.yarn, names), strings.Join(names, ", ")))
}

// result is all that was told. A catch that was missed and is extra as well was made after all.
func (d *deviating) result() (Changes, error) {
	c := d.told
	c.Missed, c.Extra = without(c.Missed, d.told.Extra, Mark.Compare), without(c.Extra, d.told.Missed, Mark.Compare)
	c = c.InOrder()
	made := c.applied(d.shown)
	for i := 1; i < len(made); i++ {
		if made[i] == made[i-1] {
			return Changes{}, refuse("%s would be caught twice at %s", d.piece.yarnName(made[i].Yarn), placeWords(d.Course, made[i].Stitch)).instead("%s", d.look)
		}
	}
	return c, nil
}
