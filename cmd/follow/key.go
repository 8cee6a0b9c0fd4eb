package follow

// Key is one press as a terminal sends it.
type Key struct {
	Name Name
	Text string // what a Rune or a Paste writes; empty for all others
}

// Name says which key it is.
type Name uint8

// The names of keys. Rune is any key that writes a character, the space bar
// included; Paste is text a terminal says was pasted.
const (
	Unknown Name = iota
	Rune
	Paste
	Enter
	Left
	Right
	Up
	Down
	PageUp
	PageDown
	Home
	End
	Delete
	Backspace
	Tab
	Escape
	Interrupt // control and C
	Suspend   // control and Z
	Refresh   // control and L
	Finish    // control and D
)

// Char is the key that writes the text.
func Char(text string) Key { return Key{Rune, text} }
