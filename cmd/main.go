// Package cmd is the commands. A command is a constructor that returns App.Leaf(spec, run)
// and a run function, mostly a method of its options: it loads, asks the domain, commits and
// prints. The constructor stands as one line in the list `groups`, its texts in help.md.
// Run functions print to App.Out and take pieces from, and put them into, the store by
// package stored.
package cmd

import (
	_ "embed"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"strandwise/cmd/frame"
	"strandwise/examples"
)

// helpTexts are the texts of all commands, for help and the manual pages.
//
//go:embed help.md
var helpTexts string

// Root is the tree of commands on an empty environment, for the tool that writes the manual pages;
// its text ends with the exit statuses, for which the pages have no other place.
func Root() *cobra.Command {
	root := newApp(frame.Env{}).Root
	root.Long += "\n\n# EXIT STATUS\n\n" + strings.Join(frame.ExitLines(), "\n\n")
	return root
}

// Main runs the program once and returns its exit status; it never exits itself.
func Main(env frame.Env) int { return newApp(env).Main() }

func newApp(env frame.Env) *frame.App { return frame.New(env, program) }

var program = &frame.Program{
	Root: frame.Spec{Use: "strandwise"}, Groups: groups, Shell: shellGroup, Bare: summary,
	Texts: helpTexts, JSONHelp: jsonHelp, Examples: examples.Files,
	AboutPiece: aboutPiece, Values: completers, Before: belowZero,
	TooFew: missingHints, NoFlag: misplacedFlags, TooMany: slipHints, Renamed: renamed,
}

var usedMost = []string{
	"strandwise knit: log the row just worked and print the next",
	"strandwise show: print the row to work now",
	"strandwise cast-on NAME PART...: begin a piece from chart files",
}

func summary(a *frame.App) {
	w := &frame.HelpPage{Width: a.Display().Width}
	w.Paragraphs("Strandwise keeps your place in stranded colorwork: the next row as runs of color, where to catch a long float, and how, for the way you hold your yarns.")
	w.WriteByte('\n')
	w.Wrapped("  ", usedMost...)
	w.Section("An example", "strandwise cast-on hat example:lantern-band@6 --gauge 24x26/10cm", "strandwise show", "strandwise knit")
	w.Paragraphs("strandwise tour works a small piece from first row to review in a store of its own. strandwise --help lists every command.")
	fmt.Fprint(a.Out, w.String())
}

// jsonText is what the keys of each answer mean. It is written from the types of the answers
// by TestHelpJSONTellsEveryKey.
//
//go:embed json.txt
var jsonText string

// jsonHelp is what help json says, of all commands or of one: "" where it has no answer.
func jsonHelp(command string) string {
	if command == "" {
		return jsonText
	}
	_, rest, found := strings.Cut(jsonText, "\n"+command+", schema ")
	if !found {
		return ""
	}
	section, _, _ := strings.Cut(rest, "\n\n")
	return command + ", schema " + strings.TrimSuffix(section, "\n") + "\n"
}

// shellGroup holds what is about the program, not about knitting.
const shellGroup = "shell"

type constructors = []func(*frame.App) *cobra.Command

var groups = []frame.Group{
	{ID: "start", Title: "Start", Commands: constructors{newCastOn, newPieces, newHold, newSettings, newTour}},
	{ID: "knit", Title: "Knit", Commands: constructors{
		newShow, newKnit, newFollow, newPause, newCorrect, newResume, newLocate, newRip, newUndo, newRedo, newNote, newBindOff,
	}},
	{ID: "look-back", Title: "Look back", Commands: constructors{newReview, newCards, newHistory}},
	{ID: "prepare", Title: "Prepare", Commands: constructors{newFloats, newChart, newReplan, newMotions, newSwatch, newYarn}},
	{ID: "keep", Title: "Keep", Commands: constructors{newStore}},
	{ID: shellGroup, Title: "The program itself", Commands: constructors{newCompletion}},
}

func newChart(a *frame.App) *cobra.Command {
	return a.Parent(frame.Spec{Use: "chart"}, newChartCheck(a), newChartDraw(a), newChartTurn(a), newChartImport(a))
}
