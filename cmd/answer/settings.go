package answer

import (
	"cmp"
	"fmt"

	d "strandwise/cmd/document"
	"strandwise/session"
)

// Settings is the answer of settings, schema 1: every setting, or the one that was asked for or
// changed.
type Settings struct {
	Settings []Setting `json:"settings"`
	Kept     d.Text    `json:"-"` // what was changed; empty where nothing was
}

// Setting is one setting. values is empty where any value goes or only a check
// decides; origin is a flag, a variable, "stored setting" or "default".
type Setting struct {
	Key     string   `json:"key"`
	Value   string   `json:"value"`
	Origin  string   `json:"origin"`
	Meaning string   `json:"meaning"`
	Values  []string `json:"values"`
	Empty   string   `json:"-"` // how an empty value is read
}

// Document tells each setting and what it means, or what was changed.
func (a *Settings) Document() d.Document {
	p := &prose{}
	if len(a.Kept) > 0 {
		p.add(d.Act(a.Kept))
		return p.document()
	}
	for _, s := range a.Settings {
		p.named(s.Key, ": %s (%s)", s.Read(), s.Origin)
		p.add(d.Line{Text: d.Words(s.Explained()), Tone: d.Quiet, Indent: 4})
	}
	return p.document()
}

// Read is the value as it is read, an empty one in words.
func (s Setting) Read() string { return cmp.Or(s.Value, s.Empty) }

// Explained is what a setting means and may be.
func (s Setting) Explained() string {
	if len(s.Values) == 0 {
		return s.Meaning
	}
	return fmt.Sprintf("%s: %s", s.Meaning, session.Listed(s.Values, "or"))
}
