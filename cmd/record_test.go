package cmd

import (
	"flag"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "write the goldens of the record and of JSON anew")

// The record holds what users see, so that a change of the code that is to change no
// answer is known to change none. Each testdata/record/NAME.txt is a session: command
// lines on a store, an empty folder and a clock of its own. NAME.golden beside it is what
// came of them. What the lines of both mean stands at recording; -update writes the
// goldens anew, and each difference is to be read.
func TestRecord(t *testing.T) {
	recordHome(t)
	scripts := recordScripts(t, "record")
	for _, script := range scripts {
		t.Run(sessionName(script), func(t *testing.T) {
			t.Parallel()
			r := record(t, script)
			compareGolden(t, strings.TrimSuffix(script, ".txt")+".golden", r.told.String())
		})
	}
	assertNoStale(t, filepath.Dir(scripts[0]), scripts)
}

// sessionName is the name of the session in a script.
func sessionName(script string) string {
	return strings.TrimSuffix(filepath.Base(script), ".txt")
}

// recordScripts are the sessions in a folder of testdata, by absolute paths.
func recordScripts(t *testing.T, folder string) []string {
	t.Helper()
	scripts, err := filepath.Glob(filepath.Join(testdata, folder, "*.txt"))
	require.NoError(t, err)
	require.NotEmpty(t, scripts)
	return scripts
}

// testdata is the folder of test data, wherever a test goes.
var testdata = func() string {
	path, err := filepath.Abs("testdata")
	if err != nil {
		panic(err)
	}
	return path
}()

// recordHome goes to a new folder with the example charts, so that sessions may name
// files by short paths that are the same on every machine, and puts the clock's zone to
// UTC. The caller's sessions may run side by side.
func recordHome(t *testing.T) {
	t.Helper()
	home := t.TempDir()
	require.NoError(t, copyCharts(filepath.Join(home, "examples")))
	t.Chdir(home)
	zone := time.Local
	time.Local = time.UTC
	t.Cleanup(func() { time.Local = zone })
}

// compareGolden holds what was got against the golden file, or writes it.
func compareGolden(t *testing.T, path, got string) {
	t.Helper()
	if *update {
		require.NoError(t, os.WriteFile(path, []byte(got), 0o644))
		return
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err, "-update writes it")
	if _, err := exec.LookPath(pdfReader); err != nil {
		got, want = withoutPDF(got), []byte(withoutPDF(string(want)))
	}
	if got != string(want) {
		assert.Fail(t, "the record differs: read it, then -update", "%s\n%s", path, firstDifference(string(want), got))
	}
}

// withoutPDF leaves out the text of PDF files, where there is nothing to read it with.
func withoutPDF(told string) string {
	var kept []string
	for line := range strings.Lines(told) {
		if !strings.HasPrefix(line, pdfMark) {
			kept = append(kept, line)
		}
	}
	return strings.Join(kept, "")
}

// firstDifference shows the command whose answer differs first, as it was and as it is.
func firstDifference(want, got string) string {
	w, g := strings.Split(want, "\n"), strings.Split(got, "\n")
	same, command := 0, ""
	for same < min(len(w), len(g)) && w[same] == g[same] {
		if strings.HasPrefix(w[same], "$ ") {
			command = w[same] + "\n"
		}
		same++
	}
	few := func(mark string, lines []string) (text string) {
		for _, line := range lines[same:min(same+6, len(lines))] {
			text += mark + line + "\n"
		}
		return text
	}
	return command + few("- ", w) + few("+ ", g)
}

// assertNoStale wants a script for every golden of a folder.
func assertNoStale(t *testing.T, folder string, scripts []string) {
	t.Helper()
	goldens, err := filepath.Glob(filepath.Join(folder, "*.golden"))
	require.NoError(t, err)
	for _, golden := range goldens {
		assert.Contains(t, scripts, strings.TrimSuffix(golden, ".golden")+".txt", "a golden without its session")
	}
}
