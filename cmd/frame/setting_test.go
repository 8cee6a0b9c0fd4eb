package frame

import (
	"os"
	"testing"

	"github.com/spf13/pflag"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/cmd/paint"
	"strandwise/store"
)

func resolverOf(flags, environment, stored map[string]string) *Resolver {
	return &Resolver{
		flag:   func(name string) (string, bool) { v, ok := flags[name]; return v, ok },
		getenv: fromMap(environment),
		kept:   stored,
	}
}

func TestPrecedence(t *testing.T) {
	type m = map[string]string
	for _, c := range []struct {
		name                   string
		flags, environ, stored m
		key, text, origin      string
	}{
		{"nothing set", nil, nil, nil, "color", "auto", "default"},
		{"stored", nil, nil, m{"color": "never"}, "color", "never", "stored setting"},
		{"variable over stored", nil, m{"STRANDWISE_COLOR": "always"}, m{"color": "never"}, "color", "always", "variable STRANDWISE_COLOR"},
		{"flag over variable", m{"color": "auto"}, m{"STRANDWISE_COLOR": "always"}, m{"color": "never"}, "color", "auto", "flag --color"},
		{"NO_COLOR", nil, m{"NO_COLOR": "1"}, m{"color": "always"}, "color", "never", "variable NO_COLOR"},
		{"flag over NO_COLOR", m{"color": "always"}, m{"NO_COLOR": "1"}, nil, "color", "always", "flag --color"},
		{"our variable over NO_COLOR", nil, m{"NO_COLOR": "1", "STRANDWISE_COLOR": "auto"}, nil, "color", "auto", "variable STRANDWISE_COLOR"},
		{"switch written otherwise", nil, m{"STRANDWISE_PLAIN": "1"}, nil, "plain", "yes", "variable STRANDWISE_PLAIN"},
		{"COLUMNS", nil, m{"COLUMNS": "40"}, nil, "width", "40", "variable COLUMNS"},
		{"COLUMNS without sense", nil, m{"COLUMNS": "many"}, nil, "width", "0", "default"},
		{"stored without sense", nil, nil, m{"units": "cubits"}, "units", "cm", "default"},
		{"store flag", m{"store": "/s"}, m{"STRANDWISE_STORE": "/t"}, nil, "store", "/s", "flag --store"},
		{"store variable", nil, m{"STRANDWISE_STORE": "/t"}, nil, "store", "/t", "variable STRANDWISE_STORE"},
		{"store never from the store", nil, m{"HOME": "/h"}, m{"store": "/x"}, "store", "/h/.local/share/strandwise/pieces.store", "default"},
		{"XDG folder", nil, m{"HOME": "/h", "XDG_DATA_HOME": "/d"}, nil, "store", "/d/strandwise/pieces.store", "default"},
		{"relative XDG folder", nil, m{"HOME": "/h", "XDG_DATA_HOME": "d"}, nil, "store", "/h/.local/share/strandwise/pieces.store", "default"},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := resolverOf(c.flags, c.environ, c.stored)
			require.NoError(t, r.Check())
			assert.Equal(t, Value{c.key, c.text, c.origin}, r.Get(c.key))
		})
	}
}

func TestWrongVariableIsNamed(t *testing.T) {
	for name, says := range map[string]string{
		"STRANDWISE_COLOR": `variable STRANDWISE_COLOR: color takes auto, always or never, not "alwys"`,
		"STRANDWISE_WIDTH": `variable STRANDWISE_WIDTH: width takes a whole number of columns from 0 to 10000, not "alwys"`,
		"STRANDWISE_PAUSE": `variable STRANDWISE_PAUSE: pause takes a whole number, 0 or more, not "alwys"`,
	} {
		err := resolverOf(nil, map[string]string{name: "alwys"}, nil).Check()
		require.EqualError(t, err, says)
		assert.Equal(t, ExitUsage, Describe(err).Exit)
		assert.NotEmpty(t, Describe(err).Hints)
	}
}

func TestAllSettingsHaveAnOrigin(t *testing.T) {
	for _, s := range Settings {
		v := resolverOf(nil, nil, nil).Get(s.Key)
		assert.Equal(t, s.Key, v.Key)
		assert.Equal(t, "default", v.Origin)
	}
}

