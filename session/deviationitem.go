package session

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
)

// deviationItem is one item of a list.
type deviationItem struct {
	kind, text string
	yarn       string // symbol or name; empty when not said
	stitch, to int    // to only where it moved
	repeat     int    // from 1; 0 is every repeat
}

var deviationForm = regexp.MustCompile(`^(?:([^\d,:@#][^,:@#]*):)?(\d{1,7})(?::(\d{1,7}))?(?:@(\d{1,7}))?$`)

// deviationForms show how an item of each list is written.
var deviationForms = map[string]string{
	"moved":  "15:16 (planned on 15, made on 16), x:15:16 or 15:16@3, with commas between",
	"missed": "15, x:15 or 15@3, with commas between",
	"extra":  "22, x:22 or 22@3, with commas between",
}

// readDeviationItems reads a list; an empty one has no items.
func readDeviationItems(kind, list string) ([]deviationItem, error) {
	if list == "" {
		return nil, nil
	}
	var items []deviationItem
	for _, text := range strings.Split(list, ",") {
		text = strings.TrimSpace(text)
		m := deviationForm.FindStringSubmatch(text)
		if m == nil || (m[3] != "") != (kind == "moved") {
			return nil, &FieldError{kind, strconv.Quote(text), deviationForms[kind]}
		}
		s := deviationItem{kind: kind, text: text, yarn: strings.TrimSpace(m[1])}
		s.stitch, _ = strconv.Atoi(m[2])
		s.to, _ = strconv.Atoi(m[3])
		s.repeat, _ = strconv.Atoi(m[4])
		if m[4] != "" && s.repeat == 0 {
			return nil, &FieldError{kind, strconv.Quote(text), deviationForms[kind]}
		}
		items = append(items, s)
	}
	return items, nil
}

// instead is the item as a flag with other stitches; to counts only where it moved.
func (s deviationItem) instead(stitch, to int) string {
	flag := fmt.Sprintf("--%s %d", s.kind, stitch)
	if s.kind == "moved" {
		flag += fmt.Sprintf(":%d", to)
	}
	if s.repeat > 0 {
		flag += fmt.Sprintf("@%d", s.repeat)
	}
	return flag
}
