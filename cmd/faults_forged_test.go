package cmd

import (
	"crypto/sha256"
	"fmt"
	"hash/crc32"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/session"
	"strandwise/store"
)

// forgery is an export that is whole and bears the right checksums, and holds what nobody
// could work on.
type forgery struct {
	name string
	text string
}

// badCharacters steer a terminal, turn the text beside them, or hide.
var badCharacters = []string{
	"\x1b[31m", "\x07", "\x00", "\x7f", "\u0085", "\u009b2J", "\u202e", "\u2066", "\u200b", "\u200d", "\u2060", "\ufeff", "\u2028", "\n", "\u00ad", "\U000e0041",
}

// forgedIn makes a store that a change spoiled and exports it.
func forgedIn(t *testing.T, change func(tx *store.Tx) error) string {
	t.Helper()
	path := seededStore(t, planted("hat", 3), planted("cowl", 1))
	inStore(t, path, change)
	return exportOf(t, path)
}

func exportOf(t *testing.T, path string) string {
	t.Helper()
	var text strings.Builder
	_, err := store.At(path, store.Options{}).Export(t.Context(), &text)
	require.NoError(t, err)
	return text.String()
}

// logged appends an event whatever it says. Where the log folds all the same, what is kept
// beside it says the same.
func logged(e session.Event) func(tx *store.Tx) error {
	return func(tx *store.Tx) error { return loggedTo(tx, 1, e) }
}

func loggedTo(tx *store.Tx, id store.PieceID, e session.Event) error {
	kind, payload := session.Encode(e)
	if _, err := tx.Append(id, store.Record{Kind: kind, Time: seedTime, Payload: payload}); err != nil {
		return err
	}
	_ = plantEvents(tx, id, nil)
	return nil
}

// begun makes a piece whose log begins with a cast-on.
func begun(e *session.CastOn) func(tx *store.Tx) error {
	return func(tx *store.Tx) error {
		id, err := tx.NewPiece(nil)
		if err != nil {
			return err
		}
		return loggedTo(tx, id, e)
	}
}

// bandHash is the chart of the seeded pieces.
func bandHash(t *testing.T) [32]byte {
	t.Helper()
	text, err := os.ReadFile("../examples/lantern-band.chart")
	require.NoError(t, err)
	return sha256.Sum256(text)
}

var sealOfLine = regexp.MustCompile(`,"crc":"[0-9a-f]{8}"}$`)

// resealed gives changed lines their checksums, and the last one the sum of those before.
func resealed(lines []string) string {
	var text strings.Builder
	for i, line := range lines {
		body := sealOfLine.ReplaceAllString(strings.TrimSuffix(line, "\n"), "")
		if i == len(lines)-1 {
			sum := sha256.Sum256([]byte(text.String()))
			body = regexp.MustCompile(`"sha256":"[0-9a-f]*"`).ReplaceAllString(body, fmt.Sprintf(`"sha256":"%x"`, sum))
		}
		fmt.Fprintf(&text, "%s,\"crc\":\"%08x\"}\n", body, crc32.Checksum([]byte(body), crc32.MakeTable(crc32.Castagnoli)))
	}
	return text.String()
}

