package cmd

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"strandwise/cmd/answer"
	"strandwise/cmd/document"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
	"strandwise/store"
)

func newSettings(a *frame.App) *cobra.Command {
	var unset bool
	c := a.Leaf(frame.Spec{
		Use:    "settings [KEY [VALUE]]",
		Writes: true, JSON: true,
		Complete: completeSetting, More: settingsListed(),
	}, func(a *frame.App, args []string) error { return runSettings(a, args, unset) })
	c.Flags().BoolVar(&unset, "unset", false, "forget the value kept for KEY")
	return c
}

func settingsListed() string {
	return strings.Join(listOf(frame.Settings, func(s frame.Setting) string {
		return fmt.Sprintf("%s (%s): %s.", s.Key, s.Variables(), settingAnswer(frame.Value{Key: s.Key}).Explained())
	}), "\n\n")
}

func runSettings(a *frame.App, args []string, unset bool) error {
	if unset && len(args) != 1 {
		return frame.Usage("--unset takes one key and no value").Hint("strandwise settings KEY --unset")
	}
	if err := trustStored(a); err != nil {
		return err
	}
	keys, changes := settingKeys, unset || len(args) == 2
	if len(args) > 0 {
		if keys = args[:1]; frame.SettingNamed(args[0]) == nil {
			return frame.Usage("there is no setting named %s", args[0]).
				HintNear(args[0], settingKeys, "strandwise settings %s", "strandwise settings, which lists them")
		}
	}
	if changes {
		if err := keepSetting(a, frame.SettingNamed(args[0]), args[1:]); err != nil {
			return err
		}
	}
	body := &answer.Settings{}
	for _, key := range keys {
		body.Settings = append(body.Settings, settingAnswer(a.Settings.Get(key)))
	}
	if changes {
		body.Kept = keptAs(body.Settings[0], args[1:])
	}
	return a.Answer(1, body)
}

func settingAnswer(v frame.Value) answer.Setting {
	s := frame.SettingNamed(v.Key)
	return answer.Setting{Key: v.Key, Value: v.Text, Origin: v.Origin, Meaning: s.Meaning, Values: s.Words, Empty: s.Empty}
}

// trustStored refuses a store that cannot be read; the start of a run makes do without.
func trustStored(a *frame.App) error {
	s, err := stored.Store(a)
	if err != nil {
		return nil // no place for a store is itself a setting to be told
	}
	if there, err := s.Exists(); err != nil || !there {
		return err
	}
	return s.View(a.Context(), func(*store.Tx) error { return nil })
}

var settingKeys = listOf(frame.Settings, func(s frame.Setting) string { return s.Key })

func completeSetting(_ *frame.App, args []string) []string {
	if len(args) == 0 {
		return settingKeys
	}
	if s := frame.SettingNamed(args[0]); s != nil && len(args) == 1 {
		return s.Words
	}
	return nil
}

func keepSetting(a *frame.App, s *frame.Setting, values []string) error {
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
			f := frame.Usage("%s %v", s.Key, err).Because(err)
			if e, is := errors.AsType[*frame.ChoiceError](err); is {
				return f.Hint("%s", e.Hint("strandwise settings "+s.Key+" %s", ""))
			}
			return f.Hint("strandwise settings %s, which says what it means", s.Key)
		}
	}
	kept, err := stored.Store(a)
	if err != nil {
		return err
	}
	defer a.Settings.Forget()
	return stored.ChangeOrBegin(a, kept, func(tx *store.Tx) error {
		if len(values) == 0 {
			return tx.DeleteSetting(s.Key)
		}
		return tx.PutSetting(s.Key, []byte(text))
	})
}

func keptAs(s answer.Setting, values []string) document.Text {
	said := fmt.Sprintf(" is %s from now on", s.Value)
	switch {
	case len(values) == 0:
		said = fmt.Sprintf(" is back to the %s, %s", s.Origin, s.Read())
	case s.Origin != frame.OriginStored:
		said = fmt.Sprintf(" is saved as %s, but the %s says %s and goes first", values[0], s.Origin, s.Value)
	}
	return document.Named(s.Key, said)
}
