package follow

import (
	"fmt"
	"slices"
	"time"

	"strandwise/chart"
	"strandwise/session"
)

// pick is which catch of the row is chosen.
type pick struct {
	at     int // into the families of catches
	repeat int // the one repeat meant, from 1; 0 means every one that has the catch
}

// aside is what holds of the row to work while a row below it is corrected.
type aside struct {
	change
	past []change
}

// choose begins to choose a catch that was made otherwise: in the row to work, and while
// looking back in the row on the screen, of which the log is corrected.
func (s State) choose(now time.Time) (State, []Effect) {
	switch {
	case s.looking():
		s.aside = &aside{s.change, s.past}
		s.change, s.past = change{catches: asTold(s.piece.Shown(s.row), s.piece.Changes(s.row))}, nil
		s.pick = pick{}
		return s.open(choosing)
	case s.ended():
		return s.warn(s.endWords()), []Effect{Draw{}}
	}
	s.pick = s.nearest()
	return s.open(choosing)
}

// nearest is the first catch of the stretch on the screen, or of a later one; by row the first.
func (s State) nearest() pick {
	if s.o.By == ByRow || s.looking() {
		return pick{}
	}
	at, families := s.stretchAt(s.sheet, s.step), s.families()
	if len(families) == 0 && s.o.By == ByRepeat && at.block.Number == 0 {
		return pick{repeat: at.repeat} // an extra one is of this repeat too
	}
	start := s.sheet.Pattern(at.from) + 1
	for i, f := range families {
		if in := s.repeatIn(f); f.stitch >= start && (in > 0 || s.o.By != ByRepeat) {
			return pick{i, in}
		}
	}
	return pick{}
}

// repeatIn is the repeat that is meant by itself where a catch is chosen: by repeat the one on
// the screen, if it has the catch; 0 is every one.
func (s State) repeatIn(f family) int {
	if s.o.By != ByRepeat || s.looking() {
		return 0
	}
	at := s.stretchAt(s.sheet, s.step)
	if s.sheet.PatternPlace(f.stitch-1).Block != at.block.Number || !slices.Contains(s.repeatsOf(f), at.repeat) {
		return 0
	}
	return at.repeat
}

func (s State) families() []family { return families(s.catches, s.sheet.Pattern) }

// chosen goes back to the row. What was changed in a row below is logged at once.
func (s State) chosen(now time.Time) (State, []Effect) {
	if s.aside == nil {
		return s.close(now)
	}
	corrected := s.corrected()
	s.change, s.past, s.aside = s.aside.change, s.aside.past, nil
	s, effects := s.close(now)
	if len(corrected) == 0 {
		return s, effects
	}
	return s.log(corrected...)
}

// corrected is what the log of the row on the screen would be told, nothing where it says so
// already or the row to work is on the screen.
func (s State) corrected() []session.Event {
	if s.aside == nil || slices.Equal(used(s.catches), s.piece.State.DoneRow(s.row).Used) {
		return nil
	}
	return []session.Event{&session.RowCorrected{Row: s.row, Changes: told(s.catches).InOrder()}}
}

func (s State) next(time.Time) (State, []Effect) { return s.skip(1) }

func (s State) previous(time.Time) (State, []Effect) { return s.skip(-1) }

// skip chooses the catch that many places on; at either end it stays. A repeat that was chosen
// before stays chosen where it has the catch; else the one on the screen is meant, or every one.
func (s State) skip(by int) (State, []Effect) {
	families := s.families()
	s.pick.at = max(0, min(len(families)-1, s.pick.at+by))
	if len(families) > 0 && !slices.Contains(s.repeatsOf(families[s.pick.at]), s.pick.repeat) {
		s.pick.repeat = s.repeatIn(families[s.pick.at])
	}
	return s, []Effect{Draw{}}
}

// repeats goes on from every repeat to the first that has the catch, and so on.
func (s State) repeats(time.Time) (State, []Effect) {
	families := s.families()
	if len(families) == 0 {
		return s.nothingChosen()
	}
	has := s.repeatsOf(families[s.pick.at])
	at := slices.Index(has, s.pick.repeat) + 1 // every repeat stands before the first
	s.pick.repeat = 0
	if at < len(has) {
		s.pick.repeat = has[at]
	}
	return s, []Effect{Draw{}}
}

func (s State) repeatsOf(f family) []int {
	var repeats []int
	for _, i := range f.members {
		repeats = append(repeats, s.repeatOf(s.catches[i]))
	}
	return repeats
}

func (s State) later(time.Time) (State, []Effect) { return s.shift(1) }

func (s State) earlier(time.Time) (State, []Effect) { return s.shift(-1) }

