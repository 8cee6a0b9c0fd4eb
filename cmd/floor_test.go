//go:build floor

package cmd

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"strandwise/session"
	"strandwise/store"
)

// How near a step comes to what the disk allows, measured as whole processes in
// pairs, one beside the other:
//
//	go test -tags floor -run Floor -v ./cmd
//
// A step is held against a bare Go process that makes two 4 KiB writes in place,
// each followed by fdatasync, and prints a line: the least that two disk barriers
// cost. A read is held against a bare Go process that prints a line.
// STRANDWISE_PAIRS is how many pairs are measured, 60 when it is not set.
//
// Both programs are copied once they are linked, as an installation leaves them. A file
// as the linker leaves it lies in the system's memory page by page, and a page of it
// takes several times as long to come into a process; that goes by the size of the program
// and is gone once the file was written or read as a whole. STRANDWISE_LINKED=yes
// measures them so.

// bareProgram is the process to measure against. With a file it writes to it.
const bareProgram = `package main

import (
	"fmt"
	"os"
	"syscall"
)

func main() {
	if len(os.Args) > 1 {
		f, err := os.OpenFile(os.Args[1], os.O_RDWR, 0)
		if err != nil {
			panic(err)
		}
		page := make([]byte, 4096)
		for i := range 2 {
			if _, err := f.WriteAt(page, int64(i)*4096); err != nil {
				panic(err)
			}
			if err := syscall.Fdatasync(int(f.Fd())); err != nil {
				panic(err)
			}
		}
	}
	fmt.Println("done")
}
`

// built are the two programs and a file for the bare one, in a folder.
type built struct {
	t          *testing.T
	ours, bare string
	file       string
	pairs      int
}

func build(t *testing.T) *built {
	t.Helper()
	folder := t.TempDir()
	b := &built{t: t, ours: filepath.Join(folder, "strandwise"), bare: filepath.Join(folder, "bare"), file: filepath.Join(folder, "pages"), pairs: 60}
	if text := os.Getenv("STRANDWISE_PAIRS"); text != "" {
		n, err := strconv.Atoi(text)
		require.NoError(t, err)
		b.pairs = n
	}
	source := filepath.Join(folder, "bare.go")
	require.NoError(t, os.WriteFile(source, []byte(bareProgram), 0o600))
	for out, from := range map[string]string{b.ours: "./strandwise", b.bare: source} {
		c := exec.Command("go", "build", "-trimpath", "-o", out, from)
		c.Env = append(os.Environ(), "CGO_ENABLED=0") // without the system's loader, as the program is meant to be built
		text, err := c.CombinedOutput()
		require.NoError(t, err, string(text))
		if os.Getenv("STRANDWISE_LINKED") == "" {
			install(t, out)
		}
	}
	require.NoError(t, os.WriteFile(b.file, make([]byte, 8*4096), 0o600))
	return b
}

// install puts a copy of a program in its place.
func install(t *testing.T, program string) {
	t.Helper()
	data, err := os.ReadFile(program)
	require.NoError(t, err)
	require.NoError(t, os.Remove(program))
	require.NoError(t, os.WriteFile(program, data, 0o700))
}

// took runs a program to its end and says how long that took.
func (b *built) took(w *terminal, name string, args ...string) time.Duration {
	c := w.command(args...)
	c.Path, c.Args = name, append([]string{name}, args...)
	start := time.Now()
	out, err := c.CombinedOutput()
	spent := time.Since(start)
	require.NoError(b.t, err, "%v: %s", args, out)
	return spent
}

// compare measures pairs and prints the median, the 95th percentile and the
// greatest of both and of their ratio.
func (b *built) compare(what string, w *terminal, bareArgs []string, args func() []string) {
	var ours, bare, ratios []float64
	for range b.pairs {
		floor := b.took(w, b.bare, bareArgs...)
		mine := b.took(w, b.ours, args()...)
		ours = append(ours, float64(mine)/1e6)
		bare = append(bare, float64(floor)/1e6)
		ratios = append(ratios, float64(mine)/float64(floor))
	}
	fmt.Printf("%-34s ratio %s | ours ms %s | floor ms %s\n", what, spread(ratios), spread(ours), spread(bare))
}

