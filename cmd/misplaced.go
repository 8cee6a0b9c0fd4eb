package cmd

import (
	"regexp"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"strandwise/cmd/frame"
)

// Words that stand where a flag, another command or nothing should be are told with the
// whole command that was most likely meant.

// misplacedWord is a form of word that is given to a command though it takes none there.
type misplacedWord struct {
	command string         // without the program; empty is any that is about a piece
	form    *regexp.Regexp // of the word
	meant   []string       // what to do; WORD stands for the word, REST for those after it
}

func form(pattern string) *regexp.Regexp { return regexp.MustCompile(`^(?i:` + pattern + `)$`) }

const (
	numberForm = `\d+`
	rowsForm   = `\d+(:\d+)?`
)

// misplacedWords lists the words by command; the first form that fits counts.
var misplacedWords = []misplacedWord{
	{"motions", form(strings.Join(holds, "|")), []string{"strandwise motions --hold WORD"}},
	{"motions", form(`weave|twist`), []string{"strandwise motions --method WORD"}},
	{"motions", form(`knit|purl`), []string{"strandwise motions --side WORD"}},
	{"motions", form(`parallel|rotating`), []string{"strandwise motions --carry WORD"}},
	{"motions", form(`all`), []string{"strandwise motions --all"}},
	{"cards", form(`.*\.(pdf|html?)|-`), []string{"strandwise cards -o WORD"}},
	{"cards", form(rowsForm), []string{"strandwise cards --rows WORD -o cards.pdf"}},
	{"review", form(`.*\.(svg|png|pdf)`), []string{"strandwise review --picture WORD"}},
	{"review", form(`.*\.html?`), []string{"strandwise review --sheet WORD"}},
	{"review", form(`right|wrong`), []string{"strandwise review --side WORD"}},
	{"review", form(rowsForm), []string{"strandwise review --side wrong --rows WORD"}},
	{"knit", form(numberForm), []string{"strandwise knit --to WORD, to log all up to it", "strandwise knit --row WORD, to log it if it is the one to work"}},
	{"knit", form(`[a-z]{1,2}[+-]\d+(@\d+)?`), []string{"strandwise knit --moved WORD"}},
	{"knit", form(`moved|missed|extra|row|to`), []string{"strandwise knit --WORD REST"}},
	{"show", form(numberForm), []string{"strandwise show --row WORD"}},
	{"show", form(`why|steps|seats|more`), []string{"strandwise show --more"}},
	{"follow", form(`row|repeat|run`), []string{"strandwise follow --by WORD"}},
	{"history", form(numberForm), []string{"strandwise history --last WORD"}},
	{"redo", form(numberForm), []string{"strandwise redo, once for each thing undone"}},
	{"bind-off", form(numberForm), []string{"strandwise knit --to WORD, then strandwise bind-off"}},
	{"store backup", form(`.+`), []string{"strandwise store backup -o WORD"}},
	{"store export", form(`.+`), []string{"strandwise store export -o WORD"}},
	{"pieces", form(`.*`), []string{"strandwise pieces WORD"}},
	{"", form(`\pL.*`), []string{"strandwise COMMAND", "strandwise COMMAND --piece WORD, if it is the name of a piece"}},
}

var aboutPiece = []string{
	"show", "knit", "follow", "pause", "correct", "resume", "locate", "rip", "undo", "redo", "note", "bind-off",
	"review", "cards", "history", "replan", "motions", "yarn", "hold", "settings", "pieces rename", "pieces copy",
}

// slipHints says what was likely meant with the words too many; nil when nobody knows.
func slipHints(c *cobra.Command, words []string) []string {
	name, word, rest := frame.UnderRoot(c), words[0], strings.Join(words[1:], ",")
	if rest == "" {
		rest = "N"
	}
	for _, s := range misplacedWords {
		if s.command != name && (s.command != "" || !slices.Contains(aboutPiece, name)) || !s.form.MatchString(word) {
			continue
		}
		hints := make([]string, len(s.meant))
		for i, meant := range s.meant {
			hints[i] = strings.NewReplacer("--WORD", "--"+word, "WORD", frame.InShell(word), "REST", frame.InShell(rest), "COMMAND", name).Replace(meant)
		}
		return hints
	}
	return nil
}