// missed says that the chosen catches were missed; said again, that they were made as planned
// after all.
func (s State) missed(time.Time) (State, []Effect) {
	families := s.families()
	again := len(families) > 0
	if again {
		for _, i := range families[s.pick.at].members {
			meant := s.pick.repeat == 0 || s.repeatOf(s.catches[i]) == s.pick.repeat
			again = again && (!meant || s.catches[i].missed())
		}
	}
	return s.alter(func(c catch) (catch, error) {
		c.at = session.Mark{}
		if again {
			c.at = c.plan
		}
		return c, nil
	})
}

// inRepeat chooses one repeat by its number; 0 chooses every one that has the catch.
func (s State) inRepeat(repeat int) (State, []Effect) {
	families := s.families()
	switch {
	case len(families) == 0:
		return s.nothingChosen()
	case repeat > 0 && !slices.Contains(s.repeatsOf(families[s.pick.at]), repeat):
		return s.warn(fmt.Sprintf("repeat %d has no such catch", repeat)), []Effect{Draw{}}
	}
	s.pick.repeat = repeat
	return s, []Effect{Draw{}}
}

func (s State) everyRepeat(time.Time) (State, []Effect) { return s.inRepeat(0) }

func (s State) firstRepeat(time.Time) (State, []Effect) {
	return s.repeatAt(func(has []int) int { return slices.Min(has) })
}

func (s State) lastRepeat(time.Time) (State, []Effect) {
	return s.repeatAt(func(has []int) int { return slices.Max(has) })
}

// repeatAt chooses one of the repeats that have the catch.
func (s State) repeatAt(which func(has []int) int) (State, []Effect) {
	families := s.families()
	if len(families) == 0 {
		return s.nothingChosen()
	}
	return s.inRepeat(which(s.repeatsOf(families[s.pick.at])))
}

// shift moves the chosen catches along the row. A missed one comes back on its
// planned stitch first.
func (s State) shift(by int) (State, []Effect) {
	return s.alter(func(c catch) (catch, error) {
		from := c.at
		if c.missed() {
			from = c.plan
		}
		to := session.Mark{Stitch: from.Stitch + by, Yarn: from.Yarn}
		c.at = to
		return c, s.allows(to)
	})
}

// alter changes the chosen catches, all of them or none.
func (s State) alter(how func(catch) (catch, error)) (State, []Effect) {
	families := s.families()
	if len(families) == 0 {
		return s.nothingChosen()
	}
	known, next := families[s.pick.at], slices.Clone(s.catches)
	for _, i := range known.members {
		if s.pick.repeat != 0 && s.repeatOf(next[i]) != s.pick.repeat {
			continue
		}
		var err error
		if next[i], err = how(next[i]); err != nil {
			return s.warn(err.Error()), []Effect{Draw{}}
		}
		if next[i].extra() && !next[i].missed() { // its place goes with it
			known.stitch = s.sheet.Pattern(next[i].at.Stitch) + 1
		}
	}
	return s.changeTo(next, known)
}

func (s State) repeatOf(c catch) int { return inRow{s.sheet}.repeat(c.home().Stitch) }

// changeTo takes changed catches and keeps the choice on the family known. An extra
// one that is taken away again is gone.
func (s State) changeTo(next []catch, known family) (State, []Effect) {
	next = slices.DeleteFunc(next, func(c catch) bool { return c.extra() && c.missed() })
	if clash, ok := twice(next); ok {
		return s.warn(fmt.Sprintf("%s is caught there already", s.sheet.Yarns[clash.Yarn].Name)), []Effect{Draw{}}
	}
	if slices.Equal(next, s.catches) {
		return s, []Effect{Draw{}}
	}
	s = s.changedTo(next)
	s.pick = s.find(known)
	return s, []Effect{Draw{}}
}

// find chooses a family, or where it is gone the one now in its place.
func (s State) find(known family) pick {
	families := s.families()
	at := slices.IndexFunc(families, func(f family) bool {
		return f.stitch == known.stitch && f.yarn == known.yarn && f.extra == known.extra
	})
	if at < 0 {
		at = max(0, min(s.pick.at, len(families)-1))
		if len(families) == 0 {
			return s.nearest()
		}
	}
	if !slices.Contains(s.repeatsOf(families[at]), s.pick.repeat) {
		return pick{at, s.repeatIn(families[at])}
	}
	return pick{at, s.pick.repeat}
}

// twice finds a mark that stands twice among the catches made.
func twice(catches []catch) (session.Mark, bool) {
	marks := used(catches)
	for i := 1; i < len(marks); i++ {
		if marks[i] == marks[i-1] {
			return marks[i], true
		}
	}
	return session.Mark{}, false
}

