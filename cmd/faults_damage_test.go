package cmd

import (
	"bytes"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"strandwise/cmd/frame"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// harm is one kind of damage, done to a copy of a store. past are its states before.
type harm struct {
	name string
	do   func(r *rand.Rand, data []byte, past [][]byte) []byte
}

const pageBytes = 4096

// pageOf picks a page of the file.
func pageOf(r *rand.Rand, data []byte) []byte {
	return data[r.IntN(len(data)/pageBytes)*pageBytes:][:pageBytes]
}

func noise(r *rand.Rand, b []byte) {
	for i := range b {
		b[i] = byte(r.Uint32())
	}
}

// harms are the kinds. An older header that passes its checksum is the store as it was
// before, and nothing in the file can tell: so only other pages are made stale.
var harms = []harm{
	{"bit", func(r *rand.Rand, d []byte, _ [][]byte) []byte { d[r.IntN(len(d))] ^= 1 << r.IntN(8); return d }},
	{"byte", func(r *rand.Rand, d []byte, _ [][]byte) []byte { d[r.IntN(len(d))] += byte(1 + r.IntN(255)); return d }},
	{"byte of a header", func(r *rand.Rand, d []byte, _ [][]byte) []byte {
		d[pageBytes*r.IntN(2)+16+r.IntN(64)] += byte(1 + r.IntN(255))
		return d
	}},
	{"byte near the start of a page", func(r *rand.Rand, d []byte, _ [][]byte) []byte {
		pageOf(r, d)[r.IntN(80)] += byte(1 + r.IntN(255))
		return d
	}},
	{"sector of noise", func(r *rand.Rand, d []byte, _ [][]byte) []byte {
		noise(r, pageOf(r, d)[512*r.IntN(8):][:512])
		return d
	}},
	{"sector of zeros", func(r *rand.Rand, d []byte, _ [][]byte) []byte { clear(pageOf(r, d)[512*r.IntN(8):][:512]); return d }},
	{"page of noise", func(r *rand.Rand, d []byte, _ [][]byte) []byte { noise(r, pageOf(r, d)); return d }},
	{"page of zeros", func(r *rand.Rand, d []byte, _ [][]byte) []byte { clear(pageOf(r, d)); return d }},
	{"page over another, with its number", func(r *rand.Rand, d []byte, _ [][]byte) []byte {
		to, from := pageOf(r, d), pageOf(r, d)
		copy(to[8:], from[8:])
		return d
	}},
	{"stale page", func(r *rand.Rand, d []byte, past [][]byte) []byte {
		old := past[r.IntN(len(past))]
		at := (2 + r.IntN(len(old)/pageBytes-2)) * pageBytes
		copy(d[at:at+pageBytes], old[at:])
		return d
	}},
	{"cut", func(r *rand.Rand, d []byte, _ [][]byte) []byte { return d[:r.IntN(len(d))] }},
}

// lived is a store of two pieces with a choice, a setting, a plan and a backup, and its
// states on the way.
func lived(t *testing.T) (path, backup string, past [][]byte) {
	t.Helper()
	path = seededStore(t, planted("hat", 3), planted("cowl", 30))
	done(t, path, "pieces", "switch", "hat")
	done(t, path, "settings", "units", "inches")
	for range 8 {
		done(t, path, "knit")
		state, err := os.ReadFile(path)
		require.NoError(t, err)
		past = append(past, state)
	}
	backup = filepath.Join(t.TempDir(), "kept.store")
	done(t, path, "store", "backup", "-o", backup)
	return path, backup, past
}

// atNoon runs the program at one time, so that its answers are the same.
func atNoon(t *testing.T, path string, args ...string) ran {
	t.Helper()
	noon := func() time.Time { return seedTime.AddDate(30, 0, 0) }
	return runMain(t, frame.Env{Now: noon}, append(args, "--store", path)...)
}

// others' words never stand in an answer.
const foreignWords = `bbolt|runtime error|goroutine|unexpected fault|invalid character|json:|cannot unmarshal|fatal error|\.go:\d`

// Whatever is done to a file, each command that reads tells what is true, or says that
// something is wrong; and what salvage makes of it passes the check.
func TestDamageIsSeenByEveryCommandThatReads(t *testing.T) {
	path, backup, past := lived(t)
	good := past[len(past)-1]
	require.NoError(t, os.RemoveAll(path+".backups"))
	commands := [][]string{
		{"show"},
		{"resume"},
		{"history"},
		{"pieces"},
		{"settings"},
		{"store", "export"},
		{"store", "restore", backup, "--dry-run"},
		{"store", "check"},
		{"store", "backup"},
	}
	want := map[string]string{}
	for _, args := range commands {
		want[strings.Join(args, " ")] = atNoon(t, path, args...).out
	}
	require.NoError(t, os.RemoveAll(path+".backups"))
	r := rand.New(rand.NewPCG(41, 52))
	right, said := 0, 0
	for round := range rounds(33, 3000) {
		h := harms[round%len(harms)]
		data := h.do(r, bytes.Clone(good), past)
		require.NoError(t, os.WriteFile(path, data, 0o600))
		for _, args := range commands {
			got := atNoon(t, path, args...)
			require.NotRegexp(t, foreignWords, got.out+got.err, "round %d, %s: %v", round, h.name, args)
			if told := isTold(t, args, got, want); told {
				said++
			} else {
				right++
			}
			require.False(t, t.Failed(), "round %d, %s: %v\n%s%s", round, h.name, args, got.out, got.err)
		}
		salvageIsSound(t, path)
		require.False(t, t.Failed(), "round %d, %s", round, h.name)
	}
	t.Logf("%d answers right, %d said what is wrong", right, said)
}

// isTold reports whether a command said that something is wrong; else its answer must be the
// true one.
func isTold(t *testing.T, args []string, got ran, want map[string]string) bool {
	t.Helper()
	name := strings.Join(args, " ")
	switch {
	case got.code == 6:
		assert.NotEmpty(t, got.err)
		assert.NotContains(t, strings.Join(strings.Fields(got.out), " "), "is sound")
		return true
	case got.code != 0:
		assert.Fail(t, "status of another kind", "%d", got.code)
	case strings.Contains(got.err, "damaged"):
		assert.NotContains(t, strings.Join(strings.Fields(got.out), " "), "is sound")
		return true
	case args[len(args)-1] == "--dry-run" && strings.Contains(strings.Join(strings.Fields(got.out), " "), "cannot be compared"):
		return true
	case name == "store backup":
		_, file, _ := strings.Cut(strings.Join(strings.Fields(got.out), " "), " to ")
		file, _, _ = strings.Cut(file, ";")
		assert.Equal(t, want["store export"], onStore(t, file, "store", "export").out)
		assert.NoError(t, os.RemoveAll(filepath.Dir(file)))
	case name == "store check":
		assert.Contains(t, strings.Join(strings.Fields(got.out), " "), "is sound")
	default:
		assert.Equal(t, want[name], got.out)
	}
	return false
}

// salvageIsSound salvages a store; what comes of it, if anything, passes the check.
func salvageIsSound(t *testing.T, path string) {
	t.Helper()
	to := filepath.Join(filepath.Dir(path), "salvaged.store")
	got := onStore(t, path, "store", "salvage", to)
	require.NotRegexp(t, foreignWords, got.out+got.err)
	if got.code != 0 {
		assert.Equal(t, 6, got.code, got.err)
		assert.NoFileExists(t, to)
		return
	}
	checked := onStore(t, to, "store", "check")
	assert.Zero(t, checked.code, checked.err)
	require.NoError(t, os.Remove(to))
}
