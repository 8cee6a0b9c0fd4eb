package cmd

import (
	"context"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"strandwise/cmd/frame"
	"strandwise/cmd/paint"
	"strandwise/cmd/stored"
	"strandwise/session"
	"strandwise/store"
)

func newSettings(a *frame.App) *cobra.Command {
	var unset bool
	c := a.Leaf(frame.Spec{
		Use:   "settings [KEY [VALUE]]",
		Short: "how you knit and how answers look, for good",
		Long: "Prints every setting with its value and what made it so. With a key it prints that one; with a key and a value it keeps the value, for every run from now on.\n\n" +
			"A flag goes before a variable of the shell, a variable before what is kept, and that before the default.\n\n" + settingsListed(),
		Examples: []string{
			"strandwise settings",
			"strandwise settings hold left-one-finger",
			"strandwise settings hold --unset",
		},
		Most: 2, Writes: true, JSON: true,
		Complete: completeSetting,
	}, func(ctx context.Context, args []string) error { return runSettings(a, ctx, args, unset) })
	c.Flags().BoolVar(&unset, "unset", false, "forget the value kept for KEY")
	return c
}

// settingsListed names every setting with its variables and what it means, a paragraph each.
func settingsListed() string {
	lines := make([]string, len(frame.Settings))
	for i, s := range frame.Settings {
		names := make([]string, len(s.From))
		for k, v := range s.From {
			names[k] = v.Name
		}
		lines[i] = fmt.Sprintf("%s (%s): %s.", s.Key, strings.Join(names, ", "), explained(&s))
	}
	return strings.Join(lines, "\n\n")
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

func runSettings(a *frame.App, ctx context.Context, args []string, unset bool) error {
	if unset && len(args) != 1 {
		return frame.Usage("--unset takes one key and no value").Hint("strandwise settings KEY --unset")
	}
	if err := trustStored(a, ctx); err != nil {
		return err
	}
	if len(args) == 0 {
		values, err := a.Settings.All()
		if err != nil {
			return err
		}
		return tellSettings(a, values)
	}
	s := frame.SettingNamed(args[0])
	if s == nil {
		return noSuchSetting(args[0])
	}
	if unset || len(args) == 2 {
		if err := keepSetting(a, ctx, s, args[1:]); err != nil {
			return err
		}
	}
	v, err := a.Settings.Get(s.Key)
	if err != nil {
		return err
	}
	if a.Flags.JSON || (!unset && len(args) == 1) {
		return tellSettings(a, []frame.Value{v})
	}
	sayKept(a, s, v, args[1:])
	return nil
}

// trustStored makes sure that what is kept can be read where there is a store: the start of
// a run makes do without.
func trustStored(a *frame.App, ctx context.Context) error {
	s, err := stored.Store(a)
	if err != nil {
		return nil // no place for a store is itself a setting to be told
	}
	if there, err := s.Exists(); err != nil || !there {
		return err
	}
	return s.View(ctx, func(*store.Tx) error { return nil })
}

func noSuchSetting(key string) error {
	f := frame.Usage("there is no setting named %s", key)
	if near := frame.Nearest(key, settingKeys()); near != "" {
		return f.Hint("strandwise settings %s", near)
	}
	return f.Hint("strandwise settings, which lists them")
}

func settingKeys() []string {
	keys := make([]string, len(frame.Settings))
	for i, s := range frame.Settings {
		keys[i] = s.Key
	}
	return keys
}

// completeSetting completes the key, then its value.
func completeSetting(_ *frame.App, _ context.Context, args []string) []string {
	if len(args) == 0 {
		return settingKeys()
	}
	if s := frame.SettingNamed(args[0]); s != nil && len(args) == 1 {
		return s.Words
	}
	return nil
}

// keepSetting stores a value, or forgets it when there is none.
func keepSetting(a *frame.App, ctx context.Context, s *frame.Setting, values []string) error {
	switch s.Key {
	case frame.StoreKey:
		return frame.Usage("where the store is cannot be kept in the store").Hint("set STRANDWISE_STORE in your shell, or use --store PATH")
	case frame.PieceKey:
		return frame.Usage("the piece is chosen by another command").Hint("strandwise pieces NAME")
	}
	var text string
	if len(values) > 0 {
		var err error
		if text, err = s.Accept(values[0]); err != nil {
			return notTaken(s, err)
		}
	}
	kept, err := stored.Store(a)
	if err != nil {
		return err
	}
	defer a.Settings.Forget()
	return stored.ChangeOrBegin(a, ctx, kept, func(tx *store.Tx) error {
		if len(values) == 0 {
			return tx.DeleteSetting(s.Key)
		}
		return tx.PutSetting(s.Key, []byte(text))
	})
}

// notTaken is the fault of a value that the setting does not take.
func notTaken(s *frame.Setting, err error) error {
	f := frame.Usage("%s %v", s.Key, err).Because(err)
	if e, ok := err.(*frame.ChoiceError); ok {
		return f.Hint("%s", e.Hint("strandwise settings "+s.Key+" %s"))
	}
	return f.Hint("strandwise settings %s, which says what it means", s.Key)
}

func tellSettings(a *frame.App, values []frame.Value) error {
	if a.Flags.JSON {
		var body settingsBody
		for _, v := range values {
			s := frame.SettingNamed(v.Key)
			body.Settings = append(body.Settings, settingBody{v.Key, v.Text, v.Origin, s.Meaning, s.Words})
		}
		return a.AnswerJSON(1, body)
	}
	for _, v := range values {
		s := frame.SettingNamed(v.Key)
		a.Tell("%s: %s (%s)", v.Key, shown(v, s), v.Origin)
		quietly(a, "    ", explained(s))
	}
	return nil
}

// shown is the value as it is read, an empty one in words.
func shown(v frame.Value, s *frame.Setting) string {
	if v.Text == "" {
		return s.Empty
	}
	return v.Text
}

// explained is what a setting means and may be.
func explained(s *frame.Setting) string {
	if len(s.Words) == 0 {
		return s.Meaning
	}
	return s.Meaning + ": " + session.Listed(s.Words, "or")
}

// quietly prints a line that steps back, wrapped behind a prefix.
func quietly(a *frame.App, prefix, text string) {
	if a.Display().Plain {
		a.Tell("%s", text)
		return
	}
	for _, line := range paint.Wrap(prefix, frame.WordPieces(text), a.Display().Width) {
		fmt.Fprintln(a.Out, a.Display().Paint.Quiet(line))
	}
}

// sayKept says what was changed, and what goes before it all the same.
func sayKept(a *frame.App, s *frame.Setting, v frame.Value, values []string) {
	if len(values) == 0 {
		a.Say(fmt.Sprintf("%s is back to the %s, %s", s.Key, v.Origin, shown(v, s)), "")
		return
	}
	if v.Origin != frame.OriginStored {
		a.Say(fmt.Sprintf("%s is saved as %s, but the %s says %s and goes first", s.Key, values[0], v.Origin, v.Text), "")
		return
	}
	a.Say(fmt.Sprintf("%s is %s from now on", s.Key, v.Text), "")
}
