package store_test

import (
	"crypto/sha256"
	"encoding/hex"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"strandwise/store"
)

// A power cut leaves what was synced and any part of what was not. The test
// records every change a child makes to files, then rebuilds the folder as it may
// be after a cut at any moment: names are changed by links, renames and removals,
// which last once their folder is synced; contents by writes and changes of
// length, which last once their file is synced. Of the rest any part may be there,
// whole writes or single sectors of 512 bytes.

// act is one recorded change or barrier.
type act struct {
	what string // create, write, length, sync, link, unlink, rename, syncdir
	file int    // number of the file, by the order it was created in
	at   int64
	data []byte
	name string
	to   string
	says int // steps acknowledged before this
}

var (
	openCall   = regexp.MustCompile(`openat\(AT_FDCWD, "([^"]*)", ([A-Z_|]+)(?:, [0-7]+)?\)\s+= (\d+)$`)
	closeCall  = regexp.MustCompile(`close\((\d+)\)\s+= 0$`)
	writeCall  = regexp.MustCompile(`pwrite64\((\d+), "([^"]*)", \d+, (\d+)\)\s+= (\d+)$`)
	lengthCall = regexp.MustCompile(`ftruncate\((\d+), (\d+)\)\s+= 0$`)
	syncCall   = regexp.MustCompile(`f(?:data)?sync\((\d+)\)\s+= 0$`)
	linkCall   = regexp.MustCompile(`linkat\(AT_FDCWD, "([^"]*)", AT_FDCWD, "([^"]*)", 0\)\s+= 0$`)
	unlinkCall = regexp.MustCompile(`unlinkat\(AT_FDCWD, "([^"]*)", 0\)\s+= 0$`)
	printCall  = regexp.MustCompile(`write\(1, `)
	resumed    = regexp.MustCompile(`^(\d+) +<\.\.\. \w+ resumed>(.*)$`)
	unfinished = regexp.MustCompile(`^(\d+) +(.*) <unfinished \.\.\.>$`)
	whole      = regexp.MustCompile(`^\d+ +(.*)$`)
)

// calls joins the lines of a trace whose calls were interrupted by another thread.
func calls(trace string) []string {
	var all []string
	begun := map[string]string{}
	for _, text := range strings.Split(trace, "\n") {
		if m := unfinished.FindStringSubmatch(text); m != nil {
			begun[m[1]] = m[2]
		} else if m := resumed.FindStringSubmatch(text); m != nil {
			all = append(all, begun[m[1]]+m[2])
		} else if m := whole.FindStringSubmatch(text); m != nil {
			all = append(all, m[1])
		}
	}
	return all
}

// recorder turns calls into acts.
type recorder struct {
	folder string
	open   map[string]int // descriptor -> file, or -1 for the folder
	named  map[string]int // name -> file
	acts   []act
	says   int
}

// record takes one call.
func (r *recorder) record(text string) {
	switch {
	case openCall.MatchString(text):
		m := openCall.FindStringSubmatch(text)
		r.opened(m[1], strings.Contains(m[2], "O_CREAT"), m[3])
	case closeCall.MatchString(text):
		delete(r.open, closeCall.FindStringSubmatch(text)[1])
	case writeCall.MatchString(text):
		m := writeCall.FindStringSubmatch(text)
		at, _ := strconv.ParseInt(m[3], 10, 64)
		data, _ := hex.DecodeString(strings.ReplaceAll(m[2], `\x`, ""))
		r.onFile(m[1], act{what: "write", at: at, data: data})
	case lengthCall.MatchString(text):
		m := lengthCall.FindStringSubmatch(text)
		at, _ := strconv.ParseInt(m[2], 10, 64)
		r.onFile(m[1], act{what: "length", at: at})
	case syncCall.MatchString(text):
		r.onFile(syncCall.FindStringSubmatch(text)[1], act{what: "sync"})
	case linkCall.MatchString(text):
		m := linkCall.FindStringSubmatch(text)
		r.add(act{what: "link", name: m[1], to: m[2], file: r.named[m[1]]})
		r.named[m[2]] = r.named[m[1]]
	case unlinkCall.MatchString(text):
		r.add(act{what: "unlink", name: unlinkCall.FindStringSubmatch(text)[1]})
	case printCall.MatchString(text):
		r.says++
	}
}

