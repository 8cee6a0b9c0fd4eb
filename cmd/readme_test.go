package cmd

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"strandwise/cmd/frame"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What the README shows is what the program prints: every block marked console is
// run, command by command, on one store in one folder that holds the examples. A
// line of "..." in a block stands for any lines.
func TestReadmeShowsTheTruth(t *testing.T) {
	text, err := os.ReadFile("../README.md")
	require.NoError(t, err)
	blocks := regexp.MustCompile("(?s)```console\n(.*?)```").FindAllStringSubmatch(string(text), -1)
	require.NotEmpty(t, blocks)
	folder := t.TempDir()
	require.NoError(t, copyCharts(filepath.Join(folder, "examples")))
	t.Chdir(folder)
	for _, block := range blocks {
		for _, shown := range strings.Split("\n"+block[1], "\n$ ")[1:] {
			command, want, _ := strings.Cut(shown, "\n")
			assert.Regexp(t, pattern(want), runAsShown(t, command), "$ "+command)
		}
	}
}

// pattern makes the expected output of what the README shows.
func pattern(shown string) string {
	expected := "^"
	for _, line := range strings.Split(strings.TrimRight(shown, "\n"), "\n") {
		if line == "..." {
			expected += "(.*\n)*"
			continue
		}
		expected += strings.ReplaceAll(regexp.QuoteMeta(line), `\.\.\.`, ".*") + "\n"
	}
	return expected + "$"
}

func runAsShown(t *testing.T, command string) string {
	words := strings.Fields(command)
	require.Equal(t, "strandwise", words[0])
	var out bytes.Buffer
	vars := map[string]string{"STRANDWISE_STORE": "pieces.store", "LANG": "C.UTF-8"}
	Main(frame.Env{
		Out: &out, Err: &out, Args: words[1:],
		Getenv: func(name string) string { return vars[name] },
	})
	return out.String()
}
