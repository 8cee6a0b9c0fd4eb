package cmd

import (
	"testing"

	"strandwise/cmd/frame"

	"github.com/spf13/cobra"
	"github.com/stretchr/testify/assert"
)

// nested is the program with a parent command that has two parts.
func nested(env frame.Env) *frame.App {
	a := newApp(env)
	leaf := func(use string) *cobra.Command {
		c := a.Leaf(frame.Spec{Use: use}, nil)
		c.Short = "part"
		c.Flags().Int("keep", 7, "keep `N` days")
		return c
	}
	a.Root.AddCommand(a.Parent(frame.Spec{Use: "boathouse"}, leaf("anchor [FILE]"), leaf("tiller")))
	return a
}

func TestTyposGetTheNearestAtEveryLevel(t *testing.T) {
	for _, c := range []struct {
		args []string
		says string
	}{
		{[]string{"baothouse"}, "no such command: \"baothouse\"\n  try: strandwise boathouse\n"},
		{[]string{"boat"}, "no such command: \"boat\"\n  try: strandwise boathouse\n"},
		{[]string{"boathouse", "ancohr"}, "strandwise boathouse: no such command \"ancohr\"\n  try: strandwise boathouse anchor\n"},
		{[]string{"boathouse", "ancohr", "--keep", "3"}, "strandwise boathouse: no such command \"ancohr\"\n  try: strandwise boathouse anchor\n"},
		{[]string{"boathouse", "ancohr", "--help"}, "strandwise boathouse: no such command \"ancohr\"\n  try: strandwise boathouse anchor\n"},
		{[]string{"help", "boathouse", "ancohr"}, "strandwise boathouse: no such command \"ancohr\"\n  try: strandwise boathouse anchor\n"},
		{[]string{"anchor"}, "no such command: \"anchor\"\n  try: strandwise boathouse anchor\n"},
		{[]string{"boathouse", "completion"}, "strandwise boathouse: no such command \"completion\"\n  try: strandwise completion\n"},
		{[]string{"boathouse", "lighthouse"}, "strandwise boathouse: no such command \"lighthouse\"\n  try: strandwise boathouse --help, which lists what there is\n"},
		{[]string{"boathouse", "anchor", "--kep", "3"}, "strandwise boathouse anchor has no flag --kep\n  try: --keep\n"},
		{[]string{"boathouse", "anchor", "--keep", "x"}, "--keep takes a whole number, not \"x\"\n  try: --keep N\n"},
		{[]string{"boathouse", "anchor", "--keep"}, "--keep needs a value\n  try: --keep N\n"},
		{[]string{"boathouse", "anchor", "a", "b"}, "strandwise boathouse anchor takes at most 1 argument, so \"b\" is one too many\n  try: strandwise boathouse anchor [FILE]\n"},
		{[]string{"boathouse", "tiller", "a"}, "strandwise boathouse tiller takes no argument, so \"a\" is one too many\n  try: strandwise boathouse tiller\n"},
		{[]string{"boathouse", "tiller", "-q"}, "strandwise boathouse tiller has no flag -q\n  try: --quiet\n"},
		{[]string{"boathouse", "tiller", "-7"}, "strandwise boathouse tiller has no flag -7\n  try: strandwise boathouse tiller --help, which lists the flags; what begins with - and is no flag goes after --\n"},
	} {
		got := runApp(t, frame.Env{}, nested, c.args...)
		assert.Equal(t, ran{2, "", "strandwise: " + c.says}, got, c.args)
	}
}

func TestParentAlonePrintsItsHelp(t *testing.T) {
	got := runApp(t, frame.Env{}, nested, "boathouse")
	assert.Zero(t, got.code)
	assert.Contains(t, got.out, "Commands:\n  anchor: part\n  tiller: part\n")
}
