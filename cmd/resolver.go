package cmd

import (
	"fmt"
	"strconv"
)

// resolver finds the value of a setting and where it comes from: the flag, else
// the environment, else the stored setting, else the default.
type resolver struct {
	flag   func(name string) (string, bool)
	getenv func(string) string
	stored func() map[string]string // nil where the store is not to be touched

	kept map[string]string // what stored gave, once asked
}

// value is a setting's value and its origin in words.
type value struct {
	key, text, origin string
}

// The origins that are not a flag or a variable.
const (
	originStored  = "stored setting"
	originDefault = "default"
)

// get finds one setting. A wrong value in a flag or a variable of ours is an error
// that names it; a wrong stored one, perhaps of a newer version, is passed over.
func (r *resolver) get(key string) (value, error) {
	s := settingNamed(key)
	if given, ok := r.flag(s.flag); ok {
		return s.taken(given, "flag --"+s.flag)
	}
	for _, v := range s.from {
		given := r.getenv(v.name)
		if given != "" && v.says != nil {
			given = v.says(given)
		}
		if given != "" {
			return s.taken(given, "variable "+v.name)
		}
	}
	if given, ok := r.fromStore(key)[key]; ok {
		if found, err := s.taken(given, originStored); err == nil {
			return found, nil
		}
	}
	return value{key, r.fallback(s), originDefault}, nil
}

// fallback is the default; that of the store depends on the environment.
func (r *resolver) fallback(s *setting) string {
	if s.key == storeKey {
		return defaultStore(r.getenv)
	}
	return s.fallback
}

// fromStore asks the store once a run, but never where the store is.
func (r *resolver) fromStore(key string) map[string]string {
	if r.stored == nil || key == storeKey {
		return nil
	}
	if r.kept == nil {
		r.kept = r.stored()
	}
	return r.kept
}

// forget drops what the store gave: it is about to change.
func (r *resolver) forget() { r.kept = nil }

func (s *setting) taken(given, origin string) (value, error) {
	text, err := s.accept(given)
	if err != nil {
		return value{}, usage("%s: %s %v", origin, s.key, err).because(err).
			hint("%s", s.advice(err))
	}
	return value{s.key, text, origin}, nil
}

func (s *setting) advice(err error) string {
	if e, ok := err.(*choiceError); ok {
		return fmt.Sprintf("%s for %s", e.meant(), s.key)
	}
	return fmt.Sprintf("%s: %s", s.key, s.meaning)
}

// all finds every setting, in the order of the table.
func (r *resolver) all() ([]value, error) {
	values := make([]value, 0, len(settings))
	for _, s := range settings {
		v, err := r.get(s.key)
		if err != nil {
			return nil, err
		}
		values = append(values, v)
	}
	return values, nil
}

// yes reports whether a setting of yes or no is on.
func (r *resolver) yes(key string) (bool, error) {
	v, err := r.get(key)
	return v.text == yes, err
}

// number is a setting that is a whole number.
func (r *resolver) number(key string) (int, error) {
	v, err := r.get(key)
	if err != nil {
		return 0, err
	}
	return strconv.Atoi(v.text)
}
