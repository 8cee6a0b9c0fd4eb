package follow

import (
	"slices"
	"strings"
	"time"

	"strandwise/cmd/answer"
	"strandwise/cmd/document"
	"strandwise/cmd/paint"
	"strandwise/session"
)

// Scene is a state as a page shows it.
type Scene struct {
	Document  document.Document // what the sitting is about
	Sayings   document.Document // what the last press did, and what else there is to say
	Aloud     []string          // the row or the stretch to work, as it is heard
	Offers    []Offer
	Choosing  bool     // a catch is chosen
	Choices   []string // the catches of the row; those below are about one of them
	Chosen    int      // into Choices
	Scope     string   // in which repeats a change is made
	Repeat    int      // which of them, from 1; 0 for every one
	Repeats   []int    // those that have the chosen catch
	Motions   document.Document
	NewMotion bool           // one of them is not known yet
	Caught    map[string]int // by the sign under a stitch: the yarn that is caught there
}

// Offer is a key that does something now.
type Offer struct {
	Key   Key
	Label string // what it does in a word or two; empty where it has no button
	Main  bool   // it goes on
}

// Scene lays the state out for a page.
func (s State) Scene(look paint.Look) Scene {
	heard := look
	heard.Plain = true
	scene := Scene{
		Document: s.document(look, room{page: true, laid: true, under: s.finished(pageRows)}), Sayings: s.sayings(true), Aloud: s.matter(heard),
		Offers: s.offers(), Choosing: s.mode == choosing, Chosen: s.pick.at, Repeat: s.pick.repeat,
	}
	if s.sheet != nil {
		scene.Caught = map[string]int{}
		for _, l := range s.sheet.Letters {
			scene.Caught[answer.Sign(s.sheet.Yarns, l.Letter)] = l.Yarn.Index
		}
	}
	if families := s.families(); scene.Choosing && len(families) > 0 {
		for _, f := range families {
			scene.Choices = append(scene.Choices, s.familyWords(f))
		}
		scene.Scope, scene.Repeats = s.scope(families[s.pick.at]), families[s.pick.at].repeats
	}
	if s.sheet != nil && s.mode == knitting {
		for i := range s.sheet.Motions {
			m := &s.sheet.Motions[i]
			scene.Motions.Blocks = append(append(scene.Motions.Blocks, answer.MotionBlocks(s.sheet, m, true)...), answer.MotionPicture(s.sheet, m))
		}
		scene.NewMotion = slices.ContainsFunc(s.sheet.Motions, func(m session.SheetMotion) bool { return !m.Known })
	}
	return scene
}

func (s State) offers() []Offer {
	var offers []Offer
	for _, b := range s.offered(false) {
		label, first := b.short, len(offers)
		if b.short == "next" {
			label = string(s.o.By) + " done"
		}
		if b.own {
			continue
		}
		for _, k := range b.keys {
			offers = append(offers, Offer{Key: k})
		}
		offers[first].Label, offers[first].Main = strings.Replace(label, "row", s.Word(), 1), slices.Contains(onward, b.short)
	}
	return offers
}

var onward = []string{"next", "go on", "done"}

// pageRows is how many finished rows a page shows below the row.
const pageRows = 4

// Choose chooses a catch by its place among those of the row, from 0, and the repeat meant, from 1; 0
// is every one that has it. It does nothing where no catch is chosen, or there is none such.
func (s State) Choose(at, repeat int, now time.Time) State {
	s = s.at(now)
	if families := s.families(); s.mode == choosing && at >= 0 && at < len(families) {
		s.pick.at = at
		s = s.inRepeat(repeat, families[at])
	}
	return s
}

// Tap takes a key that is offered, by its value, and no other.
func (s State) Tap(value string, now time.Time) State {
	for _, o := range s.offers() {
		if o.Key.Value() == value {
			return s.Press(o.Key, now)
		}
	}
	s.effects = Effects{}
	return s
}

// Note keeps a note on the row on the screen.
func (s State) Note(text string, now time.Time) State {
	s, err := s.at(now).tellNote(text)
	if err != nil {
		return s.warn("%v", err)
	}
	return s
}
