package cmd

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/color"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"strandwise/cmd/frame"
	"strandwise/store"
)

// recordStart is the clock of a session at its first command; each later command comes
// recordStep after.
var recordStart = time.Date(2031, 3, 9, 9, 0, 0, 0, time.UTC)

const recordStep = 4 * time.Minute

// recording is a session under way. Its script has one thing a line:
//
//	# a comment, which the golden repeats
//	show --row 5                  a command line, without the program; '...' and "..." hold words together
//	NO_COLOR=1 show               with a variable of the shell
//	@terminal rip 1               with a terminal on all streams, for questions
//	@broken knit                  with a standard output that nobody reads any more
//	@interrupted follow           interrupted when it reads its input
//	@panicking chart check -      with an input that panics, as a fault of our own would
//	< text                        a line of its standard input
//	@file $DIR/a.chart            makes a file of the lines < that follow
//	@paint $DIR/a.png 6           makes a picture of the lines < that follow: a square of so
//	                              many pixels for each letter, see paints
//	@cut $STORE 12288             cuts a file to so many bytes
//	@lock, @unlock                another process works on the store
//	@later 26h                    puts the clock forward
//
// In the golden a command line begins with $; below it stand "exit N" unless it was 0,
// standard output behind |, standard error behind !, and each file it wrote behind =.
type recording struct {
	t          *testing.T
	dir, store string
	now        time.Time
	files      map[string]string // what each file of the session holds
	unlock     func()            // nil while nobody else works on the store
	told       strings.Builder
	heard      func(args []string, code int, out string) // nil, or told of every command
}

// record runs a session to its end.
func record(t *testing.T, script string) *recording {
	t.Helper()
	return recordHeard(t, script, nil)
}

// recordHeard runs a session and tells heard of every command and its answer.
func recordHeard(t *testing.T, script string, heard func(args []string, code int, out string)) *recording {
	t.Helper()
	text, err := os.ReadFile(script)
	require.NoError(t, err)
	dir := sessionName(script) + ".dir"
	require.NoError(t, os.Mkdir(dir, 0o700))
	r := &recording{
		t: t, dir: dir, store: filepath.Join(dir, "pieces.store"),
		now: recordStart, files: map[string]string{}, heard: heard,
	}
	lines := strings.Split(strings.TrimRight(string(text), "\n"), "\n")
	for len(lines) > 0 {
		n := 1
		for n < len(lines) && strings.HasPrefix(lines[n], "<") {
			n++
		}
		r.line(lines[0], given(lines[1:n]))
		lines = lines[n:]
	}
	r.free()
	return r
}

// given is the text of lines that begin with "< ".
func given(lines []string) (text string) {
	for _, line := range lines {
		text += strings.TrimPrefix(strings.TrimPrefix(line, "<"), " ") + "\n"
	}
	return text
}

// line does what one line of the script says.
func (r *recording) line(line, input string) {
	if line == "" || strings.HasPrefix(line, "#") {
		fmt.Fprintln(&r.told, line)
		return
	}
	words := splitWords(r.t, line)
	for i, word := range words {
		words[i] = strings.NewReplacer("$DIR", r.dir, "$STORE", r.store).Replace(word)
	}
	fmt.Fprintln(&r.told, "$ "+line)
	switch words[0] {
	case "@later":
		by, err := time.ParseDuration(words[1])
		require.NoError(r.t, err, line)
		r.now = r.now.Add(by)
	case "@file":
		require.NoError(r.t, os.WriteFile(words[1], []byte(input), 0o600))
		r.files[words[1]] = input
	case "@paint":
		side, err := strconv.Atoi(words[2])
		require.NoError(r.t, err, line)
		r.files[words[1]] = string(asPNG(paintedSquares(strings.Fields(input), side)))
		require.NoError(r.t, os.WriteFile(words[1], []byte(r.files[words[1]]), 0o600))
	case "@cut":
		var size int64
		_, err := fmt.Sscan(words[2], &size)
		require.NoError(r.t, err, line)
		require.NoError(r.t, os.Truncate(words[1], size))
	case "@lock":
		r.lock()
	case "@unlock":
		r.free()
	default:
		r.command(words, input)
	}
}

// command runs a command line and tells what came of it.
func (r *recording) command(words []string, input string) {
	var out, errs bytes.Buffer
	now := r.now
	vars := map[string]string{"HOME": r.dir, "LANG": "C.UTF-8", "STRANDWISE_STORE": r.store}
	env := frame.Env{In: strings.NewReader(input), Out: &out, Err: &errs, Now: func() time.Time { return now }}
	switch words[0] {
	case "@terminal":
		env.InTTY, env.OutTTY, env.ErrTTY = true, true, true
		env.Size = func() (width, height int) { return 80, 0 }
		words = words[1:]
	case "@broken":
		env.Out = brokenPipe{}
		words = words[1:]
	case "@interrupted":
		interrupts := make(chan os.Signal, 1)
		env.In = &interrupting{r.t.Context(), interrupts}
		env.Interrupt = func() <-chan os.Signal { return interrupts }
		words = words[1:]
	case "@panicking":
		env.In = panicking{}
		words = words[1:]
	}
	for name, value, is := strings.Cut(words[0], "="); is && name == strings.ToUpper(name); name, value, is = strings.Cut(words[0], "=") {
		vars[name] = value
		words = words[1:]
		if len(words) == 0 {
			break
		}
	}
	env.Args, env.Getenv = words, fromMap(vars)
	code := Main(env)
	r.now = r.now.Add(recordStep)
	if code != 0 {
		fmt.Fprintf(&r.told, "exit %d\n", code)
	}
	r.tell("| ", out.String())
	r.tell("! ", errs.String())
	r.tellFiles()
	if r.heard != nil {
		r.heard(words, code, out.String())
	}
}