// allows reports why a catch cannot have been made on a stitch.
func (s State) allows(m session.Mark) error {
	if m.Stitch < 1 || m.Stitch > s.sheet.Total {
		return fmt.Errorf("that would be outside the %s", s.word())
	}
	at, name := inRow{s.sheet}.place(m.Stitch).Stitch, s.sheet.Yarns[m.Yarn].Name
	switch {
	case s.sheet.Order[s.sheet.Pattern(m.Stitch)].Yarn == m.Yarn:
		return fmt.Errorf("stitch %d is worked in %s itself, so %[2]s cannot be caught there", at, name)
	case !s.piece.Carried(s.row, m.Stitch, m.Yarn):
		return fmt.Errorf("%s is not carried behind stitch %d", name, at)
	}
	return nil
}

// extra adds a catch: of the yarn of the chosen one, on the nearest later stitch
// where it can be; in a row without catches, of the row's other yarn in the middle of
// the longest run. It is added in every repeat where the yarn is carried there.
func (s State) extra(time.Time) (State, []Effect) {
	start := s.longestRun()
	if families := s.families(); len(families) > 0 {
		start = session.Mark{Stitch: families[s.pick.at].stitch + 1, Yarn: families[s.pick.at].yarn}
	}
	width := len(s.sheet.Order)
	for i := range width {
		at := (start.Stitch-1+i)%width + 1
		if added := s.addedAt(session.Mark{Stitch: at, Yarn: start.Yarn}); len(added) > 0 {
			return s.changeTo(append(slices.Clone(s.catches), added...), family{stitch: at, yarn: start.Yarn, extra: true})
		}
	}
	return s.warn(fmt.Sprintf("no stitch of this %s is left for another catch", s.word())), []Effect{Draw{}}
}

// addedAt is the extra catches of a yarn on one stitch of the pattern, from 1, in the repeats
// meant; none where one of them is caught there already.
func (s State) addedAt(at session.Mark) []catch {
	var added []catch
	made := s.Used()
	place := s.sheet.PatternPlace(at.Stitch - 1)
	for rep := range s.sheet.Block(place.Block).Repeats {
		place.Repeat = rep + 1
		m := session.Mark{Stitch: s.sheet.StitchAt(place), Yarn: at.Yarn}
		switch {
		case at.Yarn == chart.NoYarn || s.pick.repeat != 0 && s.pick.repeat != rep+1:
		case slices.Contains(made, m):
			return nil
		case s.allows(m) == nil:
			added = append(added, catch{at: m})
		}
	}
	return added
}

// longestRun is the middle of the longest run and a yarn carried behind it; without
// another yarn in the row the yarn is chart.NoYarn.
func (s State) longestRun() session.Mark {
	m, longest, from := session.Mark{Yarn: chart.NoYarn}, 0, 1
	for _, b := range s.sheet.Blocks {
		for _, r := range b.Often.Runs {
			if r.Stitches > longest {
				longest = r.Stitches
				m = session.Mark{Stitch: from + (r.Stitches-1)/2, Yarn: s.otherYarn(r.Yarn)}
			}
			from += r.Stitches
		}
	}
	return m
}

func (s State) otherYarn(than int) int {
	for _, st := range s.sheet.Order {
		if st.Yarn != than {
			return st.Yarn
		}
	}
	return chart.NoYarn
}

// asPlanned takes all changes of the row back at once; undo brings them back.
func (s State) asPlanned(time.Time) (State, []Effect) {
	next := planned(s.piece.Shown(s.row))
	if slices.Equal(next, s.catches) {
		return s.say("all catches are as planned"), []Effect{Draw{}}
	}
	s = s.changedTo(next)
	s.pick = s.nearest()
	return s.say("all catches are as planned again"), []Effect{Draw{}}
}

// takeBack undoes the latest change of a catch.
func (s State) takeBack(time.Time) (State, []Effect) {
	if len(s.past) == 0 {
		return s.say("no catch of this " + s.word() + " was changed"), []Effect{Draw{}}
	}
	last := len(s.past) - 1
	s.change, s.past = s.past[last], s.past[:last:last]
	s.pick = s.nearest()
	return s.say("the last change of a catch was taken back; " + s.undoesNext()), []Effect{Draw{}}
}

// undoesNext tells what undo would take back now, while the row is on the screen.
func (s State) undoesNext() string {
	key := s.named("u")
	if len(s.past) > 0 {
		return key + " again takes back the change before it"
	}
	e, ok := s.piece.State.Entry(s.piece.State.CanUndo)
	if !ok {
		return "nothing before it can be undone"
	}
	if s.mode == choosing {
		return fmt.Sprintf("back at the %s, %s takes back what was logged last: %s", s.word(), key, s.piece.Words(e))
	}
	return fmt.Sprintf("%s again takes back what was logged last: %s", key, s.piece.Words(e))
}

func (s State) nothingChosen() (State, []Effect) {
	return s.warn(fmt.Sprintf("this %s has no catch; x adds one", s.word())), []Effect{Draw{}}
}
