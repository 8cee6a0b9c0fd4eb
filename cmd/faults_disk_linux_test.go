package cmd

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// nobody is a user who owns nothing, as tests that run as root need one.
const nobody = 65534

// asNobody runs the program as a user who is bound by permissions. It needs a copy
// of the program that such a user can read.
func asNobody(t *testing.T, path string) *terminal {
	t.Helper()
	w := terminalOn(t, path)
	if os.Getuid() != 0 {
		return w
	}
	self, err := os.Executable()
	require.NoError(t, err)
	data, err := os.ReadFile(self)
	require.NoError(t, err)
	folder := openFolder(t)
	w.names = filepath.Join(folder, "strandwise")
	require.NoError(t, os.WriteFile(w.names, data, 0o755))
	w.set = func(c *exec.Cmd) {
		c.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: nobody, Gid: nobody}}
		c.Dir = "/"
	}
	return w
}

// openFolder is a folder that every user can look into.
func openFolder(t *testing.T) string {
	t.Helper()
	folder, err := os.MkdirTemp("/tmp", "strandwise-test-")
	require.NoError(t, err)
	t.Cleanup(func() { _ = os.RemoveAll(folder) })
	require.NoError(t, os.Chmod(folder, 0o755))
	return folder
}

// storeOfNobody is a store in a folder, both given to nobody, with these modes.
func storeOfNobody(t *testing.T, file, folder os.FileMode) string {
	t.Helper()
	data, err := os.ReadFile(seededStore(t, planted("hat", 3)))
	require.NoError(t, err)
	dir := filepath.Join(openFolder(t), "kept")
	path := filepath.Join(dir, "pieces.store")
	require.NoError(t, os.Mkdir(dir, 0o755))
	require.NoError(t, os.WriteFile(path, data, 0o600))
	if os.Getuid() == 0 {
		require.NoError(t, os.Chown(path, nobody, nobody))
		require.NoError(t, os.Chown(dir, nobody, nobody))
	}
	require.NoError(t, os.Chmod(path, file))
	require.NoError(t, os.Chmod(dir, folder))
	t.Cleanup(func() { _ = os.Chmod(dir, 0o755) })
	return path
}

func TestReadOnlyFileAndFolder(t *testing.T) {
	readOnly := asNobody(t, storeOfNobody(t, 0o400, 0o500))
	readOnly.wants(0, "", "show")
	readOnly.wants(0, "", "store", "check")
	readOnly.wants(0, "", "store", "export")
	readOnly.wants(5, "permission denied", "knit")
	readOnly.wants(5, "permission denied", "undo")
	readOnly.wants(5, "permission denied", "store", "backup")

	unreadable := asNobody(t, storeOfNobody(t, 0o000, 0o700))
	unreadable.wants(5, "permission denied", "show")
	unreadable.wants(5, "permission denied", "knit")
}

func TestStepInAReadOnlyFolderIsSavedWithoutItsBackup(t *testing.T) {
	path := storeOfNobody(t, 0o600, 0o500)
	got := asNobody(t, path).run("knit")
	assert.Zero(t, got.code, got.err)
	assert.Contains(t, got.err, "the step is saved, but today's backup could not be made")
	assert.Equal(t, 5, eventsOf(t, path))
}

// mounted is a small file system of its own in memory.
func mounted(t *testing.T, size string) string {
	t.Helper()
	if os.Getuid() != 0 {
		t.Skip("only root can mount")
	}
	folder := t.TempDir()
	if err := syscall.Mount("tmpfs", folder, "tmpfs", 0, "size="+size); err != nil {
		t.Skipf("a file system cannot be mounted here: %v", err)
	}
	t.Cleanup(func() { _ = syscall.Unmount(folder, syscall.MNT_DETACH) })
	return folder
}

// storeIn puts a seeded store into a folder.
func storeIn(t *testing.T, folder string) string {
	t.Helper()
	data, err := os.ReadFile(seededStore(t, planted("hat", 3)))
	require.NoError(t, err)
	path := filepath.Join(folder, "pieces.store")
	require.NoError(t, os.WriteFile(path, data, 0o600))
	return path
}

func TestReadOnlyMount(t *testing.T) {
	folder := mounted(t, "1m")
	w := terminalOn(t, storeIn(t, folder))
	require.NoError(t, syscall.Mount("", folder, "", syscall.MS_REMOUNT|syscall.MS_RDONLY, ""))
	w.wants(0, "", "show")
	w.wants(5, "read-only file system", "knit")
	w.wants(5, "read-only file system", "store", "backup")
}

