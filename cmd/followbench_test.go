package cmd

import (
	"bytes"
	"fmt"
	"io"
	"slices"
	"sync/atomic"
	"testing"
	"time"

	"strandwise/cmd/frame"

	"github.com/stretchr/testify/require"
)

// lamp is a terminal's screen that tells when a frame that holds a text is written.
type lamp struct{ frames chan []byte }

func (l *lamp) Write(p []byte) (int, error) {
	l.frames <- bytes.Clone(p)
	return len(p), nil
}

// await waits for a frame with the text.
func (l *lamp) await(b *testing.B, text string) {
	for timeout := time.After(10 * time.Second); ; {
		select {
		case frame := <-l.frames:
			if bytes.Contains(frame, []byte(text)) {
				return
			}
		case <-timeout:
			b.Fatalf("never shown: %s", text)
		}
	}
}

// BenchmarkKeyToSheet measures from a key pressed to the fresh sheet written, the
// commit included, over 200 rounds of 144 stitches. It prints the middle, the
// slowest of twenty, and the slowest of all, in milliseconds.
func BenchmarkKeyToSheet(b *testing.B) {
	for _, grip := range []struct{ name, hold, carry, method string }{
		{"weave", "two-hands", "parallel", "weave"},
		{"twist", "one-at-a-time", "rotating", "twist"},
	} {
		b.Run(grip.name, func(b *testing.B) {
			var took []time.Duration
			for range b.N {
				took = append(took, pressedFor(b, 200, "--hold", grip.hold, "--carry", grip.carry, "--method", grip.method)...)
			}
			slices.Sort(took)
			at := func(part int) float64 { return took[(len(took)-1)*part/100].Seconds() * 1000 }
			b.ReportMetric(at(50), "p50-ms")
			b.ReportMetric(at(95), "p95-ms")
			b.ReportMetric(at(100), "max-ms")
		})
	}
}

// pressedFor knits rows by keys and gives how long each took to come up.
func pressedFor(b *testing.B, rows int, grip ...string) []time.Duration {
	env := frame.Env{Getenv: fromMap(map[string]string{"HOME": b.TempDir(), "TERM": "xterm", "COLORTERM": "truecolor"})}
	env.Args = append([]string{"cast-on", "hat", "../examples/lantern-band.chart@6x10", "--gauge", "22x26/10cm"}, grip...)
	require.Zero(b, newApp(env).Main())

	var ahead atomic.Int64
	env.Now = func() time.Time { return time.Now().Add(time.Duration(ahead.Load())) }
	screen := &lamp{make(chan []byte, 16)}
	in, keys := io.Pipe()
	env.In, env.Out, env.InTTY, env.OutTTY = in, screen, true, true
	env.Raw = func() (func() error, error) { return func() error { return nil }, nil }
	env.Size = func() (width, height int) { return 80, 24 }
	env.Args = []string{"follow"}
	ended := make(chan int)
	go func() { ended <- newApp(env).Main() }()

	screen.await(b, "? keys")
	took := make([]time.Duration, 0, rows)
	for row := 1; row <= rows; row++ {
		ahead.Add(int64(3 * time.Second))
		start := time.Now()
		_, err := keys.Write([]byte(" "))
		require.NoError(b, err)
		screen.await(b, fmt.Sprintf("round %d logged", row))
		took = append(took, time.Since(start))
	}
	_, err := keys.Write([]byte("qq"))
	require.NoError(b, err)
	for {
		select {
		case <-screen.frames:
		case code := <-ended:
			require.Zero(b, code)
			return took
		}
	}
}