// syncs counts the barriers recorded.
func (r *recorder) syncs() int {
	n := 0
	for _, a := range r.acts {
		if a.what == "sync" {
			n++
		}
	}
	return n
}

// opened notes a descriptor, and a new file.
func (r *recorder) opened(path string, create bool, descriptor string) {
	if path == r.folder {
		r.open[descriptor] = -1
		return
	}
	if filepath.Dir(path) != r.folder {
		return
	}
	if _, known := r.named[path]; !known && create {
		r.named[path] = len(r.named)
		r.add(act{what: "create", file: r.named[path], name: path})
	}
	if file, known := r.named[path]; known {
		r.open[descriptor] = file
	}
}

// onFile adds an act on an open file; a sync of the folder is one of names.
func (r *recorder) onFile(descriptor string, a act) {
	file, known := r.open[descriptor]
	if !known {
		return
	}
	if a.file = file; file < 0 {
		a.what = "syncdir"
	}
	r.add(a)
}

func (r *recorder) add(a act) {
	a.says = r.says
	r.acts = append(r.acts, a)
}

// disk is a folder as it may be: the contents of each file, and the names.
type disk struct {
	files map[int][]byte
	names map[string]int
}

// apply does one act.
func (d *disk) apply(a act) {
	switch a.what {
	case "create":
		d.names[a.name] = a.file
	case "write":
		d.grow(a.file, a.at+int64(len(a.data)))
		copy(d.files[a.file][a.at:], a.data)
	case "length":
		d.grow(a.file, a.at)
	case "link":
		d.names[a.to] = a.file
	case "unlink":
		delete(d.names, a.name)
	}
}

// grow lengthens a file with zeros.
func (d *disk) grow(file int, size int64) {
	if missing := size - int64(len(d.files[file])); missing > 0 {
		d.files[file] = append(d.files[file], make([]byte, missing)...)
	}
}

// clone copies the disk.
func (d *disk) clone() *disk {
	c := &disk{files: map[int][]byte{}, names: map[string]int{}}
	for file, data := range d.files {
		c.files[file] = append([]byte(nil), data...)
	}
	for name, file := range d.names {
		c.names[name] = file
	}
	return c
}

// lasts reports whether a barrier makes an act last.
func (a act) lasts(barrier act) bool {
	switch a.what {
	case "create", "link", "unlink":
		return barrier.what == "syncdir"
	}
	return barrier.what == "sync" && barrier.file == a.file
}

// torn is a part of a write: any of its sectors.
func torn(r *rand.Rand, a act) []act {
	var parts []act
	for at := 0; at < len(a.data); at += 512 {
		if r.IntN(2) == 0 {
			parts = append(parts, act{what: "write", file: a.file, at: a.at + int64(at), data: a.data[at:min(at+512, len(a.data))]})
		}
	}
	return parts
}

// some is a random part of what was not yet made to last.
func some(r *rand.Rand, pending []act) []act {
	var chosen []act
	for _, a := range pending {
		switch {
		case r.IntN(2) == 0:
		case a.what == "write" && r.IntN(3) == 0:
			chosen = append(chosen, torn(r, a)...)
		default:
			chosen = append(chosen, a)
		}
	}
	return chosen
}