// fill leaves no room in a folder's file system.
func fill(t *testing.T, folder string) (name string) {
	t.Helper()
	name = filepath.Join(folder, "filler")
	f, err := os.Create(name)
	require.NoError(t, err)
	defer f.Close()
	for size := 1 << 16; size > 0; {
		if _, err := f.Write(make([]byte, size)); err != nil {
			require.ErrorIs(t, err, syscall.ENOSPC)
			size /= 2
		}
	}
	return name
}

func TestDiskFull(t *testing.T) {
	folder := mounted(t, "1m")
	path := storeIn(t, folder)
	w := terminalOn(t, path)
	require.Zero(t, w.run("knit").code) // the day's backup with it
	filler := fill(t, folder)
	knitUntilFull(t, w, path)
	w.wants(0, "", "show")
	got := w.run("store", "backup")
	assert.Equal(t, 5, got.code)
	assert.Contains(t, got.err, "no space left on device")
	entries, err := os.ReadDir(path + ".backups")
	require.NoError(t, err)
	assert.Len(t, entries, 1, "only the whole one has a name")

	require.NoError(t, os.Remove(filler))
	requireSound(t, path)
	before := eventsOf(t, path)
	assert.Zero(t, w.run("knit").code)
	assert.Equal(t, before+1, eventsOf(t, path))
}

// knitUntilFull steps on until the file can grow no more; that step must leave the
// state as it was.
func knitUntilFull(t *testing.T, w *terminal, path string) {
	t.Helper()
	for range 50 {
		before := eventsOf(t, path)
		got := w.run("note", string(bytes.Repeat([]byte("tide "), 300)))
		if got.code == 0 {
			continue
		}
		assert.Equal(t, 5, got.code, got.err)
		assert.Contains(t, got.err, "no space left on device")
		assert.Contains(t, got.err, "nothing was saved")
		assert.Equal(t, before, eventsOf(t, path))
		return
	}
	t.Error("the disk never filled up")
}

func TestDiskFullOnCreateAndImport(t *testing.T) {
	file := filepath.Join(t.TempDir(), "all.jsonl")
	terminalOn(t, seededStore(t, planted("hat", 3))).wants(0, "", "store", "export", "-o", file)
	folder := mounted(t, "64k")
	fill(t, folder)
	w := terminalOn(t, filepath.Join(folder, "pieces.store"))
	w.wants(5, "no space left on device", "cast-on", "hat", "../examples/lantern-band.chart")
	w.wants(5, "no space left on device", "store", "import", file, "--yes")
	entries, err := os.ReadDir(folder)
	require.NoError(t, err)
	assert.Len(t, entries, 1, "only the filler is there")
}

func TestFailingSync(t *testing.T) {
	need(t, "strace")
	for _, which := range []string{"1", "2"} {
		for !failingSync(t, which) {
		}
	}
}

// failingSync lets a sync of a step fail, by its number, and reports whether it did:
// strace counts each thread's calls by themselves, and the second may come from another.
func failingSync(t *testing.T, which string) bool {
	t.Helper()
	path := seededStore(t, planted("hat", 3))
	require.Zero(t, terminalOn(t, path).run("knit").code) // the day's backup syncs too
	w := terminalOn(t, path)
	c := w.command("knit")
	record := filepath.Join(t.TempDir(), "calls")
	args := append([]string{"-f", "-o", record, "-e", "trace=fdatasync", "-e", "inject=fdatasync:error=EIO:when=" + which}, c.Path, "knit")
	traced := exec.Command("strace", args...)
	traced.Env = c.Env
	var stderr bytes.Buffer
	traced.Stderr = &stderr
	code := codeOf(t, traced.Run())
	calls, err := os.ReadFile(record)
	require.NoError(t, err)
	if !bytes.Contains(calls, []byte("INJECTED")) {
		return false
	}
	assert.Equal(t, 7, code, stderr.String())
	assert.Contains(t, stderr.String(), "may or may not be saved")
	assert.Contains(t, stderr.String(), "strandwise resume")
	assert.Contains(t, []int{5, 6}, eventsOf(t, path))
	requireSound(t, path)
	return true
}
