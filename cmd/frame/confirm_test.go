package frame

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
		code     Exit
	}{
		{"yes", "yes\n", false, true, ExitDone},
		{"y", "Y\n", false, true, ExitDone},
		{"no", "no\n", false, true, ExitRefused},
		{"nothing typed", "\n", false, true, ExitRefused},
		{"closed", "", false, true, ExitRefused},
		{"--yes", "", true, false, ExitDone},
		{"no terminal", "yes\n", false, false, ExitUsage},
	} {
		t.Run(c.name, func(t *testing.T) {
			var notices bytes.Buffer
			a := newApp(Env{In: strings.NewReader(c.answer), InTTY: c.tty, ErrTTY: c.tty, Err: &notices})
			a.Flags.Yes = c.yes
			err := a.Confirm("remove hat and its 57 rows")
			if c.code == ExitDone {
				require.NoError(t, err)
				return
			}
			assert.Equal(t, c.code, Describe(err).Exit)
			if c.tty {
				assert.Equal(t, "remove hat and its 57 rows? Type yes to go on: ", notices.String())
			} else {
				assert.Contains(t, Describe(err).Hints[0], "--yes")
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
			p := newApp(Env{Now: func() time.Time { return now }, ErrTTY: c.tty, Err: &notices}).StartProgress("rows planned")
			for i, after := range []time.Duration{100, 500, 999, 999, 1000, 1250, 1260} {
				now = time.Unix(0, 0).Add(after * time.Millisecond)
				p.Step(i+1, 9)
			}
			p.End()
			assert.Equal(t, c.want, notices.String())
		})
	}
}
