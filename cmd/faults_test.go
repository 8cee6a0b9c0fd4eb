package cmd

import (
	"bytes"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.etcd.io/bbolt"

	"strandwise/cmd/answer"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
	"strandwise/session"
	"strandwise/store"
)

// terminal runs the program as a process of its own on one store.
type terminal struct {
	t     testing.TB
	store string
	env   []string // beside the store's path and the home
	names string   // program to run; "" is strandwise
	set   func(*exec.Cmd)
}

// terminalOn opens a terminal on a store.
func terminalOn(t testing.TB, path string) *terminal { return &terminal{t: t, store: path} }

// command is the program, not yet started.
func (w *terminal) command(args ...string) *exec.Cmd {
	name := w.names
	if name == "" {
		name = "strandwise" // the test binary under the program's name, see TestMain
	}
	c := exec.Command(name, args...)
	c.Env = append(os.Environ(), "STRANDWISE_STORE="+w.store, "HOME="+filepath.Dir(w.store), "GORACE=atexit_sleep_ms=0", "NO_COLOR=1")
	c.Env = append(c.Env, w.env...)
	if w.set != nil {
		w.set(c)
	}
	return c
}

// run runs the program to its end. Whatever happens, it prints no trace.
func (w *terminal) run(args ...string) ran {
	w.t.Helper()
	c := w.command(args...)
	var out, stderr bytes.Buffer
	c.Stdout, c.Stderr = &out, &stderr
	code := codeOf(w.t, c.Run())
	assert.NotContains(w.t, stderr.String()+out.String(), "goroutine ", args)
	return ran{code, out.String(), stderr.String()}
}

// codeOf is the status a process ended with; -1 when it was killed.
func codeOf(t testing.TB, err error) int {
	t.Helper()
	var exited *exec.ExitError
	if errors.As(err, &exited) {
		return exited.ExitCode()
	}
	require.NoError(t, err)
	return 0
}

// wants runs the program and holds it to a status, to words of its error, and to
// leaving the file at the store's path as it is.
func (w *terminal) wants(code int, words string, args ...string) ran {
	w.t.Helper()
	before, there := os.ReadFile(w.store)
	got := w.run(args...)
	assert.Equal(w.t, code, got.code, "%v\n%s%s", args, got.out, got.err)
	assert.Contains(w.t, strings.Join(strings.Fields(got.err), " "), words, args)
	after, still := os.ReadFile(w.store)
	assert.Equal(w.t, there == nil, still == nil, "%v made or removed the store", args)
	assert.True(w.t, bytes.Equal(before, after), "%v changed the store", args)
	return got
}

// eventsOf counts the events of the first piece.
func eventsOf(t testing.TB, path string) int {
	t.Helper()
	var seq uint64
	err := store.At(path, store.Options{}).View(t.Context(), func(tx *store.Tx) error {
		tail, err := tx.Tail(1)
		seq = tail.Seq
		return err
	})
	require.NoError(t, err)
	return int(seq)
}

// requireSound has the store check every byte and fold every piece.
func requireSound(t testing.TB, path string) {
	t.Helper()
	c, err := stored.Check(newApp(frame.Env{}), store.At(path, store.Options{}))
	require.NoError(t, err)
	require.Empty(t, c.Problems)
}

// steps and reads are commands that write, and such that only read.
var (
	steps = [][]string{{"knit"}, {"undo"}, {"rip", "1", "--yes"}}
	reads = [][]string{{"show"}, {"show", "--json"}, {"store", "check"}, {"store", "export"}}
)

func both() [][]string { return append(append([][]string{}, steps...), reads...) }

func TestNoStoreAtThePath(t *testing.T) {
	folder := t.TempDir()
	link := filepath.Join(folder, "link.store")
	require.NoError(t, os.Symlink(filepath.Join(folder, "gone.store"), link))
	for _, path := range []string{filepath.Join(folder, "none.store"), link} {
		for _, args := range both() {
			got := terminalOn(t, path).wants(5, "", args...)
			assert.Contains(t, got.err+got.out, "strandwise cast-on NAME PART...")
		}
		terminalOn(t, path).wants(5, "nothing was saved", "store", "backup")
	}
	entries, err := os.ReadDir(folder)
	require.NoError(t, err)
	assert.Len(t, entries, 1, "only the link is there")
}