func spread(values []float64) string {
	s := slices.Sorted(slices.Values(values))
	at := func(part float64) float64 { return s[min(len(s)-1, int(part*float64(len(s))))] }
	return fmt.Sprintf("%6.2f %6.2f %6.2f", at(0.5), at(0.95), s[len(s)-1])
}

// longPiece is a store with a piece of 480 rows that has the given number of events,
// made by knitting on and ripping back, and other pieces of 40 rows.
func (b *built) longPiece(events, pieces int) *terminal {
	path := seededStore(b.t, seed{name: "hat", times: 40})
	w := terminalOn(b.t, path)
	w.env = []string{"STRANDWISE_PIECE=hat"}
	for have := 1; have < events; {
		up := min(400, events-have-1)
		b.took(w, b.ours, "knit", "--to", fmt.Sprint(max(1, up)), "--quiet")
		if up > 1 {
			have++ // the head of those that were logged together
		}
		if have += max(1, up); have < events {
			b.took(w, b.ours, "rip", fmt.Sprint(up), "--yes")
			have++
		}
	}
	var others []seed
	for i := range pieces - 1 {
		others = append(others, planted(fmt.Sprint("cowl ", i), 40))
	}
	plantIn(b.t, path, others...)
	require.Equal(b.t, events, eventsOf(b.t, path))
	b.took(w, b.ours, "knit") // the plan and the day's backup
	return w
}

func TestFloorOfAStep(t *testing.T) {
	b := build(t)
	for _, events := range []int{300, 1000, 5000} {
		for _, pieces := range []int{1, 20} {
			w := b.longPiece(events, pieces)
			what := fmt.Sprintf("%5d events, %2d pieces: ", events, pieces)
			b.compare(what+"knit", w, []string{b.file}, func() []string { return []string{"knit"} })
			b.compare(what+"show", w, nil, func() []string { return []string{"show"} })
		}
	}
}

func TestFloorOfAThousandPieces(t *testing.T) {
	b := build(t)
	path := seededStore(t)
	manyPieces(t, path, 1000, 300)
	w := terminalOn(t, path)
	w.env = []string{"STRANDWISE_PIECE=piece 500"}
	b.took(w, b.ours, "knit")
	b.compare("1000 pieces of 300 rows: pieces", w, nil, func() []string { return []string{"pieces"} })
	b.compare("1000 pieces of 300 rows: knit", w, []string{b.file}, func() []string { return []string{"knit"} })
	b.compare("1000 pieces of 300 rows: show", w, nil, func() []string { return []string{"show"} })
	alone := b.longPiece(301, 1)
	b.compare("1 piece of 300 rows: knit", alone, []string{b.file}, func() []string { return []string{"knit"} })
}

// manyPieces fills a store with copies of one log.
func manyPieces(t *testing.T, path string, pieces, rows int) {
	t.Helper()
	one := seed{name: "piece 0", times: 40}
	for row := range rows {
		one.events = append(one.events, &session.RowKnit{Row: row + 1})
	}
	plantIn(t, path, one)
	err := store.At(path, store.Options{Watch: time.Hour}).Update(context.Background(), func(tx *store.Tx) error {
		return copyPieces(tx, pieces)
	})
	require.NoError(t, err)
}

// copyPieces makes more pieces like the first, each under a name of its own.
func copyPieces(tx *store.Tx, pieces int) error {
	log, err := tx.Records(1)
	if err != nil {
		return err
	}
	for n := 1; n < pieces; n++ {
		id, err := tx.NewPiece(nil)
		if err != nil {
			return err
		}
		e, err := session.Decode(log[0].Kind, log[0].Payload)
		if err != nil {
			return err
		}
		e.(*session.CastOn).Name = fmt.Sprint("piece ", n)
		_, renamed := session.Encode(e)
		for i, r := range log {
			if i == 0 {
				r.Payload = renamed
			}
			if _, err := tx.Append(id, store.Record{Kind: r.Kind, Time: r.Time, Payload: r.Payload}); err != nil {
				return err
			}
		}
		if err := plantEvents(tx, id, nil); err != nil {
			return err
		}
	}
	return nil
}
