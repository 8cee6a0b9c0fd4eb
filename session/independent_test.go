package session

import (
	"fmt"
	"math/rand"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What a knitter says of a row by letters is held against a log kept beside the program: plain
// maps of what was shown and made, written from the rules alone (design, places and letters).

// besides is the log beside the program: by row, by stitch over the whole row and yarn, where a
// catch that was shown was made; 0 for not at all. Extra ones are shown on stitch 0.
type besides struct {
	width, repeats int
	fate           map[Mark]int
	extra          map[Mark]bool
}

func (b *besides) made() []Mark {
	made := []Mark{}
	for shown, at := range b.fate {
		if at > 0 {
			made = append(made, Mark{at, shown.Yarn})
		}
	}
	for m := range b.extra {
		made = append(made, m)
	}
	slices.SortFunc(made, Mark.Compare)
	return made
}

// known lists the stitches and yarns that have letters, in order: the first is a.
func (b *besides) known() []Mark {
	in := map[Mark]bool{}
	for m := range b.fate {
		in[Mark{(m.Stitch-1)%b.width + 1, m.Yarn}] = true
	}
	var all []Mark
	for m := range in {
		all = append(all, m)
	}
	slices.SortFunc(all, Mark.Compare)
	return all
}

// say draws something that was made otherwise and tells it: by the words of a knitter, and in
// the log beside.
func (b *besides) say(draw *rand.Rand) (o Otherwise, then *besides) {
	then = &besides{b.width, b.repeats, map[Mark]int{}, map[Mark]bool{}}
	for m, at := range b.fate {
		then.fate[m] = at
	}
	for m := range b.extra {
		then.extra[m] = true
	}
	known := b.known()
	repeat, where := 0, ""
	if draw.Intn(2) == 0 {
		repeat = 1 + draw.Intn(b.repeats)
		where = fmt.Sprintf("@%d", repeat)
	}
	meant := func(m Mark) bool { return repeat == 0 || (m.Stitch-1)/b.width+1 == repeat }
	kind := draw.Intn(3)
	if len(known) == 0 {
		kind = 2
	}
	if kind == 2 {
		stitch, yarn, rep := 1+draw.Intn(b.width), draw.Intn(2), draw.Intn(b.repeats)
		then.extra[Mark{rep*b.width + stitch, yarn}] = true
		o.Extra = fmt.Sprintf("%c:%d@%d", ".x"[yarn], stitch, rep+1)
		then.settle()
		return o, then
	}
	i := draw.Intn(len(known))
	letter := string(rune('a' + i))
	by := draw.Intn(7) - 3
	for m := range b.fate {
		if (m.Stitch-1)%b.width+1 != known[i].Stitch || m.Yarn != known[i].Yarn || !meant(m) {
			continue
		}
		then.fate[m] = m.Stitch + by
		if kind == 0 {
			then.fate[m] = 0
		}
	}
	if kind == 0 {
		o.Missed = letter + where
	} else {
		o.Moved = fmt.Sprintf("%s%+d%s", letter, by, where)
	}
	then.settle()
	return o, then
}

// settle takes one that was missed, and is extra on the stitch it was shown on, as made after
// all.
func (b *besides) settle() {
	for m, at := range b.fate {
		if at == 0 && b.extra[m] {
			b.fate[m] = m.Stitch
			delete(b.extra, m)
		}
	}
}

// Ten pieces drawn at random, two hundred things said of each while it is knitted and after.
func TestWhatIsSaidByLettersIsWhatIsLogged(t *testing.T) {
	draw := rand.New(rand.NewSource(57))
	taken, corrected := 0, 0
	for piece := range 10 {
		var rows []string
		for range 6 {
			row := strings.Repeat("x", 1+draw.Intn(2)) + strings.Repeat(".", 7+draw.Intn(5))
			rows = append(rows, (row + row)[:16])
		}
		w := begin(t, strings.Join(rows, "\n"), func(e *CastOn) { e.Parts[0].Repeats, e.Limit, e.Flat = 1+draw.Intn(3), 3, piece%3 == 2 })
		var log []*besides
		for range 200 {
			if w.state.Row < 6 && draw.Intn(8) == 0 {
				b := &besides{16, w.piece.Row(1).Repeats(), map[Mark]int{}, map[Mark]bool{}}
				for _, m := range w.piece.Shown(w.state.Row + 1) {
					b.fate[m] = m.Stitch
				}
				o, then := b.say(draw)
				c, err := w.piece.Otherwise(o)
				if err != nil {
					c, then = Changes{}, b
				} else {
					taken++
				}
				w.add(w.piece.Knit(c))
				w.piece.State = w.state
				log = append(log, then)
				require.ElementsMatch(t, then.made(), w.state.DoneRow(w.state.Row).Used, "%+v", o)
			}
			if len(log) == 0 {
				continue
			}
			row := 1 + draw.Intn(len(log))
			o, then := log[row-1].say(draw)
			e, err := w.piece.Corrected(row, o)
			if err != nil {
				continue
			}
			corrected++
			w.add(e)
			w.piece.State = w.state
			log[row-1] = then
			for i, b := range log {
				require.ElementsMatch(t, b.made(), w.state.DoneRow(i+1).Used, "row %d, after %+v of row %d", i+1, o, row)
			}
		}
	}
	assert.Greater(t, taken, 20)
	assert.Greater(t, corrected, 500)
}
