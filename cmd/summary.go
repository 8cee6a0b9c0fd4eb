package cmd

import (
	"fmt"

	"strandwise/cmd/frame"
)

// summaryText is what the program says when called without a command: what it is,
// the three commands used most, one full example.
var summaryText = struct {
	what     string
	commands [][2]string
	example  []string
	more     string
}{
	what: "Strandwise keeps your place in stranded colorwork: the next row as runs of color, where to catch a long float, and how, for the way you hold your yarns.",
	commands: [][2]string{
		{"strandwise knit", "log the row just worked and print the next"},
		{"strandwise show", "print the row to work now"},
		{"strandwise cast-on NAME PART...", "begin a piece from chart files"},
	},
	example: []string{
		"strandwise cast-on hat examples/lantern-band.chart@6 --gauge 24x26/10cm",
		"strandwise show",
		"strandwise knit",
	},
	more: "strandwise tour works a small piece from first row to review in a store of its own. strandwise --help lists every command.",
}

func summary(a *frame.App) {
	w := &frame.HelpPage{Width: a.HelpWidth()}
	w.Paragraphs(summaryText.what)
	w.Gap()
	for _, c := range summaryText.commands {
		w.Wrapped("  ", c[0]+": "+c[1])
	}
	w.Section("An example", summaryText.example...)
	w.Paragraphs(summaryText.more)
	fmt.Fprint(a.Out, w.String())
}
