package frame

import (
	"bytes"
	"errors"
	"io"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestOutputRemembersTheFirstFailure(t *testing.T) {
	o := &Stream{holds: true, to: failing{err: io.ErrUnexpectedEOF}}
	_, err := o.Write([]byte("held"))
	require.NoError(t, err)
	require.ErrorIs(t, o.Flush(), io.ErrUnexpectedEOF)
	_, err = o.Write([]byte("again"))
	require.ErrorIs(t, err, io.ErrUnexpectedEOF)
	require.ErrorIs(t, o.Flush(), io.ErrUnexpectedEOF)
}

func TestAbandonedOutputWritesNothing(t *testing.T) {
	var to bytes.Buffer
	o := &Stream{holds: true, to: &to}
	_, err := o.Write([]byte("late"))
	require.NoError(t, err)
	o.discard(errAbandoned)
	_, err = o.Write([]byte("later"))
	require.ErrorIs(t, err, errAbandoned)
	require.ErrorIs(t, o.Flush(), errAbandoned)
	assert.Empty(t, to.String())
}

func TestLedger(t *testing.T) {
	a := newApp(Env{})
	failed := errors.Join(Refused("no"))
	require.Error(t, a.Commit(func() error { return failed }))
	assert.Equal(t, nothingSaved, a.outcome())
	require.NoError(t, a.Commit(func() error { assert.Equal(t, perhapsSaved, a.outcome()); return nil }))
	assert.Equal(t, somethingSaved, a.outcome())
	require.Error(t, a.Commit(func() error { return failed }))
	assert.Equal(t, somethingSaved, a.outcome())
	require.Error(t, a.Commit(func() error { return NewFault(ExitUnknown, "?") }))
	assert.Equal(t, perhapsSaved, a.outcome())
}