var missingHints = map[string][]string{
	"pause":         {"strandwise pause 14, if 14 stitches are worked", "strandwise pause 14@3, if stitch 14 of repeat 3 is the last one"},
	"swatch":        {"strandwise swatch 22x24/10cm"},
	"locate":        {`strandwise locate "3 oat 1 fjord 5", with what you read off the needle`},
	"pieces switch": {"strandwise pieces NAME", "strandwise pieces, which lists the names"},
	"pieces remove": {"strandwise pieces remove NAME", "strandwise pieces, which lists the names"},
	"pieces rename": {"strandwise pieces rename NEW"},
	"pieces copy":   {"strandwise pieces copy second-mitten --mirrored"},
	"cast-on":       {"strandwise cast-on NAME PART..., as in strandwise cast-on hat band.chart@12"},
	"floats":        {"strandwise floats band.chart"},
}

var misplacedFlags = map[string]string{
	"swatch --gauge":     "strandwise swatch 22x24/10cm, the gauge without a flag",
	"pause --stitch":     "strandwise pause 14",
	"pause --row":        "strandwise pause 14, in the one to work",
	"rip --to":           "strandwise rip N, with how many to take out",
	"rip --row":          "strandwise rip N, with how many to take out",
	"rip --rows":         "strandwise rip N, with how many to take out",
	"note --text":        `strandwise note "what to remember"`,
	"cast-on --chart":    "strandwise cast-on hat band.chart",
	"cast-on --name":     "strandwise cast-on hat band.chart",
	"cast-on --repeats":  "strandwise cast-on hat band.chart@12",
	"cast-on --times":    "strandwise cast-on hat band.chart@12x2",
	"cast-on --rows":     "strandwise cast-on hat band.chart x:10, for ten plain ones of yarn x",
	"cast-on --round":    "leave it out: in the round is the default, --flat is the other way",
	"floats --chart":     "strandwise floats band.chart",
	"locate --runs":      `strandwise locate "3 oat 1 fjord 5"`,
	"pieces --switch":    "strandwise pieces NAME",
	"pieces --copy":      "strandwise pieces copy NAME",
	"pieces --rename":    "strandwise pieces rename NEW",
	"pieces --remove":    "strandwise pieces remove NAME",
	"hold --place":       "strandwise hold --dominant background",
	"review --html":      "strandwise review --sheet review.html",
	"review --svg":       "strandwise review --picture wrong-side.svg",
	"review --output":    "strandwise review --picture wrong-side.svg",
	"cards --pdf":        "strandwise cards -o cards.pdf",
	"cards --html":       "strandwise cards -o cards.html",
	"knit --all":         "strandwise knit --to N, N the last one",
	"follow --run":       "strandwise follow --by run",
	"follow --row":       "strandwise follow --by row",
	"follow --repeat":    "strandwise follow --by repeat",
	"bind-off --row":     "strandwise knit --to N, then strandwise bind-off",
	"settings --reset":   "strandwise settings KEY --unset",
	"settings --default": "strandwise settings KEY --unset",
}

// renamed are the old names of commands and flags, and the new.
var renamed = map[string]string{
	"pieces switch": "pieces NAME", "store where": "store",
	"show --steps": "more", "show --why": "more", "show --seats": "more", "swatch --rows": "row-count",
	"chart import --columns": "column-count", "chart import --rows": "row-count", "chart turn --mirror": "flip",
}

// belowZero moves a number below zero, unless it is behind a flag, behind "--" where the command takes
// a number: so the command can say which it takes, and not that it has no such flag.
func belowZero(args []string) []string {
	if len(args) < 2 || args[0] != "rip" && args[0] != "pause" {
		return args
	}
	for i := 1; i < len(args) && args[i] != "--"; i++ {
		digits, below := strings.CutPrefix(args[i], "-")
		if below && digits != "" && strings.Trim(digits, "0123456789") == "" && !strings.HasPrefix(args[i-1], "-") {
			return append(slices.Delete(slices.Clone(args), i, i+1), "--", args[i])
		}
	}
	return args
}