func TestEmptyFileNamesTheNewestBackup(t *testing.T) {
	path := seededStore(t, planted("hat", 3))
	made := mustJSON[answer.BackedUp](t, path, 0, "store", "backup")
	require.NoError(t, os.Truncate(path, 0))
	for _, args := range [][]string{{"knit"}, {"show"}, {"undo"}, {"store", "export"}} {
		got := terminalOn(t, path).wants(6, "is empty", args...)
		assert.Contains(t, got.err, made.Path, args)
	}
}

func TestOtherFilesAreNoStores(t *testing.T) {
	for name, data := range map[string][]byte{
		"text":  []byte(strings.Repeat("a harbor at dusk\n", 900)),
		"JSON":  []byte(`{"schema":1,"pieces":[]}`),
		"PNG":   append([]byte("\x89PNG\r\n\x1a\n"), make([]byte, 9000)...),
		"other": otherDatabase(t),
	} {
		path := filepath.Join(t.TempDir(), "pieces.store")
		require.NoError(t, os.WriteFile(path, data, 0o600))
		for _, args := range both() {
			terminalOn(t, path).wants(6, "", args...)
		}
		assert.Contains(t, terminalOn(t, path).run("knit").err, "not a store of this program", name)
	}
}

// otherDatabase is a file of the same database that is no store.
func otherDatabase(t *testing.T) []byte {
	t.Helper()
	path := filepath.Join(t.TempDir(), "other.db")
	db, err := bbolt.Open(path, 0o600, nil)
	require.NoError(t, err)
	require.NoError(t, db.Update(func(tx *bbolt.Tx) error {
		_, err := tx.CreateBucket([]byte("boats"))
		return err
	}))
	require.NoError(t, db.Close())
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	return data
}

func TestFolderAsStoreOrChart(t *testing.T) {
	folder := t.TempDir()
	for _, args := range both() {
		start := time.Now()
		got := terminalOn(t, folder).run(args...)
		assert.Equal(t, 5, got.code, got.err)
		assert.Less(t, time.Since(start), time.Second)
	}
	got := terminalOn(t, filepath.Join(t.TempDir(), "new.store")).run("cast-on", "hat", folder)
	assert.Equal(t, 3, got.code, got.err)
	assert.Contains(t, got.err, "is a folder")
}

func TestNewerSchemaIsRefused(t *testing.T) {
	path := seededStore(t, planted("hat", 3))
	setSchema(t, path, "99")
	for _, args := range both() {
		got := terminalOn(t, path).wants(6, "", args...)
		assert.Contains(t, got.err+got.out, "99")
		assert.Contains(t, got.err+got.out, "schema 1")
	}
}

// setSchema writes another schema into a store as a newer program would.
func setSchema(t *testing.T, path, schema string) {
	t.Helper()
	db, err := bbolt.Open(path, 0o600, nil)
	require.NoError(t, err)
	require.NoError(t, db.Update(func(tx *bbolt.Tx) error {
		key := []byte("schema")
		return tx.Bucket([]byte("meta")).Put(key, sealed(key, schema))
	}))
	require.NoError(t, db.Close())
}

// sealed is a value of the store's own bucket with the CRC-32C of its key and
// itself behind it, as a newer program would write one.
func sealed(key []byte, value string) []byte {
	sum := crc32.Checksum(append(append([]byte{}, key...), value...), crc32.MakeTable(crc32.Castagnoli))
	return binary.BigEndian.AppendUint32([]byte(value), sum)
}

func TestUnknownEventIsNeverSkipped(t *testing.T) {
	path := seededStore(t, planted("hat", 3))
	inStore(t, path, func(tx *store.Tx) error {
		_, err := tx.Append(1, store.Record{Kind: 4242, Time: seedTime})
		return err
	})
	for _, args := range [][]string{{"knit"}, {"undo"}, {"show"}, {"store", "check"}} {
		terminalOn(t, path).wants(6, "newer version", args...)
	}
}

func TestBadChartsAreRefusedWithTheirPlace(t *testing.T) {
	charts, err := filepath.Glob("../chart/testdata/bad/*.chart")
	require.NoError(t, err)
	require.Greater(t, len(charts), 25)
	path := seededStore(t, planted("hat", 3))
	before := sumOf(t, path)
	for _, chart := range charts {
		got := onStore(t, path, "cast-on", "cowl", chart)
		assert.Equal(t, 3, got.code, chart)
		assert.Regexp(t, `(?m)\.chart:\d+:\d+: `, got.err)
		assert.Contains(t, got.err, "nothing was saved", chart)
		assert.Equal(t, before, sumOf(t, path), chart)
	}
}

