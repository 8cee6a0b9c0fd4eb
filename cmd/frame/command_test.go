package frame

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestArity(t *testing.T) {
	for _, c := range []struct {
		least, most int
		want        string
	}{
		{0, 0, "no argument"},
		{1, 1, "1 argument"},
		{2, 2, "2 arguments"},
		{0, 1, "at most 1 argument"},
		{1, 3, "1 to 3 arguments"},
		{2, AnyNumber, "at least 2 arguments"},
	} {
		assert.Equal(t, c.want, (&Spec{Least: c.least, Most: c.most}).arity())
	}
}