// tell puts a text into the golden, each line behind the mark.
func (r *recording) tell(mark, text string) {
	text = strings.NewReplacer(r.store, "$STORE", r.dir, "$DIR").Replace(kept(text))
	text = chance.ReplaceAllString(text, `"$1":"..."`)
	text = reportNumber.ReplaceAllString(text, "report-N.txt")
	for line := range strings.Lines(text) {
		fmt.Fprintln(&r.told, strings.TrimSuffix(mark+line, "\n"))
	}
	if text != "" && !strings.HasSuffix(text, "\n") {
		fmt.Fprintln(&r.told, mark+"(without a newline)")
	}
}

// chance matches what differs from run to run in an export: the keys of pieces, which are
// drawn by lot, and the sums over them.
var chance = regexp.MustCompile(`"(piece|crc|chain|sha256)":"(?:[0-9a-f]{8}|[0-9a-f]{16}|[0-9a-f]{64})"`)

// reportNumber matches the number of a report of a fault, drawn by lot too.
var reportNumber = regexp.MustCompile(`report-\d+\.txt`)

// tellFiles tells of the files that are new or hold something else now. Of stores, whose
// bytes are nobody's to read, and of reports of faults, which hold a stack, it tells the
// names.
func (r *recording) tellFiles() {
	found := map[string]string{}
	require.NoError(r.t, filepath.WalkDir(r.dir, func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		if strings.HasSuffix(path, ".store") || strings.Contains(path, ".store.") || reportNumber.MatchString(path) {
			found[path] = ""
			return nil
		}
		data, err := os.ReadFile(path)
		found[path] = string(data)
		return err
	}))
	var names []string
	for path, now := range found {
		if before, known := r.files[path]; !known || before != now {
			names = append(names, path)
		}
	}
	slices.Sort(names)
	for _, path := range names {
		r.tell("= ", path+"\n")
		if found[path] != "" {
			r.tell("", shownFile(r.t, path, found[path]))
		}
	}
	r.files = found
}

// lock keeps the store as another process would that writes to it.
func (r *recording) lock() {
	held, release, ended := make(chan struct{}), make(chan struct{}), make(chan error, 1)
	go func() {
		ended <- store.At(r.store, store.Options{}).Update(context.Background(), func(*store.Tx) error {
			close(held)
			<-release
			return nil
		})
	}()
	<-held
	r.unlock = func() {
		close(release)
		require.NoError(r.t, <-ended)
	}
}

func (r *recording) free() {
	if r.unlock != nil {
		r.unlock()
	}
	r.unlock = nil
}

// brokenPipe is a standard output that nobody reads any more.
type brokenPipe struct{}

func (brokenPipe) Write([]byte) (int, error) { return 0, syscall.EPIPE }

// panicking is an input that shows what a fault of our own looks like.
type panicking struct{}

func (panicking) Read([]byte) (int, error) { panic("broken invariant: row 0") }

// interrupting is an input at which the knitter presses Ctrl-C.
type interrupting struct {
	ctx  context.Context
	send chan<- os.Signal
}

func (i *interrupting) Read([]byte) (int, error) {
	i.send <- os.Interrupt
	<-i.ctx.Done()
	return 0, io.EOF
}

// paints are the colors of the letters in a painted picture; any other letter is left
// transparent.
var paints = map[byte]color.Color{
	'w': color.NRGBA{0xF4, 0xEF, 0xE2, 0xFF},
	'b': color.NRGBA{0x1F, 0x4E, 0x79, 0xFF},
	'r': color.NRGBA{0xA8, 0x32, 0x2B, 0xFF},
	'g': color.NRGBA{0x8A, 0x9E, 0xAE, 0xFF}, // about halfway from w to b
}

func paintedSquares(rows []string, side int) image.Image {
	return painted(len(rows[0])*side, len(rows)*side, func(x, y int) color.Color {
		if paint, known := paints[rows[y/side][x/side]]; known {
			return paint
		}
		return color.Transparent
	})
}

// splitWords splits a command line as a shell does, as far as quotes go.
func splitWords(t *testing.T, line string) []string {
	t.Helper()
	var words []string
	var word strings.Builder
	var quote rune
	begun := false
	for _, c := range line {
		switch {
		case quote != 0 && c == quote:
			quote = 0
		case quote == 0 && (c == '\'' || c == '"'):
			quote, begun = c, true
		case quote == 0 && c == ' ':
			if begun {
				words = append(words, word.String())
			}
			word.Reset()
			begun = false
		default:
			word.WriteRune(c)
			begun = true
		}
	}
	require.Zero(t, quote, "a quote is left open: "+line)
	if begun {
		words = append(words, word.String())
	}
	return words
}