// forgeries makes them all.
func forgeries(t *testing.T) []forgery {
	var all []forgery
	add := func(name string, change func(tx *store.Tx) error) {
		all = append(all, forgery{name, forgedIn(t, change)})
	}
	castOn := func(change func(*session.CastOn)) *session.CastOn {
		e := castOnOf(planted("mitten", 0), bandHash(t), 22)
		change(e)
		return e
	}
	for _, bad := range badCharacters {
		bad := "a" + bad + "b"
		add("name", begun(castOn(func(e *session.CastOn) { e.Name = bad })))
		add("part", begun(castOn(func(e *session.CastOn) { e.Parts[0].Name = bad })))
		add("renamed", logged(&session.Renamed{Name: bad}))
		add("info", func(tx *store.Tx) error { return tx.SetInfo(1, fmt.Appendf(nil, `{"name":%q}`, bad)) })
		add("setting", func(tx *store.Tx) error { return tx.PutSetting("piece", []byte(bad)) })
	}
	long := strings.Repeat("a", 201)
	add("long name", begun(castOn(func(e *session.CastOn) { e.Name = long })))
	add("long new name", logged(&session.Renamed{Name: long}))
	add("huge setting", func(tx *store.Tx) error { return tx.PutSetting("width", []byte("99999999999999999999")) })
	add("unknown setting", func(tx *store.Tx) error { return tx.PutSetting("boat", []byte("yes")) })
	add("store as a setting", func(tx *store.Tx) error { return tx.PutSetting("store", []byte("/etc/passwd")) })
	for _, kind := range []uint16{0, 15, 4242, 65534} {
		add("unknown kind", func(tx *store.Tx) error {
			_, err := tx.Append(1, store.Record{Kind: kind, Time: seedTime, Payload: []byte("x")})
			return err
		})
	}
	add("a lost event that speaks", func(tx *store.Tx) error {
		_, err := tx.Append(1, store.Record{Kind: store.KindLost, Time: seedTime, Payload: []byte("x")})
		return err
	})
	add("a row that does not follow", logged(&session.RowKnit{Row: 9}))
	add("a row far away", logged(&session.RowKnit{Row: 1 << 30}))
	add("a catch far away", logged(&session.RowKnit{Row: 4, Used: []session.Mark{{Stitch: 1 << 30, Yarn: 1}}}))
	add("undo of the future", logged(&session.Undone{Seq: 99}))
	add("undo of itself", logged(&session.Undone{Seq: 5}))
	add("redo of nothing", logged(&session.Redone{Seq: 4}))
	add("rip of more than there is", logged(&session.Ripped{Rows: 60}))
	add("second cast-on", logged(castOn(func(*session.CastOn) {})))
	add("empty piece", func(tx *store.Tx) error { _, err := tx.NewPiece([]byte(`{"name":"none"}`)); return err })
	add("no cast-on", func(tx *store.Tx) error {
		id, err := tx.NewPiece(nil)
		if err != nil {
			return err
		}
		kind, payload := session.Encode(&session.RowKnit{Row: 1})
		_, err = tx.Append(id, store.Record{Kind: kind, Time: seedTime, Payload: payload})
		return err
	})
	add("missing chart", begun(castOn(func(e *session.CastOn) { e.Parts[0].Hash = [32]byte{1} })))
	add("too many rows", begun(castOn(func(e *session.CastOn) { e.Parts[0].Times = 40_000 })))
	add("too many stitches", begun(castOn(func(e *session.CastOn) { e.Parts[0].Repeats = 900_000 })))
	add("rows the chart does not have", begun(castOn(func(e *session.CastOn) { e.Parts[0].Rows = 23 })))
	add("rows of a steek", begun(castOn(func(e *session.CastOn) {
		e.Parts[0].Beside = []session.PartRef{{Name: "steek", Steek: 5, Rows: 900}}
	})))
	add("a chart that is none", func(tx *store.Tx) error { _, err := tx.PutChart([]byte("low water")); return err })
	add("deep nesting", func(tx *store.Tx) error { return tx.SetInfo(1, []byte(strings.Repeat("[", 20_000))) })
	add("two of one name", func(tx *store.Tx) error {
		return begun(castOn(func(e *session.CastOn) { e.Name = "hat" }))(tx)
	})
	return append(all, misordered(t)...)
}

// misordered are exports with their lines in a wrong order, twice, or with numbers that are
// none.
func misordered(t *testing.T) []forgery {
	path := seededStore(t, planted("hat", 3), planted("cowl", 1))
	inStore(t, path, func(tx *store.Tx) error { return tx.PutSetting("units", []byte("cm")) })
	lines := strings.SplitAfter(strings.TrimSuffix(exportOf(t, path), "\n"), "\n")
	var all []forgery
	for at := 1; at < len(lines)-2; at++ {
		swapped := slices.Clone(lines)
		swapped[at], swapped[at+1] = swapped[at+1], swapped[at]
		all = append(all, forgery{fmt.Sprintf("lines %d and %d exchanged", at+1, at+2), resealed(swapped)})
		all = append(all, forgery{fmt.Sprintf("line %d twice", at+1), resealed(slices.Insert(slices.Clone(lines), at, lines[at]))})
	}
	for _, c := range [][2]string{
		{`"seq":2`, `"seq":18446744073709551615`},
		{`"seq":2`, `"seq":2e99`},
		{`"kind":2`, `"kind":99999`},
		{`"zone":0`, `"zone":2147483647`},
		{`"time":"2031`, `"time":"99999`},
		{`"line":"event"`, `"line":"boat"`},
		{`"format":1`, `"format":2`},
		{`"line":"piece"`, `"line":"piece","x":` + strings.Repeat("[", 20_000) + strings.Repeat("]", 20_000)},
	} {
		changed := slices.Clone(lines)
		for i := range changed {
			changed[i] = strings.Replace(changed[i], c[0], c[1], 1)
		}
		all = append(all, forgery{c[0] + " as " + c[1][:min(len(c[1]), 40)], resealed(changed)})
	}
	return all
}

