package session

// Renamed gives the piece another name.
type Renamed struct{ Name string }

// Kind says which event it is.
func (e *Renamed) Kind() Kind { return KindRenamed }

func (e *Renamed) validate(s *State) error {
	if e.Name == s.Setup.Name {
		return &FieldError{"name", "the name it has", "another name"}
	}
	return checkLine("name", e.Name)
}

func (e *Renamed) apply(s *State, _ stamp) { s.Setup.Name = e.Name }

func (e *Renamed) encode(b []byte) []byte { return appendText(b, e.Name) }

func decodeRenamed(r *reader) Event { return &Renamed{Name: r.text()} }

func (e *Renamed) words(historyWords) string { return "renamed to " + e.Name }
