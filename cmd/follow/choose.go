package follow

import (
	"fmt"
	"slices"

	"strandwise/chart"
	"strandwise/session"
)

type pick struct {
	at     int // into the families of catches
	repeat int // the one repeat meant, from 1; 0 means every one that has the catch
}

// choose begins to choose a catch that was made otherwise, also in a row looked back at.
func (s State) choose() State {
	switch {
	case s.looking():
		work := s.making
		s.aside, s.making = &work, making{catches: asTold(s.piece.Shown(s.row), s.piece.Changes(s.row))}
	case s.ended():
		return s.warn("%s", s.endWords())
	}
	s.pick = s.nearest()
	return s.open(choosing)
}

// nearest is the first catch of the stretch on the screen, or of a later one; by row the first.
func (s State) nearest() pick {
	if s.o.By == ByRow || s.looking() {
		return pick{}
	}
	at, families := s.stretches()[s.step], s.families()
	if len(families) == 0 && s.o.By == ByRepeat && at.block.Number == 0 {
		return pick{repeat: at.repeat} // an extra one is of this repeat too
	}
	start := s.sheet.InPattern(at.from) + 1
	for i, f := range families {
		if in := s.repeatIn(f); f.stitch >= start && (in > 0 || s.o.By != ByRepeat) {
			return pick{i, in}
		}
	}
	return pick{}
}

// repeatIn is the repeat meant by itself: by repeat the one on the screen, if it has the catch.
func (s State) repeatIn(f family) int {
	if s.o.By != ByRepeat || s.looking() {
		return 0
	}
	at := s.stretches()[s.step]
	if f.block.Number != at.block.Number || !slices.Contains(f.repeats, at.repeat) {
		return 0
	}
	return at.repeat
}

// chosen goes back to the row. What was changed in a row below is logged at once.
func (s State) chosen() State {
	corrected := s.corrected()
	s.making, s.aside = s.work(), nil
	if s = s.close(); len(corrected) > 0 {
		s = s.log(corrected...)
	}
	return s
}

// corrected is what the log of a row looked back at would be told, where it says otherwise.
func (s State) corrected() []session.Event {
	if s.aside == nil || slices.Equal(used(s.catches), s.piece.State.DoneRow(s.row).Used) {
		return nil
	}
	return []session.Event{&session.RowCorrected{Row: s.row, Changes: told(s.catches).InOrder()}}
}

func choosingBy(places int) func(State) State {
	return func(s State) State {
		s.pick = s.pickOf(min(len(s.families())-1, max(0, s.pick.at+places)))
		return s
	}
}

// pickOf chooses a family; -1 is none. A repeat that was chosen before stays chosen where it has the catch.
func (s State) pickOf(at int) pick {
	if at < 0 {
		return s.nearest()
	}
	f := s.families()[at]
	if slices.Contains(f.repeats, s.pick.repeat) {
		return pick{at, s.pick.repeat}
	}
	return pick{at, s.repeatIn(f)}
}

func ofCatch(run func(State, family) State) func(State) State {
	return func(s State) State {
		families := s.families()
		if len(families) == 0 {
			return s.warn("%s", s.noCatch())
		}
		return run(s, families[s.pick.at])
	}
}

func (s State) noCatch() string {
	return fmt.Sprintf("this %s has no catch; %s adds one", s.Word(), s.named("x"))
}

func (s State) nextRepeat(f family) State {
	has := append([]int{0}, f.repeats...)
	s.pick.repeat = has[(slices.Index(has, s.pick.repeat)+1)%len(has)]
	return s
}

// inRepeat chooses one repeat by its number; 0 chooses every one that has the catch.
func (s State) inRepeat(repeat int, f family) State {
	if repeat > 0 && !slices.Contains(f.repeats, repeat) {
		return s.warn("repeat %d has no such catch", repeat)
	}
	s.pick.repeat = repeat
	return s
}

func (s State) meant(c catch) bool { return s.pick.repeat == 0 || s.repeatOf(c) == s.pick.repeat }

// missed says that the chosen catches were missed; said again, that they were made as planned
// after all.
func (s State) missed(f family) State {
	made := slices.ContainsFunc(f.members, func(i int) bool { return s.meant(s.catches[i]) && !s.catches[i].missed() })
	return s.alter(f, func(c catch) (catch, error) {
		c.at = session.Mark{}
		if !made {
			c.at = c.plan
		}
		return c, nil
	})
}

// shifted moves the chosen catches along the row, a missed one from its planned stitch.
func shifted(by int) func(State, family) State {
	return func(s State, f family) State {
		return s.alter(f, func(c catch) (catch, error) {
			if c.missed() {
				c.at = c.plan
			}
			c.at.Stitch += by
			return c, s.allows(c.at)
		})
	}
}

