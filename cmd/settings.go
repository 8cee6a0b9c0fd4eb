package cmd

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"strandwise/cmd/paint"
	"strandwise/store"
)

func newSettings(a *app) *cobra.Command {
	var unset bool
	c := a.leaf(spec{
		use:   "settings [KEY [VALUE]]",
		short: "how you knit and how answers look, for good",
		long: "Prints every setting with its value and what made it so. With a key it prints that one; with a key and a value it keeps the value, for every run from now on.\n\n" +
			"A flag goes before a variable of the shell, a variable before what is kept, and that before the default.",
		examples: []string{
			"strandwise settings",
			"strandwise settings hold left-one-finger",
			"strandwise settings hold --unset",
		},
		most: 2, writes: true, json: true,
		complete: completeSetting,
	}, func(ctx context.Context, args []string) error { return runSettings(a, ctx, args, unset) })
	c.Flags().BoolVar(&unset, "unset", false, "forget the value kept for KEY")
	return c
}

// settingsBody is the answer of `settings` in JSON, schema 1: every setting, or the
// one that was asked for or changed.
type settingsBody struct {
	Settings []settingBody `json:"settings"`
}

// settingBody is one setting. values is empty where any value goes or only a check
// decides; origin is a flag, a variable, "stored setting" or "default".
type settingBody struct {
	Key     string   `json:"key"`
	Value   string   `json:"value"`
	Origin  string   `json:"origin"`
	Meaning string   `json:"meaning"`
	Values  []string `json:"values"`
}

func runSettings(a *app, ctx context.Context, args []string, unset bool) error {
	if unset && len(args) != 1 {
		return usage("--unset takes one key and no value").hint("strandwise settings KEY --unset")
	}
	if err := a.trustStored(ctx); err != nil {
		return err
	}
	if len(args) == 0 {
		values, err := a.settings.all()
		if err != nil {
			return err
		}
		return a.tellSettings(values)
	}
	s := settingNamed(args[0])
	if s == nil {
		return noSuchSetting(args[0])
	}
	if unset || len(args) == 2 {
		if err := a.keepSetting(ctx, s, args[1:]); err != nil {
			return err
		}
	}
	v, err := a.settings.get(s.key)
	if err != nil {
		return err
	}
	if a.flags.json || (!unset && len(args) == 1) {
		return a.tellSettings([]value{v})
	}
	a.sayKept(s, v, args[1:])
	return nil
}

// trustStored makes sure that what is kept can be read where there is a store: the start of
// a run makes do without.
func (a *app) trustStored(ctx context.Context) error {
	s, err := a.openStore()
	if err != nil {
		return nil // no place for a store is itself a setting to be told
	}
	if there, err := s.Exists(); err != nil || !there {
		return err
	}
	return s.View(ctx, func(*store.Tx) error { return nil })
}

func noSuchSetting(key string) error {
	f := usage("there is no setting named %s", key)
	if near := nearest(key, settingKeys()); near != "" {
		return f.hint("strandwise settings %s", near)
	}
	return f.hint("strandwise settings, which lists them")
}

func settingKeys() []string {
	keys := make([]string, len(settings))
	for i, s := range settings {
		keys[i] = s.key
	}
	return keys
}

// completeSetting completes the key, then its value.
func completeSetting(_ *app, _ context.Context, args []string) []string {
	if len(args) == 0 {
		return settingKeys()
	}
	if s := settingNamed(args[0]); s != nil && len(args) == 1 {
		return s.words
	}
	return nil
}

// keepSetting stores a value, or forgets it when there is none.
func (a *app) keepSetting(ctx context.Context, s *setting, values []string) error {
	switch s.key {
	case storeKey:
		return usage("where the store is cannot be kept in the store").hint("set STRANDWISE_STORE in your shell, or use --store PATH")
	case pieceKey:
		return usage("the piece is chosen by another command").hint("strandwise pieces switch NAME")
	}
	var text string
	if len(values) > 0 {
		var err error
		if text, err = s.accept(values[0]); err != nil {
			return s.notTaken(err)
		}
	}
	kept, err := a.openStore()
	if err != nil {
		return err
	}
	a.settings.forget()
	return a.changeOrBegin(ctx, kept, func(tx *store.Tx) error {
		if len(values) == 0 {
			return tx.DeleteSetting(s.key)
		}
		return tx.PutSetting(s.key, []byte(text))
	})
}

// notTaken is the fault of a value that the setting does not take.
func (s *setting) notTaken(err error) error {
	f := usage("%s %v", s.key, err).because(err)
	if e, ok := err.(*choiceError); ok {
		return f.hint("strandwise settings %s %s", s.key, e.meant())
	}
	return f.hint("strandwise settings %s, which says what it means", s.key)
}

func (a *app) tellSettings(values []value) error {
	if a.flags.json {
		var body settingsBody
		for _, v := range values {
			s := settingNamed(v.key)
			body.Settings = append(body.Settings, settingBody{v.key, v.text, v.origin, s.meaning, s.words})
		}
		return a.answerJSON(1, body)
	}
	for _, v := range values {
		s := settingNamed(v.key)
		a.prose("%s: %s (%s)", v.key, v.shown(s), v.origin)
		a.quietly("    ", s.explained())
	}
	return nil
}

// shown is the value as it is read, an empty one in words.
func (v value) shown(s *setting) string {
	if v.text == "" {
		return s.empty
	}
	return v.text
}

// explained is what a setting means and may be.
func (s *setting) explained() string {
	if len(s.words) == 0 {
		return s.meaning
	}
	return s.meaning + ": " + listed(s.words, "or")
}

// quietly prints a line that steps back, wrapped behind a prefix.
func (a *app) quietly(prefix, text string) {
	if a.display.plain {
		prefix = ""
	}
	for _, line := range paint.Wrap(prefix, wordPieces(text), a.display.width) {
		fmt.Fprintln(a.out, a.display.paint.Quiet(line))
	}
}

// sayKept says what was changed, and what goes before it all the same.
func (a *app) sayKept(s *setting, v value, values []string) {
	if len(values) == 0 {
		a.say(fmt.Sprintf("%s is no longer kept; it is %s now (%s)", s.key, v.shown(s), v.origin), "")
		return
	}
	if v.origin != originStored {
		a.say(fmt.Sprintf("%s is kept as %s, but the %s says %s and goes first", s.key, values[0], v.origin, v.text), "")
		return
	}
	a.say(fmt.Sprintf("%s is %s from now on", s.key, v.text), "")
}
