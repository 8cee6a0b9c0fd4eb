package session

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"strandwise/floats"
)

type deviationItem struct {
	kind, text string
	letter     string // of the catch; empty for an extra one, or in a correction for one that was extra
	by         int    // of a moved one: stitches later in knitting order, earlier below 0
	yarn       string // of an extra one: symbol or name; empty when not said

	floats.Place // block and stitch of an extra one, 0 where they are not said; repeat 0 is every repeat
}

// inBlock is an item without its block as it would be written with one.
func (s deviationItem) inBlock(block int) string {
	text := shortPlace(floats.Place{Block: block, Stitch: s.Stitch})
	if s.yarn != "" {
		text = s.yarn + ":" + text
	}
	if s.Repeat > 0 {
		text += fmt.Sprintf("@%d", s.Repeat)
	}
	return text
}

var deviationForms = map[string]struct {
	form *regexp.Regexp // letter, by, yarn, block, stitch, repeat
	like string
}{
	"moved":  {regexp.MustCompile(`^([A-Za-z]{1,3})([+-]\d{1,7})()()()(?:@(\d{1,7}))?$`), "a+1 (catch a, one stitch later), a-2 (two earlier) or a+1@3 (in repeat 3), with commas between"},
	"missed": {regexp.MustCompile(`^([A-Za-z]{1,3})?()()(?:(\d{1,3})/)?(\d{1,7})?(?:@(\d{1,7}))?$`), "b (catch b) or b@3 (in repeat 3), with commas between"},
	"extra":  {regexp.MustCompile(`^()()(?:([^\d,:@#][^,:@#]*):)?(?:(\d{1,3})/)?(\d{1,7})(?:@(\d{1,7}))?$`), "22, x:22 or 22@3, in a row of blocks 2/22@3, with commas between"},
}

func readDeviationItems(kind, list string) ([]deviationItem, error) {
	if list == "" {
		return nil, nil
	}
	var items []deviationItem
	for _, text := range strings.Split(list, ",") {
		text = strings.TrimSpace(text)
		s, ok := readDeviationItem(kind, text)
		if !ok {
			return nil, &FieldError{kind, strconv.Quote(text), deviationForms[kind].like}
		}
		items = append(items, s)
	}
	return items, nil
}

// numbered is a number where a letter belongs, as in 6, 6@3, 6:7, x:6 or 6+1.
var numbered = regexp.MustCompile(`^(?:[^\d,:@#]:)?(?:(\d{1,3})/)?(\d{1,7})(?:[:+-]\d{1,7})?(?:@(\d{1,7}))?$`)

func readDeviationItem(kind, text string) (s deviationItem, ok bool) {
	s = deviationItem{kind: kind, text: text}
	m := deviationForms[kind].form.FindStringSubmatch(text)
	switch {
	case m != nil && (m[1] == "") != (m[5] == ""):
		s.letter, s.yarn = strings.ToLower(m[1]), strings.TrimSpace(m[3]) // strips print capitals where yarns have small symbols
		s.by, _ = strconv.Atoi(m[2])
		s.Place = placeSaid(m[4:])
		return s, m[6] == "" || s.Repeat > 0
	case kind != "extra":
		if m = numbered.FindStringSubmatch(text); m != nil {
			s.Place = placeSaid(m[1:])
			return s, true
		}
	}
	return s, false
}

// AsOtherwise writes changes of a row as they are told, a repeat where not all are meant.
func (p *Piece) AsOtherwise(row int, c Changes) Otherwise {
	r := p.rowShown(row)
	has := map[string]int{} // by letter, the repeats in which a catch is shown
	for _, m := range r.shown {
		has[r.ShownAs(m)]++
	}
	moved, missed, extra := newGrouping(r.Course), newGrouping(r.Course), newGrouping(r.Course)
	all := map[string]int{} // by item, the repeats it is about where none is named
	for _, m := range c.Moved {
		letter := r.ShownAs(m.From)
		item := fmt.Sprintf("%s%+d", letter, m.To.Stitch-m.From.Stitch)
		moved.add(m.From.Stitch, item)
		all[item] = has[letter]
	}
	for _, m := range c.Missed {
		item := r.ShownAs(m)
		missed.add(m.Stitch, item)
		all[item] = has[item]
	}
	for _, m := range c.Extra {
		item := fmt.Sprintf("%c:%s", p.Layout.Fabric.Yarns[m.Yarn].Symbol, shortPlace(r.PlaceOf(m.Stitch)))
		extra.add(m.Stitch, item)
		all[item] = r.BlockAt(m.Stitch).Repeats
	}
	return Otherwise{moved.items(all), missed.items(all), extra.items(all)}
}

// items writes a list, naming the repeats where an item is about fewer than all it may be about.
func (g *grouping) items(all map[string]int) string {
	var items []string
	for _, item := range g.order {
		if len(g.in[item]) == all[item] {
			items = append(items, item)
			continue
		}
		for _, at := range g.in[item] {
			items = append(items, fmt.Sprintf("%s@%d", item, at.Repeat))
		}
	}
	return strings.Join(items, ",")
}

// Otherwise is what was done in a row otherwise than its sheet says, as a knitter writes it: lists with
// commas. A catch is named by its letter, in every repeat that has it or in one, from 1 (a@3).
type Otherwise struct {
	Moved  string // a+1: one stitch later than shown, in knitting order; a-1: one earlier
	Missed string // shown and not made
	Extra  string // made and not shown, by its stitch in the repeat, from 1; a yarn may stand in front (x:15), in a row of blocks the block (2/15, x:2/15)
}
