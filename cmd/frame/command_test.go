package frame

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestArity(t *testing.T) {
	for use, want := range map[string]string{
		"tour":                   "no argument",
		"backup [-o FILE]":       "no argument",
		"pause STITCH":           "1 argument",
		"swap ONE OTHER":         "2 arguments",
		"rip [N]":                "at most 1 argument",
		"settings [KEY [VALUE]]": "at most 2 arguments",
		"rename [NAME] NEW":      "1 to 2 arguments",
		"cast-on NAME PART...":   "at least 2 arguments",
	} {
		assert.Equal(t, want, arity((&Spec{Use: use}).arguments()), use)
	}
}
