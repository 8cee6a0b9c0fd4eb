package cmd

import (
	"go/ast"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The tests that the gate runs without the race detector are named there; one that is renamed or
// gone is to go from the list as well.
func TestTheGateLeavesOutTestsThatThereAre(t *testing.T) {
	gate, err := os.ReadFile("../.ci/run")
	require.NoError(t, err)
	list := regexp.MustCompile(`(?s)\nunraced=\(\n(.*?)\n\)`).FindSubmatch(gate)
	require.NotNil(t, list)
	tests := map[string]bool{}
	for _, s := range sources(t) {
		for _, d := range s.file.Decls {
			if f, is := d.(*ast.FuncDecl); is && s.isTest() {
				tests[f.Name.Name] = true
			}
		}
	}
	for line := range strings.SplitSeq(string(list[1]), "\n") {
		names, _, _ := strings.Cut(line, "#")
		for _, name := range strings.Fields(names) {
			assert.True(t, tests["Test"+name], name)
		}
	}
}
