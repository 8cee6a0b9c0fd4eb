package cmd

import (
	"testing"

	"github.com/spf13/cobra"
	"github.com/stretchr/testify/assert"
)

// nested is the program with a parent command that has two parts.
func nested(env Env) *app {
	a := newApp(env)
	leaf := func(use string, most int) *cobra.Command {
		c := a.leaf(spec{use: use, short: "part", long: "A part.", most: most}, nil)
		c.Flags().Int("keep", 7, "keep `N` days")
		return c
	}
	adopt(a.root, a.parent(spec{use: "store", short: "parts", long: "Parts."}, leaf("backup [FILE]", 1), leaf("restore", 0)))
	return a
}

func TestTyposGetTheNearestAtEveryLevel(t *testing.T) {
	for _, c := range []struct {
		args []string
		says string
	}{
		{[]string{"stroe"}, "unknown command \"stroe\"\n  try: strandwise store\n"},
		{[]string{"sto"}, "unknown command \"sto\"\n  try: strandwise store\n"},
		{[]string{"store", "bakcup"}, "strandwise store has no part \"bakcup\"\n  try: strandwise store backup\n"},
		{[]string{"store", "bakcup", "--keep", "3"}, "strandwise store has no part \"bakcup\"\n  try: strandwise store backup\n"},
		{[]string{"store", "bakcup", "--help"}, "strandwise store has no part \"bakcup\"\n  try: strandwise store backup\n"},
		{[]string{"help", "store", "bakcup"}, "strandwise store has no part \"bakcup\"\n  try: strandwise store backup\n"},
		{[]string{"backup"}, "unknown command \"backup\"\n  try: strandwise store backup\n"},
		{[]string{"store", "completion"}, "strandwise store has no part \"completion\"\n  try: strandwise completion\n"},
		{[]string{"store", "lighthouse"}, "strandwise store has no part \"lighthouse\"\n  try: strandwise store --help, which lists what there is\n"},
		{[]string{"store", "backup", "--kep", "3"}, "strandwise store backup has no flag --kep\n  try: --keep\n"},
		{[]string{"store", "backup", "--keep", "x"}, "--keep takes a whole number, not \"x\"\n  try: --keep N\n"},
		{[]string{"store", "backup", "--keep"}, "--keep needs a value\n  try: --keep N\n"},
		{[]string{"store", "backup", "a", "b"}, "strandwise store backup takes at most 1 argument, so \"b\" is one too many\n  try: strandwise store backup [FILE]\n"},
		{[]string{"store", "restore", "a"}, "strandwise store restore takes no argument, so \"a\" is one too many\n  try: strandwise store restore\n"},
		{[]string{"store", "restore", "-q"}, "strandwise store restore has no flag -q\n  try: --quiet\n"},
		{[]string{"store", "restore", "-7"}, "strandwise store restore has no flag -7\n  try: strandwise store restore --help, which lists the flags; what begins with - and is no flag goes after --\n"},
	} {
		got := runApp(t, Env{}, nested, c.args...)
		assert.Equal(t, ran{2, "", "strandwise: " + c.says}, got, c.args)
	}
}

func TestParentAlonePrintsItsHelp(t *testing.T) {
	got := runApp(t, Env{}, nested, "store")
	assert.Zero(t, got.code)
	assert.Contains(t, got.out, "Commands:\n  backup: part\n  restore: part\n")
}

func TestArity(t *testing.T) {
	for _, c := range []struct {
		least, most int
		want        string
	}{
		{0, 0, "no argument"},
		{1, 1, "1 argument"},
		{2, 2, "2 arguments"},
		{0, 1, "at most 1 argument"},
		{1, 3, "1 to 3 arguments"},
		{2, anyNumber, "at least 2 arguments"},
	} {
		assert.Equal(t, c.want, (&spec{least: c.least, most: c.most}).arity())
	}
}
