package session

import (
	"fmt"
	"slices"
	"strings"

	"strandwise/chart"
	"strandwise/floats"
)

// The row for a glance is the whole row, each run told in the order in which the hands work
// it, so that it can be read aloud as it stands:
//
//	57, 11 times: 3 oat, 11 fjord (5, catch a, 5), 1 oat
//	repeat 6: 3 oat, 11 fjord (7, catch b, 3), 1 oat
//
// How often stands in front, so that it is never heard as a count of stitches. A weave is
// one of the stitches of its run (5 + 1 + 5 = 11), a twist lies between two: what stands in
// the brackets sums up to the count before them.

// Blocks of a row stand one behind the other, each with how often it is worked:
//
//	59: 2 oat; 8 times: 11 fjord (5, catch a, 5), 1 oat; 2 oat

// Glance is some repeats of a row for a glance.
type Glance struct {
	Number  int    // of the row; 0 where the line is about other repeats than most
	Side    string // "wrong side, purl"; empty on the right side
	Often   string // "12 times", "repeat 6", "repeats 1 and 12"; empty where there is but one, or a block each
	Phrases []Phrase
}

// Phrase is one run for a glance.
type Phrase struct {
	Block  int        // number of the block it begins, in rows of several; 0 for other runs
	Often  string     // "8 times": of the block it begins; empty where that is once
	Yarn   int        // of the run
	Lead   string     // "11 fjord"
	Inside []InPhrase // what its brackets hold, broken nowhere else; empty without catches
	Aloud  string     // "11 fjord: 5, catch A on the next, 5"
}

// InPhrase is what stands in the brackets of a phrase between two places where a line may break.
type InPhrase struct {
	Text  string // "5", "catch a"
	After string // a comma, but for the last
	Yarn  int    // the yarn that is caught; chart.NoYarn for stitches
}

// Goes is what stands in the brackets: "5, catch a, 5"; empty without catches.
func (p Phrase) Goes() string {
	return strings.Join(mapped(p.Inside, func(in InPhrase) string { return in.Text + in.After }), " ")
}

// Text is the phrase as it stands in a line.
func (p Phrase) Text() string {
	text := p.Lead
	if len(p.Inside) > 0 {
		text += " (" + p.Goes() + ")"
	}
	if p.Often != "" {
		return p.Often + ": " + text
	}
	return text
}

// Head is what stands before the first run: "57, 12 times:".
func (g Glance) Head() string {
	var parts []string
	if g.Number > 0 {
		parts = append(parts, fmt.Sprint(g.Number))
	}
	if g.Side != "" {
		parts[0] += " (" + g.Side + ")"
	}
	if g.Often != "" {
		parts = append(parts, g.Often)
	}
	return strings.Join(parts, ", ") + ":"
}

// String is the line as a whole.
func (g Glance) String() string {
	text := g.Head()
	for i, p := range g.Phrases {
		switch {
		case i > 0 && p.Block > 0:
			text += ";"
		case i > 0:
			text += ","
		}
		text += " " + p.Text()
	}
	return text
}

// Glances tells the whole row: first the repeats that most are like, then the others.
func (s *Sheet) Glances() []Glance {
	first := Glance{Number: s.Row}
	if s.WrongSide {
		first.Side = "wrong side, purl"
	}
	if run := s.oneRun(); run != nil {
		first.Phrases = s.Phrases([]Run{*run})
		return []Glance{first}
	}
	var others []Glance
	for i := range s.Blocks {
		b := &s.Blocks[i]
		of := func(words string) string {
			if b.Number > 0 && strings.HasPrefix(words, "repeat") {
				return fmt.Sprintf("block %d %s", b.Number, words)
			}
			return words
		}
		often, runs := s.often(b)
		phrases := s.Phrases(runs)
		if b.Number == 0 {
			first.Often = often
		} else {
			phrases[0].Block, phrases[0].Often = b.Number, of(often)
		}
		first.Phrases = append(first.Phrases, phrases...)
		for _, r := range b.Others {
			others = append(others, Glance{Often: of(repeatWords(r.Repeats)), Phrases: s.Phrases(r.Runs)})
		}
	}
	return append([]Glance{first}, others...)
}

// oneRun is the whole row as one run, where it is one without catches.
func (s *Sheet) oneRun() *Run {
	other := func(st floats.Stitch) bool { return !workedAlike(st, s.InOrder()[0]) }
	if len(s.shown)+len(s.made) > 0 || slices.ContainsFunc(s.InOrder(), other) {
		return nil
	}
	run := s.Blocks[0].Often.Runs[0]
	run.Stitches = s.Stitches()
	return &run
}

// often tells how often the runs of a block are worked: "12 times", or "repeat 3" beside others.
func (s *Sheet) often(b *RowBlock) (string, []Run) {
	times, runs := s.smallestRepeat(b)
	switch {
	case len(b.Others) > 0 && times == 1:
		return repeatWords(b.Often.Repeats), runs
	case times > 1:
		return fmt.Sprintf("%d times", times), runs
	}
	return "", runs
}

// smallestRepeat gives the runs of a block and how often: without catches the fewest stitches that make it.
func (s *Sheet) smallestRepeat(b *RowBlock) (times int, runs []Run) {
	caught := slices.ContainsFunc(s.Letters, func(l Catch) bool { return l.Block == b.Number })
	if caught || len(b.Often.Catches) > 0 || len(b.Others) > 0 {
		return len(b.Often.Repeats), b.Often.Runs
	}
	width := len(b.Order)
	for n := 1; n < width; n++ {
		if width%n == 0 && slices.EqualFunc(b.Order[n:], b.Order[:width-n], workedAlike) {
			width = n
		}
	}
	if width == 1 {
		run := b.Often.Runs[0]
		run.Stitches = len(b.Order) * b.Repeats
		return 1, []Run{run}
	}
	return len(b.Order) * b.Repeats / width, s.runsOf(b.Order[:width])
}

