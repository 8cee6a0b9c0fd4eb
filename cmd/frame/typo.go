package frame

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"strandwise/chart"
	"strandwise/floats"
	"strandwise/session"
	"strandwise/session/hold"
)

// UnknownCommand is the fault of a word that names no command below c.
func UnknownCommand(c *cobra.Command, word string) error {
	f := Usage("%s: no such command %q", c.CommandPath(), word)
	if !c.HasParent() {
		f = Usage("no such command: %q", word)
		f.Hints = tradeWords[word]
	} else {
		f.Hints = tradeHints(c, word)
	}
	if f.Hints == nil {
		f.Hints = []string{cmp.Or(NearestCommand(c, word), c.CommandPath()+" --help, which lists what there is")}
	}
	return f
}

// tradeWords lead from what knitters say to the commands that do it.
var tradeWords = map[string][]string{
	"next":    {"strandwise knit, which logs the row just worked and prints the next", "strandwise show, which prints the row to work"},
	"back":    {"strandwise undo, for what was logged by mistake", "strandwise rip N, for rows that were taken out"},
	"frog":    {"strandwise rip N, with the number of rows that were taken out"},
	"tink":    {"strandwise pause STITCH, with the stitches still worked of the row begun", "strandwise rip, if the row begun was taken out whole"},
	"unknit":  {"strandwise pause STITCH, with the stitches still worked of the row begun"},
	"status":  {"strandwise resume"},
	"where":   {"strandwise resume, for the piece", "strandwise store, for the file"},
	"list":    {"strandwise pieces"},
	"new":     {"strandwise cast-on NAME PART..."},
	"start":   {"strandwise cast-on NAME PART..., for a new piece", "strandwise follow, to knit along"},
	"begin":   {"strandwise cast-on NAME PART..."},
	"done":    {"strandwise knit, if the row is done", "strandwise bind-off, if the piece is"},
	"finish":  {"strandwise bind-off"},
	"delete":  {"strandwise pieces remove NAME"},
	"switch":  {"strandwise pieces NAME"},
	"tension": {"strandwise swatch 22x24/10cm, what a gauge says"},
	"gauge":   {"strandwise swatch 22x24/10cm"},
	"color":   {"strandwise settings color", "strandwise chart check FILE, for the yarns of a chart"},
	"colour":  {"strandwise settings color", "strandwise chart check FILE, for the yarns of a chart"},
	"plan":    {"strandwise floats FILE, before casting on", "strandwise replan, in the middle of a piece"},
	"steek":   {"strandwise cast-on --help"},
	"catch":   {"strandwise motions, how a catch is made", "strandwise show, where the next are"},
	"help":    {"strandwise --help"},
}

// tradeHints are those for a trade word that lead to a command below c.
func tradeHints(c *cobra.Command, word string) []string {
	var hints []string
	for _, hint := range tradeWords[word] {
		if strings.HasPrefix(hint, c.CommandPath()+" ") {
			hints = append(hints, hint)
		}
	}
	return hints
}

// likeCommandBelow reports whether a word may be meant for the name of a command below c, which takes
// arguments of its own as well.
func likeCommandBelow(c *cobra.Command, word string) bool {
	return c.HasSubCommands() && (Nearest(word, commandNames(c)) != "" || tradeHints(c, word) != nil)
}

// NearestCommand is the whole command that a word below c most likely means, by the nearest
// name at this level, else the same name at another; "" where there is none.
func NearestCommand(c *cobra.Command, word string) string {
	if near := Nearest(word, commandNames(c)); near != "" {
		return c.CommandPath() + " " + near
	}
	for _, level := range WithBelow(c.Root()) {
		if slices.Contains(commandNames(level), word) {
			return level.CommandPath() + " " + word
		}
	}
	return ""
}

// Nearest is the only choice that word begins, else the one closest to it; where none is close,
// the only one of which it has some of the letters in order.
func Nearest(word string, choices []string) string {
	if word == "" {
		return ""
	}
	begun := only(choices, func(choice string) bool { return strings.HasPrefix(strings.ToLower(choice), strings.ToLower(word)) })
	if near := cmp.Or(begun, chart.Nearest(word, choices)); near != "" {
		return near
	}
	return only(choices, func(choice string) bool { return leavesOut(word, choice) })
}

// only is the one choice that fits; empty where none does or several.
func only(choices []string, fits func(string) bool) string {
	found := slices.DeleteFunc(slices.Clone(choices), func(choice string) bool { return !fits(choice) })
	if len(found) != 1 {
		return ""
	}
	return found[0]
}