func TestSettingsTable(t *testing.T) {
	flags := []string{"json", "yes", "help"} // which are no settings
	for _, s := range Settings {
		flags = append(flags, s.flag())
		assert.NotEmpty(t, s.Meaning, s.Key)
		if s.fallback != "" {
			_, err := s.Accept(s.fallback)
			assert.NoError(t, err, s.Key)
		}
	}
	newApp(Env{}).Root.PersistentFlags().VisitAll(func(f *pflag.Flag) { assert.Contains(t, flags, f.Name) })
}

// displayOf runs an app up to where its display is settled.
func displayOf(t *testing.T, env Env, args ...string) paint.Look {
	out, _ := looksOf(t, env, args...)
	return out
}

// looksOf are the looks of both streams.
func looksOf(t *testing.T, env Env, args ...string) (out, err paint.Look) {
	t.Helper()
	if env.Getenv == nil {
		env.Getenv = fromMap(nil)
	}
	env.Args = append(args, "save")
	a := newApp(env)
	require.Zero(t, a.Main())
	return a.looks()
}

func TestDisplay(t *testing.T) {
	assert.Equal(t, 80, displayOf(t, Env{}).Width)
	assert.Equal(t, 132, displayOf(t, Env{Size: func() (width, height int) { return 132, 0 }}).Width)
	assert.Equal(t, 40, displayOf(t, Env{Size: func() (width, height int) { return 132, 0 }}, "--width", "40").Width)
	assert.True(t, displayOf(t, Env{}, "--plain").Plain)
	assert.Equal(t, "^", displayOf(t, Env{Getenv: fromMap(map[string]string{"LANG": "C.UTF-8"})}, "--ascii").Marks.Catch)
}

func TestColorIsDecidedForEachStream(t *testing.T) {
	env := Env{OutTTY: false, ErrTTY: true, Getenv: fromMap(map[string]string{"TERM": "xterm"})}
	d, err := looksOf(t, env)
	assert.Equal(t, "x", d.Paint.Strong("x"))
	assert.NotEqual(t, "x", err.Paint.Strong("x"))
	d = displayOf(t, env, "--color", "always")
	assert.NotEqual(t, "x", d.Paint.Strong("x"))
	d = displayOf(t, env, "--color", "always", "--plain")
	assert.Equal(t, "x", d.Paint.Strong("x"))
}

func TestStoredSettingsAreRead(t *testing.T) {
	path := t.TempDir() + "/pieces.store"
	s := store.At(path, store.Options{})
	require.NoError(t, s.CreateWith(t.Context(), func(*store.Tx) error { return nil }))
	require.NoError(t, s.Update(t.Context(), func(tx *store.Tx) error { return tx.PutSetting("width", []byte("44")) }))
	assert.Equal(t, 44, displayOf(t, Env{}, "--store", path).Width)
	assert.Equal(t, 80, displayOf(t, Env{}, "--store", path+".other").Width)
}

// A store that a command opens is not opened once more for the settings in it.
func TestStoredSettingsAreReadInPassing(t *testing.T) {
	path := t.TempDir() + "/pieces.store"
	a := newApp(Env{Getenv: fromMap(map[string]string{"STRANDWISE_STORE": path})})
	s, err := a.StoreWith(store.Options{})
	require.NoError(t, err)
	require.NoError(t, s.CreateWith(t.Context(), func(*store.Tx) error { return nil }))
	require.NoError(t, s.Update(t.Context(), func(tx *store.Tx) error { return tx.PutSetting("width", []byte("44")) }))
	a.Settings.Forget()
	require.NoError(t, s.View(t.Context(), func(*store.Tx) error { return nil }))
	require.NoError(t, os.Remove(path))
	assert.Equal(t, 44, a.Display().Width)
}

func TestNoPlaceForTheStore(t *testing.T) {
	_, err := newApp(Env{}).StoreWith(store.Options{})
	require.Error(t, err)
	assert.Equal(t, ExitUnusable, Describe(err).Exit)
	assert.Equal(t, []string{"--store PATH, or set STRANDWISE_STORE"}, Describe(err).Hints)
}
