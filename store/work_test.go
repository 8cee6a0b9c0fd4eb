package store

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A commit that stumbles over pages at odds has written nothing as long as the header is the
// old one; after any other fault nobody knows.
func TestCommitThatStumblesIsDamage(t *testing.T) {
	s := At(filepath.Join(t.TempDir(), "pier.store"), Options{})
	require.NoError(t, s.Create(context.Background()))
	o, err := s.open(context.Background(), true)
	require.NoError(t, err)
	defer o.release(false)
	stumbled := fmt.Errorf("%w: page 9 already freed", errStumbled)
	assert.Equal(t, ClassDamaged, ClassOf(o.commitFailed(stumbled)))
	assert.Equal(t, ClassUnknown, ClassOf(o.commitFailed(errors.New("input/output error"))))
	o.Commit++ // as if another header were there
	assert.Equal(t, ClassUnknown, ClassOf(o.commitFailed(stumbled)))
}
