package cmd

import (
	"os"
	"strings"
	"testing"

	"strandwise/cmd/frame"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// wrongInputs are slips of a knitter at the keyboard: a letter wrong in each command,
// flag, hold, yarn, list and number. Each says what happened and where (says), and
// what to do (next).
var wrongInputs = []struct {
	line string // words are parted by blanks; _ stands for a blank within a word
	code int
	says string
	next string
}{
	// Commands.
	{"shw", 2, `no such command: "shw"`, "strandwise show"},
	{"knti", 2, `no such command: "knti"`, "strandwise knit"},
	{"castt-on a b", 2, `no such command: "castt-on"`, "strandwise cast-on"},
	{"resum", 2, `no such command: "resum"`, "strandwise resume"},
	{"undoo", 2, `no such command: "undoo"`, "strandwise undo"},
	{"pieces swich cowl", 2, `"cowl" is one too many`, "strandwise pieces cowl"},
	{"chart chek band.chart", 2, `chart: no such command "chek"`, "strandwise chart check"},
	{"store chck", 2, `store: no such command "chck"`, "strandwise store check"},
	{"help knti", 2, `no such command: "knti"`, "strandwise knit"},
	{"completion bsh", 2, `completion knows bash`, "strandwise completion"},
	{"undo three", 2, "takes how many things", "strandwise undo 2"},
	{"resume extra", 2, `"extra" is one too many`, "strandwise resume"},
	{"store salvage", 2, "takes 1 argument and got 0", "strandwise store salvage FILE"},
	{"cast-on", 2, "takes at least 2 arguments and got 0", "cast-on NAME PART..."},

	// Flags and their words.
	{"knit --moevd a+1", 2, "no flag --moevd", "--moved"},
	{"show --rwo 3", 2, "no flag --rwo", "--row"},
	{"knit --moved", 2, "--moved needs a value", "--moved"},
	{"--color red show", 2, `--color takes auto, always or never, not "red"`, "--color auto"},
	{"follow --by stitch", 2, `--by takes row, repeat or run, not "stitch"`, "--by run"},
	{"review --side up --picture x.svg", 2, `--side takes right or wrong, not "up"`, "--side right"},
	{"review --picture x.bmp", 2, "x.bmp", ".svg"},
	{"review --picture x.svg --rows 3:40", 2, "the piece has rounds 1 to 22", "--rows 1:22"},
	{"review --picture x.svg --repeats 7", 2, "there are repeats 1 to 6", "--repeats 1:6"},
	{"review --repeats 2", 2, "goes with --side or --picture", "strandwise review --side wrong --repeats 2"},
	{"floats band.chart --picture x.bmp", 2, "x.bmp", ".svg"},
	{"cards -o x.pdf --paper a5", 2, `--paper takes a4 or letter, not "a5"`, "--paper a4"},
	{"cards -o x.doc", 2, "x.doc", ".pdf"},
	{"review --sheet my_review.txt", 2, `--sheet takes a name that ends in .html, not "my review.txt"`, `--sheet "my review.html"`},
	{"review --side wrong --rows +3", 2, `--rows takes a round or two, not "+3"`, "--rows 3 or --rows 3:20"},
	{"chart draw band.chart -o x.gif", 2, "x.gif", "x.svg"},
	{"cast-on hat band.chart --item hatt", 2, `--item takes general`, "--item"},

	// Holds and how floats are caught.
	{"hold --hold two-hand", 2, `not "two-hand"`, "--hold two-hands"},
	{"cast-on hat band.chart --hold left-finger", 2, `not "left-finger"`, "--hold"},
	{"hold --carry rotatng", 2, `not "rotatng"`, "--carry rotating"},
	{"hold --carry rotating", 2, "cannot go with a rotating carry", "--carry parallel"},
	{"motions --method twst", 2, `not "twst"`, "--method twist"},
	{"settings hold tow-hands", 2, `not "tow-hands"`, "strandwise settings hold"},
	{"settings hodl two-hands", 2, "no setting named hodl", "strandwise settings hold"},

	// Yarns.
	{"hold --dominant fjrod", 2, `not "fjrod"`, "fjord"},
	{"knit --extra fjrod:9", 1, "no yarn fjrod", "fjord"},
	{"locate 3 oot", 2, `"oot"`, "oat"},
	{"yarn --used fjrd=3g", 2, `no yarn "fjrd"`, "fjord"},
	{"cast-on hat q:3 band.chart", 3, "yarn q", "yarn: q NAME"},
	{"cast-on hat band.chart sea.chart", 3, "yarn . is fjord", "another yarn"},

	// Lists.
	{"knit --moved a", 2, `"a" is not possible`, "a+1"},
	{"knit --missed a,,b", 2, `"" is not possible`, "commas between"},
	{"knit --moved=", 2, "--moved names no catch", "--moved a+1"},
	{"knit --moved a+1 --missed=_", 2, "--missed names no catch", "--missed a"},
	{"knit --to 6 --extra=", 2, "--extra names no catch", "--extra 9"},
	{"knit --moved 6:4", 1, "a catch is named by its letter; round 5 has a (", "--moved a+1"},
	{"knit --missed z", 1, "there is no catch z; round 5 has a (", "strandwise show"},
	{"knit --extra 9999", 1, "no stitch 9999", "strandwise show"},

	// Numbers.
	{"knit --row 99", 2, "--row takes a round from 1 to 22", "strandwise show"},
	{"knit --row 3", 1, "round 3 is already logged", "strandwise show"},
	{"knit --row 0", 2, "0 is not possible", "a whole number from 1"},
	{"knit --to 0", 2, "not 0", "--to 22"},
	{"knit --row fife", 2, `--row takes a whole number, not "fife"`, "--row N"},
	{"knit --row -1", 2, "-1 is not possible", "a whole number from 1"},
	{"knit --to 999", 2, "not 999", "--to 22"},
	{"show --row 999", 2, "not 999", "--row 5"},
	{"rip 99 --yes", 1, "4 are worked", "strandwise resume"},
	{"rip al --yes", 2, `not "al"`, "strandwise rip 1"},
	{"pause 999", 1, "999 is too many", "strandwise pause"},
	{"note --done x", 2, `--done takes a whole number`, "--done N"},
	{"note --done 77", 1, "no note 77", "strandwise note"},
	{"cast-on hat band.chart@x", 2, "part band.chart@x", "band.chart@12"},
	{"cast-on hat band.chart@0", 2, "not 0", "1 or more"},
	{"cast-on hat x:three", 2, "part x:three", "x:4"},
	{"cast-on hat band.chart --gauge 24", 2, `gauge "24"`, "the length is not"},
	{"cast-on hat band.chart --limit 2mc", 2, `limit "2mc"`, "2cm"},
	{"floats band.chart --limit -3", 2, `limit "-3"`, "1 to 9999"},
	{"settings width wide", 2, `not "wide"`, "strandwise settings width"},
	{"replan --limit zero", 2, `limit "zero"`, "like 5"},

	// Words where a flag or nothing should be.
	{"hold one-at-a-tim", 2, `not "one-at-a-tim"`, "strandwise hold one-at-a-time"},
	{"hold twist", 2, `"twist" is no hold`, "strandwise hold --method twist"},
	{"hold fjord", 2, `not "fjord"`, "strandwise hold --dominant fjord"},
	{"motions two-hands", 2, `"two-hands" is one too many`, "strandwise motions --hold two-hands"},
	{"cards c.pdf", 2, `"c.pdf" is one too many`, "strandwise cards -o c.pdf"},
	{"cards 3:9", 2, `"3:9" is one too many`, "strandwise cards --rows 3:9 -o cards.pdf"},
	{"review wrong.svg", 2, `"wrong.svg" is one too many`, "strandwise review --picture wrong.svg"},
	{"review page.html", 2, `"page.html" is one too many`, "strandwise review --sheet page.html"},
	{"review wrong", 2, `"wrong" is one too many`, "strandwise review --side wrong"},
	{"knit 5", 2, `"5" is one too many`, "strandwise knit --to 5"},
	{"knit a+1", 2, `"a+1" is one too many`, "strandwise knit --moved a+1"},
	{"knit missed a b", 2, `"missed" is one too many`, "strandwise knit --missed a,b"},
	{"show 5", 2, `"5" is one too many`, "strandwise show --row 5"},
	{"show cowl", 2, `"cowl" is one too many`, "strandwise show\n  try: strandwise show --piece cowl"},
	{"follow run", 2, `"run" is one too many`, "strandwise follow --by run"},
	{"history 9", 2, `"9" is one too many`, "strandwise history --last 9"},
	{"pieces cowll", 1, "no piece named cowll", "strandwise pieces cowl"},
	{"pause", 2, "takes 1 argument and got 0", "strandwise pause 14"},
	{"swatch", 2, "takes 1 argument and got 0", "strandwise swatch 22x24/10cm"},
	{"swatch --gauge 22x24/10cm", 2, "no flag --gauge", "strandwise swatch 22x24/10cm"},
	{"rip --rows 2", 2, "no flag --rows", "strandwise rip N"},
	{"pieces remov hat", 2, "no such command \"remov\"", "strandwise pieces remove"},
	{"pieces delete hat", 2, "no such command \"delete\"", "strandwise pieces remove NAME"},
	{"pieces hat --josn", 2, "no flag --josn", "--json"},
	{"yarn --ball oat", 2, "takes YARN=50g/175m", "--ball x=50g/175m"},
	{"note --row 3", 2, "needs a text", `strandwise note "what to remember"`},
	{"note --whole", 2, "needs a text", `strandwise note "what to remember"`},
	{"chart draw band.chart --cell abc", 2, `not "abc"`, "--cell 12x10"},
	{"chart draw band.chart --cell +8x8 -o x.png", 2, `--cell takes pixels as WxH, each 1 to 1000, not "+8x8"`, "--cell 12x10"},
	{"chart turn band.chart --at 3", 2, `--at takes a column and a row of the ground, not "3"`, "--at 1,1"},
	{"note a\xff", 2, "give plain text", ""},
	{"pieces rename cowl a\xff", 2, "one line of plain text", ""},
	{"chart draw band.chart --bare -o -", 2, "--bare is for a picture", "-o NAME.svg"},
	{"cast-on sock band.chart --item sock", 2, "--item takes general", "--item hands-feet"},
	{"cast-on hat band.chart --hold both", 2, "--hold takes two-hands", "--hold two-hands"},

	// Names of pieces and files.
	{"show --piece harber_hat", 1, "no piece named harber hat", "harbor hat"},
	{"show --piece cwl", 1, "no piece named cwl", "--piece cowl"},
	{"show --piece harb", 1, "no piece named harb", `--piece "harbor hat"`},
	{"pieces switch cowll", 1, "no piece named cowll", "strandwise pieces cowl"},
	{"locate 3 slate", 2, `"slate" is no yarn of the piece`, "3 oat 1 fjord 5"},
	{"pieces rename cowll 50%dawn", 1, "no piece named cowll", "strandwise pieces rename cowl 50%dawn"},
	{"pieces rename cowl harbor_hat", 1, "a piece named harbor hat already", "another name"},
	{"pieces remove cowl", 2, "remove cowl", "--yes"},
	{"cast-on harbor_hat band.chart", 1, "a piece named harbor hat already", "another name"},
	{"cast-on hat bnad.chart", 3, "cannot read bnad.chart", "band.chart"},
	{"chart check nochart", 3, "cannot read nochart", "check the name"},
	{"store import band.chart --yes", 3, "band.chart:1: this is not an export", "export the store again"},
	{"store restore none.store --yes", 3, "cannot read none.store", "check the name"},
}

func TestWrongInputsChangeNothing(t *testing.T) {
	require.GreaterOrEqual(t, len(wrongInputs), 50)
	folder := t.TempDir()
	for from, to := range map[string]string{"lantern-band": "band", "night-sea": "sea"} {
		text, err := os.ReadFile("../examples/" + from + ".chart")
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(folder+"/"+to+".chart", text, 0o600))
	}
	t.Chdir(folder)
	path := folder + "/pieces.store"
	for _, line := range []string{
		"cast-on cowl sea.chart@2", "cast-on harbor_hat band.chart@6 --gauge 24x26/10cm", "knit --to 4", "store backup",
	} {
		require.Zero(t, onStore(t, path, wordsOfLine(line)...).code, line)
	}
	env := frame.Env{Getenv: fromMap(map[string]string{"STRANDWISE_STORE": path})}
	before, files := sumOf(t, path), namesIn(t, folder)
	for _, c := range wrongInputs {
		got := runMain(t, env, wordsOfLine(c.line)...)
		assert.Equal(t, c.code, got.code, c.line)
		assert.Empty(t, got.out, c.line)
		what, next, found := strings.Cut(got.err, "\n  try: ")
		assert.True(t, strings.HasPrefix(what, "strandwise: "), c.line)
		assert.Contains(t, what, c.says, c.line)
		if !found { // the message itself says what to do
			_, next, found = strings.Cut(what, "; give ")
		}
		assert.True(t, found, "%s: nothing says what to do: %s", c.line, got.err)
		assert.Contains(t, next, c.next, c.line)
		for _, inner := range []string{"strconv", "0x", "goroutine", "%!", "nil"} {
			assert.NotContains(t, got.err, inner, c.line)
		}
		assert.Equal(t, before, sumOf(t, path), c.line)
		assert.Equal(t, files, namesIn(t, folder), c.line)
	}
}

// wordsOfLine parts a line of the table into arguments.
func wordsOfLine(line string) []string {
	words := strings.Fields(line)
	for i := range words {
		words[i] = strings.ReplaceAll(words[i], "_", " ")
	}
	return words
}

func namesIn(t *testing.T, folder string) []string {
	t.Helper()
	entries, err := os.ReadDir(folder)
	require.NoError(t, err)
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	return names
}
