package session

// Renamed gives the piece another name.
type Renamed struct{ Name string }

func (e *Renamed) validate(s *State) error {
	if e.Name == s.Setup.Name {
		return &FieldError{"name", "the name it has", "another name"}
	}
	return checkLine("name", e.Name)
}

func (e *Renamed) apply(s *State, _ []Entry) { s.Setup.Name = e.Name }

func (e *Renamed) words(historyWords) string { return "renamed to " + e.Name }
