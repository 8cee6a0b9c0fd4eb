package follow

// Key is one press as a terminal or a browser sends it.
type Key struct {
	Name Name
	Text string // what a Rune or a Paste writes; empty for all others
}

// Name is the name that browsers give the key, if any (UI Events KeyboardEvent key values).
type Name string

// The names of keys. Rune is any key that writes a character, the space bar
// included; Paste is text a terminal says was pasted.
const (
	Unknown   Name = ""
	Rune      Name = "Rune"
	Paste     Name = "Paste"
	Enter     Name = "Enter"
	Left      Name = "ArrowLeft"
	Right     Name = "ArrowRight"
	Up        Name = "ArrowUp"
	Down      Name = "ArrowDown"
	PageUp    Name = "PageUp"
	PageDown  Name = "PageDown"
	Home      Name = "Home"
	End       Name = "End"
	Delete    Name = "Delete"
	Backspace Name = "Backspace"
	Tab       Name = "Tab"
	Escape    Name = "Escape"
	Interrupt Name = "Interrupt" // control and C
	Suspend   Name = "Suspend"   // control and Z
	Refresh   Name = "Refresh"   // control and L
	Finish    Name = "Finish"    // control and D
)

// Char is the key that writes the text.
func Char(text string) Key { return Key{Rune, text} }

// Value is the key as a browser tells it.
func (k Key) Value() string {
	if k.Name == Rune {
		return k.Text
	}
	return string(k.Name)
}
