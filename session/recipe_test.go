package session

import (
	"reflect"
	"testing"

	"github.com/stretchr/testify/assert"
)

// What an event kind needs beside its file and its rows in event.go and kinds.go is found by walking the
// fields of the samples: charts that an event names must be kept as long as its log.
func TestPartsOfEveryKindAreNamed(t *testing.T) {
	for _, e := range samples() {
		var want []PartRef
		walk(reflect.ValueOf(e), func(p PartRef) { want = append(want, p) })
		assert.ElementsMatch(t, want, PartsNamed(e), "session/part.go, PartsNamed: %T names parts", e)
	}
}

// walk calls found with every part in a value, however deep.
func walk(v reflect.Value, found func(PartRef)) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			walk(v.Elem(), found)
		}
	case reflect.Slice:
		for i := range v.Len() {
			walk(v.Index(i), found)
		}
	case reflect.Struct:
		if p, is := v.Interface().(PartRef); is {
			found(p)
			return
		}
		for i := range v.NumField() {
			walk(v.Field(i), found)
		}
	}
}

// Every field of every kind is in its bytes: what is changed in any of them comes back
// changed. A field that is forgotten is named with its type.
func TestEveryFieldOfEveryKindIsKept(t *testing.T) {
	for _, e := range samples() {
		kind, payload := Encode(e)
		back, err := Decode(kind, payload)
		if assert.NoError(t, err) {
			assert.Equal(t, e, back, "%T: fields", e)
		}
	}
	used := map[string]bool{}
	for _, e := range samples() {
		v := reflect.ValueOf(e).Elem()
		for i := range v.NumField() {
			name := v.Type().Name() + "." + v.Type().Field(i).Name
			used[name] = used[name] || !v.Field(i).IsZero()
		}
	}
	for name, is := range used {
		assert.True(t, is, "session/samples_test.go: no sample uses %s, so nothing holds that it is kept", name)
	}
}