// cuts calls look with disks as a power cut may leave them, so many at each act.
func cuts(acts []act, each int, look func(d *disk, says int)) {
	r := rand.New(rand.NewPCG(3, 4))
	lasting := &disk{files: map[int][]byte{}, names: map[string]int{}}
	var pending []act
	for _, a := range acts {
		if a.what != "sync" && a.what != "syncdir" {
			pending = append(pending, a)
		}
		for n := range each {
			d := lasting.clone()
			parts := some(r, pending)
			if n == 0 {
				parts = nil // everything unsynced is lost
			}
			for _, p := range parts {
				d.apply(p)
			}
			look(d, a.says)
		}
		var left []act
		for _, p := range pending {
			if p.lasts(a) {
				lasting.apply(p)
			} else {
				left = append(left, p)
			}
		}
		pending = left
	}
}

const changes = "trace=openat,close,pwrite64,write,ftruncate,fdatasync,fsync,linkat,unlinkat,renameat"

// recordChild records what a child does in a folder.
func recordChild(t *testing.T, r *recorder, name string, args ...string) {
	t.Helper()
	status, trace := traced(t, []string{"-xx", "-s", "2000000", "-e", changes}, name, args...)
	require.Zero(t, status)
	for _, text := range calls(unhexNames(trace)) {
		r.record(text)
	}
}

// unhexNames gives the names of files back their letters, which strace hides with
// all other text.
func unhexNames(trace string) string {
	names := regexp.MustCompile(`((?:openat|linkat|unlinkat)\([^\n]*)`)
	text := regexp.MustCompile(`"((?:\\x[0-9a-f]{2})*)"`)
	return names.ReplaceAllStringFunc(trace, func(call string) string {
		return text.ReplaceAllStringFunc(call, func(quoted string) string {
			b, _ := hex.DecodeString(strings.ReplaceAll(strings.Trim(quoted, `"`), `\x`, ""))
			return `"` + string(b) + `"`
		})
	})
}

func TestPowerCutInCreationAndSteps(t *testing.T) {
	t.Parallel()
	folder := t.TempDir()
	path := filepath.Join(folder, "pier.store")
	r := &recorder{folder: folder, open: map[string]int{}, named: map[string]int{}}
	recordChild(t, r, "create", path)
	created := len(r.acts)
	require.Positive(t, created)
	id := newPieceRecorded(t, r, path)
	count := rounds(20, 200)
	recordChild(t, r, "steps", path, "1", strconv.Itoa(count), "a row of the pier pattern")

	require.GreaterOrEqual(t, r.syncs(), 2*count, "the record has a hole")

	states, present := 0, 0
	where := filepath.Join(t.TempDir(), "pier.store")
	seen := map[[sha256.Size]byte]int{} // events in each file checked so far
	look := func(d *disk, says int) {
		states++
		file, there := d.names[path]
		if !there {
			require.Zero(t, says, "an acknowledged step is gone with the store")
			return
		}
		present++
		sum := sha256.Sum256(d.files[file])
		if _, known := seen[sum]; !known {
			require.NoError(t, os.WriteFile(where, d.files[file], 0o600))
			seen[sum] = soundEvents(t, at(where), id)
		}
		require.GreaterOrEqual(t, seen[sum], says)
		require.LessOrEqual(t, seen[sum], says+1)
	}
	cuts(r.acts, rounds(3, 8), look)
	t.Logf("%d states, %d of them with a store, %d different", states, present, len(seen))
	require.Greater(t, present, states/2)
}

// soundEvents counts the events of a piece in a store that must be sound. Before the
// piece is made there are none.
func soundEvents(t *testing.T, s *store.Store, id store.PieceID) (events int) {
	t.Helper()
	requireSound(t, s)
	require.NoError(t, s.View(ctx, func(tx *store.Tx) error {
		if len(tx.Pieces()) == 0 {
			return nil
		}
		tail, err := tx.Tail(id)
		events = int(tail.Seq)
		return err
	}))
	return events
}

// newPieceRecorded makes the piece in a recorded child, so that the record has no
// hole.
func newPieceRecorded(t *testing.T, r *recorder, path string) store.PieceID {
	t.Helper()
	recordChild(t, r, "piece", path)
	r.says = 0
	return 1
}
