package frame

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"strandwise/cmd/paint"
	"strandwise/session/hold"
	"strandwise/store"
)

// Setting is one thing a knitter can set for good, for a shell, or for one run.
type Setting struct {
	Key      string
	Meaning  string             // with the unit
	fallback string             // the default
	Empty    string             // how an empty value is read, where it can be empty
	Words    []string           // the possible values; nil when check decides
	check    func(string) error // nil allows anything

	// A variable of others that has a say where ours is not set and its value makes sense: foreign is
	// its name, means is what any value of it means, "" for itself.
	foreign, means string
}

// Variable is the environment variable of ours. A wrong value in it is an error.
func (s *Setting) Variable() string { return "STRANDWISE_" + strings.ToUpper(s.Key) }

// flag is the name of the flag that gives the setting, where there is one.
func (s *Setting) flag() string {
	if s.Key == "marks" {
		return "ascii"
	}
	return s.Key
}

// Variables lists all that give the setting, ours first.
func (s *Setting) Variables() string { return strings.TrimSuffix(s.Variable()+", "+s.foreign, ", ") }

const (
	yes = "yes"
	no  = "no"
)

var onOff = []string{yes, no}

// The settings of where the store is, the only one not kept in it, and of the current piece.
const (
	StoreKey = "store"
	PieceKey = "piece"
)

// Settings are all settings, in the order in which they are listed.
var Settings = []Setting{
	{Key: StoreKey, Meaning: "where the pieces are kept", Empty: "no place known"},
	{Key: PieceKey, Meaning: "the current piece, which commands are about", Empty: "the only one there is"},
	{
		Key: "color", Meaning: "when to use color", fallback: paint.Auto,
		Words:   []string{paint.Auto, paint.Always, paint.Never},
		foreign: "NO_COLOR", means: paint.Never,
	},
	{
		Key: "marks", Meaning: "which marks stand for catches and directions", fallback: paint.Auto,
		Words: []string{paint.Auto, paint.Unicode, paint.ASCII},
	},
	{Key: "plain", Meaning: "plain sentences for a screen reader", fallback: no, Words: onOff},
	{Key: "quiet", Meaning: "leave out what changed and what comes next", fallback: no, Words: onOff},
	{
		Key: "width", Meaning: "columns to fit lines to; 0 asks the terminal", fallback: "0",
		check: number(10_000, " of columns from 0 to 10000"), foreign: "COLUMNS",
	},
	{Key: "units", Meaning: "lengths in cm or inches", fallback: "cm", Words: []string{"cm", "inches"}},
	{
		Key: "hold", Meaning: "how you hold the yarns, for pieces to be cast on", fallback: hold.TwoHands.String(),
		Words: WordsOf(hold.Holds()),
	},
	{
		Key: "carry", Meaning: "the order the strands keep, for pieces to be cast on; rotating goes with one-at-a-time only",
		fallback: hold.Parallel.String(), Words: WordsOf([]hold.Carry{hold.Parallel, hold.Rotating}),
	},
	{
		Key: "method", Meaning: "how floats are caught, for pieces to be cast on", Empty: "the one that goes best with the hold",
		Words: WordsOf(hold.Methods()),
	},
	{Key: "mirror", Meaning: "you work from the right needle to the left, for pieces to be cast on", fallback: no, Words: onOff},
	{Key: "pause", Meaning: "minutes of knitting between reminders to pause; 0 is never", fallback: "30", check: number(math.MaxInt, ", 0 or more")},
}

// WordsOf are the words of values on the command line.
func WordsOf[T fmt.Stringer](values []T) []string {
	words := make([]string, len(values))
	for i, v := range values {
		words[i] = v.String()
	}
	return words
}

// SettingNamed returns the row of a key, or nil.
func SettingNamed(key string) *Setting {
	at := slices.IndexFunc(Settings, func(s Setting) bool { return s.Key == key })
	if at < 0 {
		return nil
	}
	return &Settings[at]
}

var switches = map[string]string{
	"yes": yes, "true": yes, "on": yes, "1": yes,
	"no": no, "false": no, "off": no, "0": no,
}

