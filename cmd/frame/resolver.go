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
	stored func() map[string]string // reads the store; nil where it is not to be touched

	kept map[string]string // what is stored, once read
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

// Get finds one setting. A wrong value in a flag or a variable of ours is an error
// that names it; a wrong stored one, perhaps of a newer version, is passed over.
func (r *Resolver) Get(key string) (Value, error) {
	s := SettingNamed(key)
	if given, ok := r.flag(s.flag); ok {
		return s.taken(given, "flag --"+s.flag)
	}
	if given := r.getenv(s.Variable()); given != "" {
		return s.taken(given, "variable "+s.Variable())
	}
	if s.foreign != "" && r.getenv(s.foreign) != "" {
		if given := s.says(r.getenv(s.foreign)); given != "" {
			return s.taken(given, "variable "+s.foreign)
		}
	}
	if given, ok := r.fromStore(key)[key]; ok {
		if found, err := s.taken(given, OriginStored); err == nil {
			return found, nil
		}
	}
	if key == StoreKey {
		return Value{key, defaultStore(r.getenv), OriginDefault}, nil
	}
	return Value{key, s.fallback, OriginDefault}, nil
}

// fromStore asks the store once a run, but never where the store is.
func (r *Resolver) fromStore(key string) map[string]string {
	if r.stored == nil || key == StoreKey {
		return nil
	}
	if r.kept == nil {
		r.kept = r.stored()
	}
	return r.kept
}

// read takes the settings from a state of the store, unless they were read in this run.
func (r *Resolver) read(tx *store.Tx) {
	if r.stored != nil && r.kept == nil {
		r.kept = settingsIn(tx)
	}
}

// Forget drops what the store gave: it has changed.
func (r *Resolver) Forget() { r.kept = nil }

func (s *Setting) taken(given, origin string) (Value, error) {
	text, err := s.Accept(given)
	if err != nil {
		advice := s.Key + ": " + s.Meaning
		if e, ok := err.(*ChoiceError); ok {
			advice = e.Hint("%s for " + s.Key)
		}
		return Value{}, Usage("%s: %s %v", origin, s.Key, err).Because(err).Hint("%s", advice)
	}
	return Value{s.Key, text, origin}, nil
}

// Yes reports whether a setting of yes or no is on.
func (r *Resolver) Yes(key string) (bool, error) {
	v, err := r.Get(key)
	return v.Text == yes, err
}

// Number is a setting that is a whole number.
func (r *Resolver) Number(key string) (int, error) {
	v, err := r.Get(key)
	if err != nil {
		return 0, err
	}
	return strconv.Atoi(v.Text)
}
