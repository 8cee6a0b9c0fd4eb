package cmd

import (
	"bytes"
	"errors"
	"io"
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// failing is a writer that always fails.
type failing struct{ err error }

func (f failing) Write([]byte) (int, error) { return 0, f.err }

func TestFailedAnswer(t *testing.T) {
	for _, c := range []struct {
		name, command string
		err           error
		code          int
		says          string
	}{
		{"read, closed pipe", "print", syscall.EPIPE, 0, ""},
		{"read, full disk", "print", syscall.ENOSPC, 5, "strandwise: the answer could not be written: no space left on device\n"},
		{"step, closed pipe", "save", syscall.EPIPE, 8, "strandwise: saved, but the answer could not be printed: broken pipe\n"},
		{"step, full disk", "save", syscall.ENOSPC, 8, "strandwise: saved, but the answer could not be printed: no space left on device\n"},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := runProbe(t, Env{Out: failing{c.err}}, c.command)
			assert.Equal(t, c.code, got.code)
			first, _, _ := strings.Cut(got.err, "  try")
			assert.Equal(t, c.says, first)
		})
	}
}

func TestOutputRemembersTheFirstFailure(t *testing.T) {
	o := &output{to: failing{io.ErrUnexpectedEOF}}
	_, err := o.Write(make([]byte, heldMost))
	require.NoError(t, err)
	_, err = o.Write([]byte("more"))
	require.ErrorIs(t, err, io.ErrUnexpectedEOF)
	_, err = o.Write([]byte("again"))
	require.ErrorIs(t, err, io.ErrUnexpectedEOF)
	require.ErrorIs(t, o.Flush(), io.ErrUnexpectedEOF)
}

func TestAbandonedOutputWritesNothing(t *testing.T) {
	var to bytes.Buffer
	o := &output{to: &to}
	_, err := o.Write([]byte("late"))
	require.NoError(t, err)
	o.abandon()
	_, err = o.Write([]byte("later"))
	require.ErrorIs(t, err, errAbandoned)
	require.ErrorIs(t, o.Flush(), errAbandoned)
	assert.Empty(t, to.String())
}

func TestLedger(t *testing.T) {
	var l saveState
	failed := errors.Join(refused("no"))
	require.Error(t, l.commit(func() error { return failed }))
	assert.Equal(t, nothingSaved, l.outcome())
	require.NoError(t, l.commit(func() error { assert.Equal(t, perhapsSaved, l.outcome()); return nil }))
	assert.Equal(t, somethingSaved, l.outcome())
	require.Error(t, l.commit(func() error { return failed }))
	assert.Equal(t, somethingSaved, l.outcome())
	require.Error(t, l.commit(func() error { return newFault(exitUnknown, "?", nil) }))
	assert.Equal(t, perhapsSaved, l.outcome())
}