func TestChartFileChangedOrGoneLater(t *testing.T) {
	text, err := os.ReadFile("../examples/lantern-band.chart")
	require.NoError(t, err)
	file := filepath.Join(t.TempDir(), "band.chart")
	require.NoError(t, os.WriteFile(file, text, 0o600))
	path := filepath.Join(t.TempDir(), "new.store")
	require.Zero(t, onStore(t, path, "cast-on", "hat", file+"@6").code)
	first := onStore(t, path, "show", "--row", "5")
	assert.Empty(t, onStore(t, path, "resume").err)
	require.NoError(t, os.WriteFile(file, []byte("title: other\n"), 0o600))
	assert.Equal(t, first.out, onStore(t, path, "show", "--row", "5").out)
	assert.Zero(t, onStore(t, path, "knit").code)
	note := "strandwise: note: " + file
	assert.Equal(t, note+" has changed since it was read; hat goes on with the chart as it was\n", onStore(t, path, "resume").err)
	require.NoError(t, os.Remove(file))
	assert.Equal(t, note+" is no longer there; hat goes on with the chart as it was\n", onStore(t, path, "resume").err)
	assert.Equal(t, first.out, onStore(t, path, "show", "--row", "5").out)
	assert.Zero(t, onStore(t, path, "knit").code)
}

func TestRippingMoreThanThereIs(t *testing.T) {
	w := terminalOn(t, seededStore(t, planted("hat", 3)))
	w.wants(1, "3 are worked", "rip", "4", "--yes")
	w.wants(1, "3 are worked", "rip", "60", "--yes")
	for _, count := range []string{"0", "-1", "99999999999999999999", "many"} {
		w.wants(2, "from 1 to 3, as many as are finished", "rip", "--yes", "--", count)
		w.wants(2, "from 1 to 3, as many as are finished", "rip", count, "--yes")
	}
	w.wants(1, "nothing to rip out", "rip")
	none := terminalOn(t, seededStore(t, planted("hat", 0)))
	none.wants(1, "none is worked yet", "rip", "1", "--yes")
	none.wants(2, "of which none is finished", "rip", "0", "--yes")
}

func TestClockSetBackAndZoneChanged(t *testing.T) {
	path := seededStore(t, planted("hat", 3))
	for i, at := range []time.Time{
		seedTime.AddDate(-1, 0, 0),
		seedTime.In(time.FixedZone("", -9*3600)),
		seedTime.AddDate(-1, 0, 1).In(time.FixedZone("", 13*3600+2700)),
	} {
		got := runMain(t, frame.Env{Now: func() time.Time { return at }}, "knit", "--row", []string{"4", "5", "6"}[i], "--store", path)
		require.Zero(t, got.code, got.err)
	}
	body := mustJSON[answer.StoreCheck](t, path, 0, "store", "check")
	assert.Equal(t, 7, body.Events)
	assert.Equal(t, 1, onStore(t, path, "knit", "--row", "6").code)
	assert.Zero(t, onStore(t, path, "undo").code)
	assert.Zero(t, onStore(t, path, "knit", "--row", "6").code, "the newest by number was undone")
}

func TestExportCutOrChangedThroughTheProgram(t *testing.T) {
	here, there := terminalOn(t, seededStore(t, planted("hat", 3))), terminalOn(t, seededStore(t))
	file := filepath.Join(t.TempDir(), "all.jsonl")
	here.wants(0, "", "store", "export", "-o", file)
	data, err := os.ReadFile(file)
	require.NoError(t, err)
	cut := filepath.Join(t.TempDir(), "cut.jsonl")
	require.NoError(t, os.WriteFile(cut, data[:bytes.LastIndexByte(data[:len(data)-1], '\n')+1], 0o600))
	there.wants(3, "cut.jsonl:", "store", "import", cut, "--yes")
	require.Zero(t, there.run("store", "import", file, "--yes").code)
	there.wants(0, "", "store", "import", file, "--yes")
	assert.Contains(t, there.run("store", "import", file).out, "already there")
}

// session events of every kind may stand in a log that the program reads: a step on
// one with notes, pauses and rips between the rows works like any other.
func TestStepsFollowOtherEvents(t *testing.T) {
	p := planted("hat", 3)
	p.events = append(p.events, &session.Noted{Text: "slack"}, &session.Paused{Stitch: 7}, &session.Ripped{Rows: 1})
	path := seededStore(t, p)
	assert.Zero(t, onStore(t, path, "knit", "--row", "3").code)
	requireSound(t, path)
}