// rawBytes are what never leaves the program: controls but the end of a line, and what turns
// or hides text.
var rawBytes = regexp.MustCompile(`[\x00-\x08\x0b-\x1f\x7f\x{80}-\x{9f}\x{ad}\x{200b}\x{200e}\x{200f}\x{2028}-\x{202e}\x{2060}-\x{2069}\x{feff}\x{e0041}]`)

func TestForgedExportsAreRefusedAtTheirLine(t *testing.T) {
	all := forgeries(t)
	require.GreaterOrEqual(t, len(all), 100)
	here := seededStore(t, planted("scarf", 1))
	nowhere := filepath.Join(t.TempDir(), "none.store")
	before := sumOf(t, here)
	file := filepath.Join(t.TempDir(), "forged.jsonl")
	for _, f := range all {
		require.NoError(t, os.WriteFile(file, []byte(f.text), 0o600))
		for _, args := range [][]string{{"--yes"}, {"--dry-run"}, {"--yes", "--json"}} {
			for _, path := range []string{here, nowhere} {
				got := onStore(t, path, append([]string{"store", "import", file}, args...)...)
				assert.Equal(t, 3, got.code, "%s: %s", f.name, got.err+got.out)
				assert.Regexp(t, `forged\.jsonl:\d+: `, got.err+got.out, f.name)
				assert.NotRegexp(t, rawBytes, got.out+got.err, f.name)
				assert.NotRegexp(t, foreignWords, got.out+got.err, f.name)
			}
		}
		assert.Equal(t, before, sumOf(t, here), f.name)
		assert.NoFileExists(t, nowhere)
	}
	t.Logf("%d forged exports", len(all))
}

// A store that somebody made may hold what no command writes: no answer sends it.
func TestControlsFromAStoreAreShown(t *testing.T) {
	path := seededStore(t, planted("hat", 3))
	inStore(t, path, func(tx *store.Tx) error {
		if err := tx.PutSetting("piece", []byte("\x1b]0;owned\x07hat\u202e")); err != nil {
			return err
		}
		return tx.SetInfo(1, []byte(`{"name":"\u001b]0;owned\u0007hat\u202e\u200b\u001b[31m","row":3,"of":60}`))
	})
	for _, args := range [][]string{
		{"pieces"},
		{"pieces", "--json"},
		{"settings"},
		{"settings", "piece", "--json"},
		{"show"},
		{"resume"},
		{"store", "check"},
		{"store", "check", "--json"},
		{"store", "salvage", filepath.Join(t.TempDir(), "s.store")},
	} {
		got := onStore(t, path, args...)
		assert.NotRegexp(t, rawBytes, got.out+got.err, args)
	}
	for _, args := range [][]string{{"pieces"}, {"settings"}} {
		got := onStore(t, path, append(args, "--color", "always")...)
		assert.NotContains(t, got.out+got.err, "\x1b]", args)
		assert.NotContains(t, got.out+got.err, "\x1b[31m", args)
	}
	assert.Contains(t, onStore(t, path, "pieces").out, `\u001b]0;owned\u0007hat\u202e\u200b`)
}

// A piece that is too large is refused at once.
func TestTooLargeAPieceIsRefusedAtOnce(t *testing.T) {
	large := castOnOf(planted("mitten", 0), bandHash(t), 22)
	large.Parts[0].Times = 40_000
	file := filepath.Join(t.TempDir(), "large.jsonl")
	require.NoError(t, os.WriteFile(file, []byte(forgedIn(t, begun(large))), 0o600))
	start := time.Now()
	got := onStore(t, seededStore(t), "store", "import", file, "--yes")
	assert.Less(t, time.Since(start), time.Second)
	assert.Equal(t, 3, got.code)
	assert.Contains(t, strings.Join(strings.Fields(got.err), " "), "880000 rows are more than the 2000 a piece may have")
}
