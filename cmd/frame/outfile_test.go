package frame

import (
	"bytes"
	"context"
	"io"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func writes(text string) func(io.Writer) error {
	return func(w io.Writer) error { _, err := io.WriteString(w, text); return err }
}

// onlyFile wants folder to hold one file of that name and text, and no draft.
func onlyFile(t *testing.T, name, text string) {
	t.Helper()
	entries, err := os.ReadDir(filepath.Dir(name))
	require.NoError(t, err)
	require.Len(t, entries, 1)
	got, err := os.ReadFile(name)
	require.NoError(t, err)
	assert.Equal(t, text, string(got))
}

func TestWriteOutput(t *testing.T) {
	name := filepath.Join(t.TempDir(), "sheet.html")
	a := newApp(Env{})
	require.NoError(t, a.WriteOutput(name, false, writes("first")))
	onlyFile(t, name, "first")

	err := a.WriteOutput(name, false, writes("second"))
	require.EqualError(t, err, name+" is there already and was kept")
	assert.Equal(t, ExitRefused, Describe(err).Exit)
	onlyFile(t, name, "first")

	require.NoError(t, os.Chmod(name, 0o640))
	require.NoError(t, a.WriteOutput(name, true, writes("third")))
	onlyFile(t, name, "third")
	info, err := os.Stat(name)
	require.NoError(t, err)
	assert.Equal(t, os.FileMode(0o640), info.Mode().Perm())
}

func TestFailedOutputLeavesNothing(t *testing.T) {
	name := filepath.Join(t.TempDir(), "sheet.html")
	a := newApp(Env{})
	require.NoError(t, a.WriteOutput(name, false, writes("first")))
	var cancel context.CancelFunc
	a.ctx, cancel = context.WithCancel(t.Context())
	cancel()
	require.ErrorIs(t, a.WriteOutput(name, true, writes("second")), context.Canceled)
	a.ctx = t.Context()
	onlyFile(t, name, "first")
	half := func(w io.Writer) error { _, _ = io.WriteString(w, "half"); return Refused("no such piece") }
	require.EqualError(t, a.WriteOutput(name, true, half), "no such piece")
	onlyFile(t, name, "first")
}

func TestDraftsOfKilledRunsAreTakenAway(t *testing.T) {
	name := filepath.Join(t.TempDir(), "sheet.html")
	draft := func(tail string, age time.Duration) string {
		file := filepath.Join(filepath.Dir(name), tail)
		require.NoError(t, os.WriteFile(file, nil, 0o600))
		require.NoError(t, os.Chtimes(file, time.Now().Add(-age), time.Now().Add(-age)))
		return file
	}
	old, young, other := draft(".sheet.html.ABCDEFGH.part", 25*time.Hour), draft(".sheet.html.ABCDEFGI.part", 0), draft(".page.html.ABCDEFGH.part", 25*time.Hour)
	kept := []string{young, other, draft(".sheet.html.part", 25*time.Hour), draft(".sheet.html.mine.part", 25*time.Hour)}
	folder := filepath.Join(filepath.Dir(name), ".sheet.html.ABCDEFGJ.part")
	require.NoError(t, os.Mkdir(folder, 0o700))
	require.NoError(t, os.Chtimes(folder, time.Now().Add(-25*time.Hour), time.Now().Add(-25*time.Hour)))
	require.NoError(t, newApp(Env{}).WriteOutput(name, false, writes("x")))
	assert.NoFileExists(t, old)
	assert.DirExists(t, folder)
	for _, theirs := range kept {
		assert.FileExists(t, theirs)
	}
}

func TestFileThatAppearsMeanwhileIsKept(t *testing.T) {
	name := filepath.Join(t.TempDir(), "sheet.html")
	err := newApp(Env{}).WriteOutput(name, false, func(io.Writer) error {
		return os.WriteFile(name, []byte("theirs"), 0o600)
	})
	require.EqualError(t, err, name+" is there already and was kept")
	onlyFile(t, name, "theirs")
}

func TestOutputThroughALinkReplacesItsTarget(t *testing.T) {
	target := filepath.Join(t.TempDir(), "target")
	link := filepath.Join(t.TempDir(), "link")
	require.NoError(t, os.WriteFile(target, []byte("old"), 0o600))
	require.NoError(t, os.Symlink(target, link))
	require.NoError(t, newApp(Env{}).WriteOutput(link, true, writes("new")))
	onlyFile(t, target, "new")
}

func TestWhereNoFileCanBe(t *testing.T) {
	folder := t.TempDir()
	a := newApp(Env{})
	for name, says := range map[string]string{
		folder:     folder + " is there and is no regular file",
		os.DevNull: os.DevNull + " is there and is no regular file",
		filepath.Join(folder, "none", "sheet.html"): "cannot write " + filepath.Join(folder, "none", "sheet.html") + ": no such file or directory",
	} {
		err := a.WriteOutput(name, true, writes("x"))
		require.EqualError(t, err, says)
		assert.Equal(t, ExitUnusable, Describe(err).Exit)
	}
}

func TestDashIsTheAnswer(t *testing.T) {
	var out bytes.Buffer
	a := newApp(Env{Out: &out})
	require.NoError(t, a.WriteOutput("-", false, writes("page")))
	require.NoError(t, a.Out.Flush())
	assert.Equal(t, "page", out.String())
}
