package cmd

import (
	"bytes"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestConfirm(t *testing.T) {
	for _, c := range []struct {
		name     string
		answer   string
		yes, tty bool
		code     exit
	}{
		{"yes", "yes\n", false, true, exitDone},
		{"y", "Y\n", false, true, exitDone},
		{"no", "no\n", false, true, exitRefused},
		{"nothing typed", "\n", false, true, exitRefused},
		{"closed", "", false, true, exitRefused},
		{"--yes", "", true, false, exitDone},
		{"no terminal", "yes\n", false, false, exitUsage},
	} {
		t.Run(c.name, func(t *testing.T) {
			var notices bytes.Buffer
			a := newApp(Env{In: strings.NewReader(c.answer), InTTY: c.tty, ErrTTY: c.tty, Err: &notices})
			a.flags.yes = c.yes
			err := a.confirm(t.Context(), "Remove hat and its 57 rows")
			if c.code == exitDone {
				require.NoError(t, err)
				return
			}
			assert.Equal(t, c.code, describe(err).exit)
			if c.tty {
				assert.Equal(t, "Remove hat and its 57 rows? Type yes to go on: ", notices.String())
			} else {
				assert.Contains(t, describe(err).hints[0], "--yes")
			}
		})
	}
}

func TestProgress(t *testing.T) {
	for _, c := range []struct {
		name string
		tty  bool
		want string
	}{
		{"on a terminal", true, "\r5 of 9 rows planned\r6 of 9 rows planned\r\x1b[K"},
		{"elsewhere", false, "5 of 9 rows planned\n"},
	} {
		t.Run(c.name, func(t *testing.T) {
			now := time.Unix(0, 0)
			var notices bytes.Buffer
			p := newApp(Env{Now: func() time.Time { return now }, ErrTTY: c.tty, Err: &notices}).startProgress("rows planned")
			for i, after := range []time.Duration{100, 500, 999, 999, 1000, 1250, 1260} {
				now = time.Unix(0, 0).Add(after * time.Millisecond)
				p.step(i+1, 9)
			}
			p.end()
			assert.Equal(t, c.want, notices.String())
		})
	}
}