// Accept checks a value and returns it as it is kept.
func (s *Setting) Accept(value string) (string, error) {
	if slices.Equal(s.Words, onOff) && switches[value] != "" {
		return switches[value], nil
	}
	if s.Words != nil && !slices.Contains(s.Words, value) {
		return "", &ChoiceError{value, s.Words}
	}
	if s.check != nil {
		return value, s.check(value)
	}
	return value, nil
}

// YesNo is the word of a setting that is on or off.
func YesNo(on bool) string {
	if on {
		return yes
	}
	return no
}

func number(most int, which string) func(string) error {
	return func(value string) error {
		if n, err := strconv.Atoi(value); err != nil || n < 0 || n > most {
			return Usage("takes a whole number%s, not %q", which, value)
		}
		return nil
	}
}

// Resolver finds settings: in the flag, else the environment, else the store, else the default.
type Resolver struct {
	flag   func(name string) (string, bool)
	getenv func(string) string
	open   func()            // opens the store; nil where it is not to be touched
	kept   map[string]string // what is stored, once read
}

// Value is a setting's value and its origin in words.
type Value struct {
	Key, Text, Origin string
}

// The origins that are not a flag or a variable.
const (
	OriginStored  = "stored setting"
	OriginDefault = "default"
)

// given is what a flag, else a variable, says of a setting; not what is stored.
func (r *Resolver) given(s *Setting) (v Value, ok bool) {
	v.Key = s.Key
	if v.Text, ok = r.flag(s.flag()); ok {
		v.Origin = "flag --" + s.flag()
		return v, true
	}
	v.Text, v.Origin = r.getenv(s.Variable()), "variable "+s.Variable()
	if other := r.getenv(s.foreign); v.Text == "" && other != "" {
		v.Text, v.Origin = cmp.Or(s.means, other), "variable "+s.foreign
		if _, err := s.Accept(v.Text); err != nil {
			return v, false
		}
	}
	return v, v.Text != ""
}

// Check refuses a wrong value in a flag or a variable of ours by name. The store stays closed.
func (r *Resolver) Check() error {
	for i := range Settings {
		s := &Settings[i]
		v, ok := r.given(s)
		if !ok {
			continue
		}
		if _, err := s.Accept(v.Text); err != nil {
			advice := s.Key + ": " + s.Meaning
			if e, ok := err.(*ChoiceError); ok {
				advice = e.Hint("%s for "+s.Key, "")
			}
			return Usage("%s: %s %v", v.Origin, s.Key, err).Because(err).Hint("%s", advice)
		}
	}
	return nil
}

// Get finds one setting. A wrong value is passed over: Check has told of one that was given, and a
// stored one is perhaps of a newer version.
func (r *Resolver) Get(key string) Value {
	s := SettingNamed(key)
	v, ok := r.given(s)
	if !ok {
		v.Text, ok = r.stored(key)
		v.Origin = OriginStored
	}
	if text, err := s.Accept(v.Text); ok && err == nil {
		return Value{key, text, v.Origin}
	}
	if key == StoreKey {
		return Value{key, inUserFolder(r.getenv, "XDG_DATA_HOME", ".local/share", "pieces.store"), OriginDefault}
	}
	return Value{key, s.fallback, OriginDefault}
}

// stored asks the store once a run, but never where the store is.
func (r *Resolver) stored(key string) (string, bool) {
	if key == StoreKey {
		return "", false
	}
	if r.kept == nil && r.open != nil {
		r.open()
	}
	if r.kept == nil {
		r.kept = map[string]string{} // there is no store, or it cannot be read
	}
	text, ok := r.kept[key]
	return text, ok
}

// read takes the settings from a state of the store, unless they were read in this run.
func (r *Resolver) read(tx *store.Tx) {
	if r.kept != nil {
		return
	}
	r.kept = map[string]string{}
	for _, row := range Settings {
		if value, ok := tx.Setting(row.Key); ok {
			r.kept[row.Key] = PlainText(value)
		}
	}
}

// Forget drops what the store gave: it has changed.
func (r *Resolver) Forget() { r.kept = nil }

// Yes reports whether a setting of yes or no is on.
func (r *Resolver) Yes(key string) bool { return r.Get(key).Text == yes }

// Number is a setting that is a whole number.
func (r *Resolver) Number(key string) int {
	n, _ := strconv.Atoi(r.Get(key).Text) // it was accepted as one
	return n
}
