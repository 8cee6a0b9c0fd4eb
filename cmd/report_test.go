package cmd

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"strandwise/cmd/frame"
	"strandwise/cmd/paint"
)

// A message fits a narrow terminal, broken between words; off a terminal it is one line.
func TestMessagesFitTheTerminal(t *testing.T) {
	env := frame.Env{ErrTTY: true, Size: func() (width, height int) { return 40, 0 }}
	got := runMain(t, env, "hold", "one-a-time")
	message, hint, _ := strings.Cut(got.err, "\n  try: ")
	for _, line := range strings.Split(message, "\n") {
		assert.LessOrEqual(t, paint.Width(line), 40, line)
	}
	assert.Equal(t, "strandwise hold one-at-a-time\n", hint, "to be copied, so whole")
	assert.Equal(t, strings.Join(strings.Fields(message), " ")+"\n  try: "+hint, runMain(t, frame.Env{}, "hold", "one-a-time").err)
}