func (s State) alter(f family, how func(catch) (catch, error)) State {
	next := slices.Clone(s.catches)
	for _, i := range f.members {
		if !s.meant(next[i]) {
			continue
		}
		var err error
		if next[i], err = how(next[i]); err != nil {
			return s.warn("%v", err)
		}
		if next[i].extra() && !next[i].missed() { // its place goes with it
			f.stitch = s.sheet.InPattern(next[i].at.Stitch) + 1
		}
	}
	return s.changeTo(next, f)
}

// changeTo takes changed catches and keeps the choice on the family known, or where it is gone on
// the one now in its place. An extra one that is taken away again is gone.
func (s State) changeTo(next []catch, known family) State {
	next = slices.DeleteFunc(next, func(c catch) bool { return c.extra() && c.missed() })
	marks := used(next)
	for i := 1; i < len(marks); i++ {
		if marks[i] == marks[i-1] {
			return s.warn("%s is caught there already", s.sheet.Yarns[marks[i].Yarn].Name)
		}
	}
	if slices.Equal(next, s.catches) {
		return s
	}
	s = s.changedTo(next)
	families := s.families()
	at := slices.IndexFunc(families, known.is)
	if at < 0 {
		at = min(s.pick.at, len(families)-1)
	}
	s.pick = s.pickOf(at)
	return s
}

func (s State) allows(m session.Mark) error {
	if m.Stitch < 1 || m.Stitch > s.sheet.Stitches() {
		return fmt.Errorf("that would be outside the %s", s.Word())
	}
	at, name := s.sheet.PlaceOf(m.Stitch).Stitch, s.sheet.Yarns[m.Yarn].Name
	switch {
	case s.sheet.InOrder()[s.sheet.InPattern(m.Stitch)].Yarn == m.Yarn:
		return fmt.Errorf("stitch %d is worked in %s itself, so %[2]s cannot be caught there", at, name)
	case !s.piece.Carried(s.row, m.Stitch, m.Yarn):
		return fmt.Errorf("%s is not carried behind stitch %d", name, at)
	}
	return nil
}

// extra adds a catch in every repeat where it can be: of the yarn of the chosen one, on the nearest later
// stitch; in a row without catches, of the row's other yarn in the middle of the longest run.
func (s State) extra() State {
	start := s.longestRun()
	if families := s.families(); len(families) > 0 {
		start = session.Mark{Stitch: families[s.pick.at].stitch + 1, Yarn: families[s.pick.at].yarn}
	}
	width := len(s.sheet.InOrder())
	for i := range width {
		at := (start.Stitch-1+i)%width + 1
		if added := s.addedAt(session.Mark{Stitch: at, Yarn: start.Yarn}); len(added) > 0 {
			return s.changeTo(append(slices.Clone(s.catches), added...), family{stitch: at, yarn: start.Yarn, extra: true})
		}
	}
	return s.warn("no stitch of this %s is left for another catch", s.Word())
}

// addedAt is the extra catches of a yarn on one stitch of the pattern, from 1, in the repeats
// meant; none where one of them is caught there already.
func (s State) addedAt(at session.Mark) []catch {
	var added []catch
	made := used(s.catches)
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
	m, longest, from := session.Mark{Yarn: chart.NoYarn}, session.Run{}, 1
	for _, b := range s.sheet.Blocks {
		for _, r := range b.Often.Runs {
			if r.Stitches > longest.Stitches {
				longest, m.Stitch = r, from+(r.Stitches-1)/2
			}
			from += r.Stitches
		}
	}
	for _, st := range s.sheet.InOrder() {
		if st.Yarn != longest.Yarn.Index {
			m.Yarn = st.Yarn
			break
		}
	}
	return m
}

// asPlanned takes all changes of the row back at once; undo brings them back.
func (s State) asPlanned() State {
	next := asTold(s.piece.Shown(s.row), session.Changes{})
	if slices.Equal(next, s.catches) {
		return s.say("all catches are as planned")
	}
	s = s.changedTo(next)
	s.pick = s.nearest()
	return s.say("all catches are as planned again")
}

func (s State) takeBack() State {
	if len(s.past) == 0 {
		return s.say("no catch of this %s was changed", s.Word())
	}
	last := len(s.past) - 1
	s.making = making{s.past[last], s.past[:last:last]}
	s.pick = s.nearest()
	return s.say("the last change of a catch was taken back; %s", s.undoesNext())
}

func (s State) undoesNext() string {
	key := s.named("u")
	if len(s.past) > 0 {
		return "a further " + key + " takes back the change before it"
	}
	e, ok := s.piece.State.Entry(s.piece.State.CanUndo)
	if !ok {
		return "nothing before it can be undone"
	}
	if s.mode == choosing {
		return fmt.Sprintf("back at the %s, %s takes back what was logged last: %s", s.Word(), key, s.piece.Words(e))
	}
	return fmt.Sprintf("a further %s takes back what was logged last: %s", key, s.piece.Words(e))
}
