package frame

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestReadInput(t *testing.T) {
	folder := t.TempDir()
	name := filepath.Join(folder, "band.chart")
	require.NoError(t, os.WriteFile(name, []byte("rows:\n"), 0o600))
	a := newApp(Env{In: strings.NewReader("from a pipe")})
	data, title, err := a.ReadInput(name)
	require.NoError(t, err)
	assert.Equal(t, "rows:\n", string(data))
	assert.Equal(t, name, title)
	data, title, err = a.ReadInput("-")
	require.NoError(t, err)
	assert.Equal(t, "from a pipe", string(data))
	assert.Equal(t, "standard input", title)
}

func TestWaitingOnATerminalSaysSo(t *testing.T) {
	var notices bytes.Buffer
	a := newApp(Env{In: strings.NewReader(""), InTTY: true, Err: &notices})
	_, _, err := a.ReadInput("-")
	require.NoError(t, err)
	assert.Contains(t, notices.String(), "waiting for standard input")
}

func TestMissingFileOffersTheNearest(t *testing.T) {
	folder := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(folder, "harbour.chart"), nil, 0o600))
	_, _, err := newApp(Env{}).ReadInput(filepath.Join(folder, "harbuor.chart"))
	p := Describe(err)
	assert.Equal(t, ExitInput, p.Exit)
	assert.Equal(t, "cannot read "+filepath.Join(folder, "harbuor.chart")+": no such file or directory", p.What)
	assert.Equal(t, []string{filepath.Join(folder, "harbour.chart")}, p.Hints)
	_, _, err = newApp(Env{}).ReadInput(filepath.Join(folder, "mitten.png"))
	assert.Equal(t, []string{"check the name and the folder it is in"}, Describe(err).Hints)
}

func TestTooLargeAFileIsRefused(t *testing.T) {
	name := filepath.Join(t.TempDir(), "huge")
	require.NoError(t, os.WriteFile(name, nil, 0o600))
	require.NoError(t, os.Truncate(name, inputMost+1))
	_, _, err := newApp(Env{}).ReadInput(name)
	require.ErrorContains(t, err, "it is larger than 64 MiB")
	assert.Equal(t, ExitInput, Describe(err).Exit)
}
