package cmd

import (
	"fmt"
	"slices"
	"strconv"

	"strandwise/cmd/paint"
	"strandwise/session/hold"
)

// setting is one thing a knitter can set for good, for a shell, or for one run.
type setting struct {
	key      string
	meaning  string // with the unit
	fallback string // the default
	empty    string // how an empty value is read, where it can be empty
	flag     string // the flag that sets it, or ""
	from     []variable
	words    []string           // the possible values; nil when check decides
	check    func(string) error // nil allows anything
}

// variable is an environment variable that gives a setting.
type variable struct {
	name string

	// says turns the variable's value into the setting's; "" is no say. nil takes
	// it as it is, and a wrong value is then an error, since the variable is ours.
	says func(string) string
}

// The words of settings that are on or off.
const (
	yes = "yes"
	no  = "no"
)

// storeKey is the setting of where the store is, the only one not kept in it.
const storeKey = "store"

// settings is the table of all settings, in the order in which they are listed.
// A new setting is one row here.
var settings = []setting{
	{
		key: storeKey, meaning: "where the pieces are kept", empty: "no place known", flag: "store",
		from: []variable{{name: "STRANDWISE_STORE"}},
	},
	{
		key: pieceKey, meaning: "which piece the commands are about", empty: "the only one there is", flag: "piece",
		from: []variable{{name: "STRANDWISE_PIECE"}},
	},
	{
		key: "color", meaning: "when to use color", fallback: paint.Auto, flag: "color",
		from:  []variable{{name: "STRANDWISE_COLOR"}, {"NO_COLOR", func(string) string { return paint.Never }}},
		words: []string{paint.Auto, paint.Always, paint.Never},
	},
	{
		key: "marks", meaning: "which marks stand for catches and directions", fallback: paint.Auto, flag: "ascii",
		from:  []variable{{name: "STRANDWISE_MARKS"}},
		words: []string{paint.Auto, paint.Unicode, paint.ASCII},
	},
	{
		key: "plain", meaning: "plain sentences for a screen reader", fallback: no, flag: "plain",
		from: []variable{{name: "STRANDWISE_PLAIN"}}, words: []string{yes, no},
	},
	{
		key: "quiet", meaning: "leave out what changed and what comes next", fallback: no, flag: "quiet",
		from: []variable{{name: "STRANDWISE_QUIET"}}, words: []string{yes, no},
	},
	{
		key: "width", meaning: "columns to fit lines to; 0 asks the terminal", fallback: "0", flag: "width",
		from:  []variable{{name: "STRANDWISE_WIDTH"}, {"COLUMNS", columns}},
		check: isWidth,
	},
	{
		key: "units", meaning: "lengths in cm or inches", fallback: "cm",
		from: []variable{{name: "STRANDWISE_UNITS"}}, words: []string{"cm", "inches"},
	},
	{
		key: "hold", meaning: "how you hold the yarns, for pieces to be cast on", fallback: hold.TwoHands.String(),
		from: []variable{{name: "STRANDWISE_HOLD"}}, words: wordsOf(hold.Holds()),
	},
	{
		key: "carry", meaning: "the order the strands keep, for pieces to be cast on; rotating goes with one-at-a-time only", fallback: hold.Parallel.String(),
		from: []variable{{name: "STRANDWISE_CARRY"}}, words: wordsOf([]hold.Carry{hold.Parallel, hold.Rotating}),
	},
	{
		key: "method", meaning: "how floats are caught, for pieces to be cast on", empty: "the one that goes best with the hold",
		from: []variable{{name: "STRANDWISE_METHOD"}}, words: wordsOf(hold.Methods()),
	},
	{
		key: "mirror", meaning: "you work from the right needle to the left, for pieces to be cast on", fallback: no,
		from: []variable{{name: "STRANDWISE_MIRROR"}}, words: []string{yes, no},
	},
	{
		key: "pause", meaning: "minutes of knitting between reminders to pause; 0 is never", fallback: "30",
		from: []variable{{name: "STRANDWISE_PAUSE"}}, check: isCount,
	},
}

// wordsOf are the words of values on the command line.
func wordsOf[T fmt.Stringer](values []T) []string {
	words := make([]string, len(values))
	for i, v := range values {
		words[i] = v.String()
	}
	return words
}

// settingNamed returns the row of a key, or nil.
func settingNamed(key string) *setting {
	at := slices.IndexFunc(settings, func(s setting) bool { return s.key == key })
	if at < 0 {
		return nil
	}
	return &settings[at]
}

// switches are the ways to write yes and no.
var switches = map[string]string{
	"yes": yes, "true": yes, "on": yes, "1": yes,
	"no": no, "false": no, "off": no, "0": no,
}

// accept checks a value and returns it as it is kept.
func (s *setting) accept(value string) (string, error) {
	if slices.Equal(s.words, []string{yes, no}) && switches[value] != "" {
		return switches[value], nil
	}
	if s.words != nil && !slices.Contains(s.words, value) {
		return "", &choiceError{value, s.words}
	}
	if s.check != nil {
		return value, s.check(value)
	}
	return value, nil
}

func yesNo(on bool) string {
	if on {
		return yes
	}
	return no
}

// widest is the most columns that can be asked for.
const widest = 10_000

func isWidth(value string) error {
	if n, err := strconv.Atoi(value); err != nil || n < 0 || n > widest {
		return usage("takes a whole number of columns from 0 to %d, not %q", widest, value)
	}
	return nil
}

func isCount(value string) error {
	if n, err := strconv.Atoi(value); err != nil || n < 0 {
		return usage("takes a whole number, 0 or more, not %q", value)
	}
	return nil
}

// columns takes the shells' own variable only when it makes sense.
func columns(value string) string {
	if isWidth(value) != nil {
		return ""
	}
	return value
}

// pieceKey is the setting of which piece the commands are about.
const pieceKey = "piece"
