package cmd

import (
	"path/filepath"
	"strings"
	"testing"

	"strandwise/cmd/answer"
	"strandwise/cmd/frame"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestSettingsPrintsEachWithItsOrigin(t *testing.T) {
	path := filepath.Join(t.TempDir(), "none.store")
	got := runMain(t, frame.Env{Getenv: fromMap(map[string]string{"STRANDWISE_UNITS": "inches"})}, "settings", "--quiet", "--store", path)
	require.Zero(t, got.code, got.err)
	for _, s := range frame.Settings {
		assert.Contains(t, "\n"+got.out, "\n"+s.Key+": ")
	}
	assert.Contains(t, got.out, "units: inches (variable STRANDWISE_UNITS)\n")
	assert.Contains(t, got.out, "quiet: yes (flag --quiet)\n")
	assert.Contains(t, got.out, "hold: two-hands (default)\n    how you hold the yarns")
	assert.NoFileExists(t, path, "a list touches nothing")
}

func TestSettingIsKeptAndForgotten(t *testing.T) {
	path := filepath.Join(t.TempDir(), "new.store")
	got := onStore(t, path, "settings", "hold", "left-one-finger")
	assert.Equal(t, ran{0, "hold is left-one-finger from now on\n", ""}, got)
	body := mustJSON[answer.Settings](t, path, 0, "settings", "hold")
	require.Len(t, body.Settings, 1)
	assert.Equal(t, "left-one-finger", body.Settings[0].Value)
	assert.Equal(t, "stored setting", body.Settings[0].Origin)
	assert.Len(t, body.Settings[0].Values, 6)
	got = onStore(t, path, "settings", "hold", "--unset")
	assert.Equal(t, ran{0, "hold is back to the default, two-hands\n", ""}, got)
	assert.Len(t, mustJSON[answer.Settings](t, path, 0, "settings").Settings, len(frame.Settings))
}

func TestSwitchesAreKeptAsYesAndNo(t *testing.T) {
	path := filepath.Join(t.TempDir(), "new.store")
	require.Zero(t, onStore(t, path, "settings", "mirror", "on").code)
	assert.Equal(t, "yes", mustJSON[answer.Settings](t, path, 0, "settings", "mirror").Settings[0].Value)
}

func TestVariableGoesBeforeWhatIsKept(t *testing.T) {
	env := frame.Env{Getenv: fromMap(map[string]string{"HOME": t.TempDir(), "STRANDWISE_UNITS": "inches"})}
	got := runMain(t, env, "settings", "units", "cm")
	assert.Equal(t, "units is saved as cm, but the variable STRANDWISE_UNITS says inches and goes\nfirst\n", got.out)
}

func TestSettingsRefusals(t *testing.T) {
	path := filepath.Join(t.TempDir(), "none.store")
	for args, want := range map[string][2]string{
		"colour never":        {"there is no setting named colour", "strandwise settings color"},
		"lighthouse":          {"there is no setting named lighthouse", "strandwise settings, which lists them"},
		"hold left-one-fingr": {"hold takes two-hands, left-one-finger", "strandwise settings hold left-one-finger"},
		"width wide":          {"width takes a whole number of columns", "strandwise settings width,"},
		"pause -1":            {"", ""}, // -1 reads as a flag
		"pause often":         {"pause takes a whole number, 0 or more", "strandwise settings pause,"},
		"units cubits":        {"units takes cm or inches", "strandwise settings units cm"},
		"store elsewhere":     {"where the store is cannot be kept in the store", "STRANDWISE_STORE"},
		"piece hat":           {"the piece is chosen by another command", "strandwise pieces NAME"},
		"hold a b":            {"one too many", "strandwise settings"},
		"--unset":             {"--unset takes one key", "KEY --unset"},
		"hold weave --unset":  {"--unset takes one key", "KEY --unset"},
	} {
		got := onStore(t, path, append([]string{"settings"}, strings.Fields(args)...)...)
		assert.Equal(t, 2, got.code, args)
		assert.Empty(t, got.out, args)
		assert.Contains(t, got.err, want[0], args)
		assert.Contains(t, got.err, want[1], args)
		assert.Contains(t, got.err, "nothing was saved", args)
		assert.NoFileExists(t, path, args)
	}
}

func TestTheVariableOfAnotherPieceIsToldOf(t *testing.T) {
	folder := t.TempDir()
	env := frame.Env{Getenv: fromMap(map[string]string{"STRANDWISE_PIECE": "hat", "STRANDWISE_STORE": folder + "/pieces.store"})}
	const told = "variable STRANDWISE_PIECE still names hat and goes first"
	assert.NotContains(t, runMain(t, env, "cast-on", "hat", "../examples/practice.chart").err, told)
	for _, line := range []string{"cast-on cowl ../examples/practice.chart", "pieces switch cowl", "pieces copy mitten --piece cowl"} {
		got := runMain(t, env, strings.Fields(line)...)
		require.Zero(t, got.code, got.err)
		assert.Contains(t, got.err, told, line)
	}
}