// leavesOut reports whether a word of three letters or more is another with some left
// out, but for the first: mitn for mitten.
func leavesOut(word, whole string) bool {
	typed, meant := []rune(word), []rune(whole)
	if len(typed) < 3 || len(meant) == 0 || typed[0] != meant[0] {
		return false
	}
	for _, r := range meant {
		if len(typed) > 0 && typed[0] == r {
			typed = typed[1:]
		}
	}
	return len(typed) == 0
}

func commandNames(c *cobra.Command) []string {
	var names []string
	for _, child := range c.Commands() {
		if !child.Hidden {
			names = append(append(names, child.Name()), child.Aliases...)
		}
	}
	return names
}

// WithBelow lists a command and all below it, each before its own.
func WithBelow(c *cobra.Command) []*cobra.Command {
	all := []*cobra.Command{c}
	for _, child := range c.Commands() {
		all = append(all, WithBelow(child)...)
	}
	return all
}

// flagFault takes a mistyped command in front of the flags for the likelier cause.
func (a *App) flagFault(c *cobra.Command, err error) error {
	if words := c.Flags().Args(); len(words) > 0 && (c.HasSubCommands() && c.Use == c.Name() || likeCommandBelow(c, words[0])) {
		return UnknownCommand(c, words[0])
	}
	switch e := err.(type) {
	case *pflag.NotExistError:
		return a.unknownFlag(c, e)
	case *pflag.InvalidValueError:
		return invalidValue(e)
	case *pflag.ValueRequiredError:
		name, _ := pflag.UnquoteUsage(e.GetFlag())
		return Usage("--%s needs a value", e.GetFlag().Name).Hint("--%s %s", e.GetFlag().Name, name)
	}
	return Usage("%s: %v", c.CommandPath(), err).Hint("%s --help", c.CommandPath())
}

func (a *App) unknownFlag(c *cobra.Command, e *pflag.NotExistError) error {
	if letters := e.GetSpecifiedShortnames(); letters != "" {
		return Usage("%s has no flag -%s", c.CommandPath(), letters).HintNear(letters, flagNames(c), "--%s",
			c.CommandPath()+" --help, which lists the flags; what begins with - and is no flag goes after --")
	}
	f := Usage("%s has no flag --%s", c.CommandPath(), e.GetSpecifiedName())
	if meant := a.program.NoFlag[UnderRoot(c)+" --"+e.GetSpecifiedName()]; meant != "" {
		return f.Hint("%s", meant)
	}
	return f.HintNear(e.GetSpecifiedName(), flagNames(c), "--%s", c.CommandPath()+" --help, which lists the flags")
}

func (a *App) renamedFlags(c *cobra.Command) {
	c.Flags().SetNormalizeFunc(func(_ *pflag.FlagSet, name string) pflag.NormalizedName {
		if now := a.program.Renamed[UnderRoot(c)+" --"+name]; now != "" {
			a.Renamed("--"+name, "--"+now)
			name = now
		}
		return pflag.NormalizedName(name)
	})
}

// renamedCommand is a command line with the word taken out by which a command is no longer called.
func (a *App) renamedCommand(args []string) []string {
	if len(args) < 2 || a.program.Renamed[args[0]+" "+args[1]] == "" {
		return args
	}
	was := args[0] + " " + args[1]
	a.Renamed(was, a.program.Renamed[was])
	return slices.Delete(args, 1, 2)
}

// Renamed says, once a run, that what was given has another name now.
func (a *App) Renamed(was, now string) {
	text := fmt.Sprintf("%s is now %s; the old name will go", was, now)
	if !slices.Contains(a.warned, text) {
		a.warned = append(a.warned, text)
		fmt.Fprintln(a.Err, "strandwise: "+text)
	}
}

func flagNames(c *cobra.Command) []string {
	var names []string
	c.Flags().VisitAll(func(f *pflag.Flag) {
		if !f.Hidden {
			names = append(names, f.Name)
		}
	})
	return names
}

var valueWords = map[string]string{
	"int":    "a whole number",
	"uint64": "a whole number, 0 or more",
	"bool":   "true or false",
}

