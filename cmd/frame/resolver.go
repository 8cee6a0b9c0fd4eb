package frame

import (
	"strconv"

	"strandwise/store"
)

// Resolver finds the value of a setting and where it comes from: the flag, else
// the environment, else the stored setting, else the default.
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
	if v.Text == "" && s.foreign != "" && r.getenv(s.foreign) != "" {
		v.Text, v.Origin = s.says(r.getenv(s.foreign)), "variable "+s.foreign
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
				advice = e.Hint("%s for " + s.Key)
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
		return Value{key, defaultStore(r.getenv), OriginDefault}
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
