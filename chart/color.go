package chart

import "fmt"

// Color is a yarn colour in sRGB, 8 bits a channel.
type Color struct{ R, G, B uint8 }

// String is the colour as it stands in a chart file: #RRGGBB in capitals.
func (c Color) String() string { return fmt.Sprintf("#%02X%02X%02X", c.R, c.G, c.B) }