func invalidValue(e *pflag.InvalidValueError) error {
	flag := e.GetFlag()
	name, _ := pflag.UnquoteUsage(flag)
	if words, is := errors.AsType[*ChoiceError](e); is {
		return Usage("--%s %v", flag.Name, words).Hint("%s", words.Hint("--"+flag.Name+" %s", ""))
	}
	if takes, ok := valueWords[flag.Value.Type()]; ok {
		return Usage("--%s takes %s, not %q", flag.Name, takes, e.GetValue()).Hint("--%s %s", flag.Name, name)
	}
	if bad, is := errors.AsType[*floats.FormatError](e); is {
		return Usage("--%s %q cannot be read", flag.Name, bad.Value).Because(e).Hint("%s", bad.Want)
	}
	if p := Describe(e.Unwrap()); p.Exit == ExitUsage {
		return Usage("--%s %s", flag.Name, p.What).Because(e).Hint("%s", session.Listed(p.Hints, "or"))
	}
	return Usage("--%s cannot be %q: %v", flag.Name, e.GetValue(), e.Unwrap()).Hint("--%s %s", flag.Name, name)
}

// UnderRoot is the path of a command without the program.
func UnderRoot(c *cobra.Command) string {
	return strings.TrimPrefix(c.CommandPath(), c.Root().Name()+" ")
}

// Choice is a flag's value that is one of a few words.
type Choice struct {
	to    *string
	words []string
}

// OneOf makes the value of a flag; to holds the default and later the word given.
func OneOf(to *string, words ...string) *Choice { return &Choice{to, words} }

// String is the word in force.
func (c *Choice) String() string {
	return *c.to
}

// Type is the list of words, as help shows it.
func (c *Choice) Type() string { return strings.Join(c.words, "|") }

// Set takes a word, or gives a *ChoiceError.
func (c *Choice) Set(word string) error {
	if !slices.Contains(c.words, word) {
		return &ChoiceError{word, c.words}
	}
	*c.to = word
	return nil
}

// ChoiceError tells that a word is none of the few that were possible.
type ChoiceError struct {
	word  string
	words []string
}

func (e *ChoiceError) Error() string {
	return fmt.Sprintf("takes %s, not %q", session.Listed(e.words, "or"), e.word)
}

// Hint is form with the word most likely meant for %s; where nothing tells which, otherwise, or
// if that is "" the first word in form. Where several may be meant it asks which.
func (e *ChoiceError) Hint(form, otherwise string) string {
	word := strings.ToLower(e.word)
	if slices.Contains(e.words, hold.TwoHands.String()) && slices.Contains(styles, word) {
		return whichHand
	}
	meant := otherWords[word]
	if !slices.Contains(e.words, meant) {
		meant = Nearest(e.word, e.words)
	}
	if meant == "" && otherwise != "" {
		return otherwise
	}
	return fmt.Sprintf(form, cmp.Or(meant, e.words[0]))
}

// styles are names of ways to knit with one yarn; with two they say nothing sure.
var styles = []string{"continental", "picking", "picker", "pick", "german", "english", "throwing", "thrower", "throw", "american", "flicking"}

const whichHand = "which hand holds which yarn? two-hands is one in each, left-one-finger and left-two-fingers both in the left, right-one-finger and right-two-fingers both in the right, one-at-a-time one of them only"

// otherWords are words a knitter may give for one of a few, flags among them, where no letters tell.
var otherWords = map[string]string{
	"sock": "hands-feet", "socks": "hands-feet", "stocking": "hands-feet", "mitten": "hands-feet", "mittens": "hands-feet",
	"glove": "hands-feet", "gloves": "hands-feet", "slipper": "hands-feet", "slippers": "hands-feet", "foot": "hands-feet",
	"cuff": "sleeve", "wristlet": "sleeve", "arm": "sleeve", "leg": "sleeve",
	"hat": "general", "cap": "general", "cowl": "general", "body": "general", "sweater": "general", "yoke": "general",
	"bonnet": "baby", "bootee": "baby", "bootie": "baby", "booties": "baby", "child": "baby", "infant": "baby", "babies": "baby", "children": "baby", "toddler": "baby",
	"both": "two-hands", "2": "two-hands", "both-hands": "two-hands", "left": "left-two-fingers", "right": "right-two-fingers",
	"single": "one-at-a-time", "drop": "one-at-a-time", "wrap": "twist", "trap": "weave", "weaving": "weave", "twisting": "twist",
	"yes": "always", "on": "always", "true": "always", "no": "never", "off": "never", "false": "never", "none": "never",
	"in": "inches", "inch": "inches", "metric": "cm", "centimeters": "cm", "mm": "cm",
	"letters": "ascii", "plain": "ascii", "utf-8": "unicode", "utf8": "unicode",
	"back": "wrong", "inside": "wrong", "front": "right", "outside": "right", "stitch": "run", "color": "run",
	"tension": "gauge", "colour": "color", "name": PieceKey, "file": StoreKey, "mirrored": "mirror", "force": yes,
}