// Phrases tells runs. Shaped stitches are of the yarn of the run before, where it is not said.
func (r *shownRow) Phrases(runs []Run) []Phrase {
	phrases := make([]Phrase, len(runs))
	for i, run := range runs {
		p := Phrase{Yarn: run.Yarn.Index, Lead: fmt.Sprintf("%d %s", run.Stitches, run.Yarn.Name)}
		if run.Word != "" {
			p.Lead = run.Word
			if run.Stitches > 1 {
				p.Lead = fmt.Sprintf("%d %s", run.Stitches, run.Word)
			}
			if i == 0 || runs[i-1].Yarn != run.Yarn {
				p.Lead += " " + run.Yarn.Name
			}
		}
		p.Inside, p.Aloud = r.inside(run)
		p.Aloud = strings.TrimSuffix(p.Lead+": "+p.Aloud, ": ")
		phrases[i] = p
	}
	return phrases
}

func (r *shownRow) inside(run Run) (parts []InPhrase, aloud string) {
	if len(run.Catches) == 0 {
		return nil, ""
	}
	var heard []string
	done := 0
	count := func(n int) {
		if n > 0 {
			parts, heard = append(parts, InPhrase{fmt.Sprint(n), ",", chart.NoYarn}), append(heard, fmt.Sprint(n))
			done += n
		}
	}
	for left := run.Catches; len(left) > 0; {
		here := 1
		for here < len(left) && left[here].Stitch == left[0].Stitch {
			here++
		}
		count(left[0].Stitch - run.From - done)
		names, called := r.catchNames(left[:here])
		if !left[0].Twist {
			called += " on the next"
			done++
		}
		parts, heard = append(parts, names...), append(heard, called)
		left = left[here:]
	}
	count(run.Stitches - done)
	parts[len(parts)-1].After = ""
	return parts, strings.Join(heard, ", ")
}

// catchNames names the catches of one stitch: "catch a,", or with three yarns "catch a moss and", "b kelp,".
func (r *shownRow) catchNames(catches []Catch) (parts []InPhrase, aloud string) {
	word := "catch"
	if catches[0].Twist {
		word = "twist"
	}
	if len(catches) == 1 && catches[0].Letter == "" {
		word = "extra " + word
	}
	heard := make([]string, len(catches))
	for i, c := range catches {
		name := r.CatchName(c)
		heard[i] = strings.ToUpper(c.Letter)
		if c.Letter == "" && len(catches) > 1 {
			name, heard[i] = "extra "+name, "extra"
		}
		if r.namesYarns() {
			heard[i] = strings.TrimSpace(heard[i] + " " + c.Yarn.Name)
		}
		if c.Moved {
			heard[i] += ", moved,"
		}
		if i == 0 {
			name = strings.TrimSpace(word + " " + name)
		}
		part := InPhrase{name, ",", c.Yarn.Index}
		if i == len(catches)-2 {
			part.Text, part.After = name+" and", ""
		}
		parts = append(parts, part)
	}
	return parts, strings.TrimSpace(word + " " + Listed(heard, "and"))
}

// MovedSign stands at a catch that is not where the plan had it.
const MovedSign = "*"

// CatchName is a catch by its letter, and by its yarn where there may be another: "a", "a moss".
func (r *shownRow) CatchName(c Catch) string {
	name := c.Letter
	if c.Moved {
		name += MovedSign
	}
	if r.namesYarns() {
		name = strings.TrimSpace(name + " " + c.Yarn.Name)
	}
	return name
}

// Word is "round" or "row".
func (s *Sheet) Word() string { return RowWord(s.Round) }

// AsMade tells what was otherwise in a finished row as its runs were made, a line for runs
// alike in several repeats, and aloud as it is heard: "11 fjord (6, catch a, 4) in every repeat".
func (p *Piece) AsMade(row int) (lines, aloud []string) {
	changes := p.Changes(row)
	if !changes.Any() {
		return nil, nil
	}
	r := p.rowShown(row)
	g, heard := newGrouping(r.Course), newGrouping(r.Course)
	catches := r.catches()
	for i := range r.Blocks {
		b := &r.Blocks[i]
		for rep := range b.Repeats {
			before := b.First + rep*b.Stitches
			at := r.PlaceOf(before + 1)
			at.Stitch = 0
			runs := r.runs(b, catches[at])
			for k, phrase := range r.Phrases(runs) {
				if missed, is := r.otherwiseIn(before+runs[k].From, runs[k].Stitches, changes); is {
					g.add(before+1, phrase.Text()+missed)
					heard.add(before+1, phrase.Aloud+missed)
				}
			}
		}
	}
	return g.lines(), heard.lines()
}

// otherwiseIn tells what was missed in a run, and whether it was made otherwise at all.
func (r *shownRow) otherwiseIn(from, stitches int, c Changes) (missed string, is bool) {
	in := func(m Mark) bool { return m.Stitch >= from && m.Stitch < from+stitches }
	is = slices.ContainsFunc(c.come(), in)
	for _, m := range c.Missed {
		if in(m) {
			missed, is = missed+fmt.Sprintf(", catch %s missed", r.ShownAs(m)), true
		}
	}
	return missed, is
}
