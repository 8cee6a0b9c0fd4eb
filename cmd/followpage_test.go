package cmd

import (
	"bufio"
	"fmt"
	"io"
	"math/rand/v2"
	"net/http"
	"net/http/cookiejar"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"rsc.io/qr"

	"strandwise/cmd/paint"
	"strandwise/cmd/stored"
	"strandwise/session"
	"strandwise/store"
)

// served is a program that serves pages, and a browser without a script.
type served struct {
	t      testing.TB
	w      *terminal
	run    *exec.Cmd
	lines  *bufio.Reader
	typed  io.Writer
	host   string // http://127.0.0.1:PORT
	key    string
	client *http.Client
}

// servedOn serves the current piece of a store.
func servedOn(t testing.TB, w *terminal, flags ...string) *served {
	s := &served{t: t, w: w, run: w.command(append([]string{"follow", "--page"}, flags...)...)}
	out, err := s.run.StdoutPipe()
	require.NoError(t, err)
	s.typed, err = s.run.StdinPipe()
	require.NoError(t, err)
	require.NoError(t, s.run.Start())
	t.Cleanup(s.kill)
	s.lines = bufio.NewReader(out)
	s.host, s.key = s.told()
	s.client = newBrowser(t)
	return s
}

func newBrowser(t testing.TB) *http.Client {
	jar, err := cookiejar.New(nil)
	require.NoError(t, err)
	return &http.Client{Jar: jar, Timeout: 10 * time.Second}
}

// told reads the address that the program prints, and its key.
func (s *served) told() (host, key string) {
	for {
		line, err := s.lines.ReadString('\n')
		require.NoError(s.t, err)
		if m := regexp.MustCompile(`(http://[^/]+)/\?key=([0-9a-f]{32})`).FindStringSubmatch(line); m != nil {
			return m[1], m[2]
		}
	}
}

func (s *served) kill() {
	_ = s.run.Process.Kill()
	_ = s.run.Wait()
}

// end is control and C.
func (s *served) end() {
	require.NoError(s.t, s.run.Process.Signal(syscall.SIGINT))
	_, _ = io.Copy(io.Discard, s.lines)
	_ = s.run.Wait()
	require.Equal(s.t, 130, s.run.ProcessState.ExitCode())
}

// do sends a request as a page of the server would, but for what change does to it.
func (s *served) do(method, path string, form url.Values, change func(*http.Request)) (int, string) {
	r := s.request(method, path, form)
	if change != nil {
		change(r)
	}
	answer, err := s.client.Do(r)
	require.NoError(s.t, err)
	defer answer.Body.Close()
	body, err := io.ReadAll(answer.Body)
	require.NoError(s.t, err)
	return answer.StatusCode, string(body)
}

// request is one that a page of the server would send.
func (s *served) request(method, path string, form url.Values) *http.Request {
	r, err := http.NewRequest(method, s.host+path, strings.NewReader(form.Encode()))
	require.NoError(s.t, err)
	if method == http.MethodPost {
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		r.Header.Set("Origin", s.host)
	}
	return r
}

// enter lets the browser in.
func (s *served) enter() string {
	code, page := s.do("POST", "/enter", url.Values{"key": {s.key}}, nil)
	require.Equal(s.t, 200, code, page)
	return page
}

// hidden is a field of the form on a page.
func hidden(t testing.TB, page, name string) string {
	m := regexp.MustCompile(`name="` + name + `" value="([^"]*)"`).FindStringSubmatch(page)
	require.NotNil(t, m, page)
	return m[1]
}

// press fills in the form of a page.
func (s *served) press(page, name, value string) (int, string) {
	return s.do("POST", "/press", url.Values{"press": {hidden(s.t, page, "press")}, "seen": {hidden(s.t, page, "seen")}, name: {value}}, nil)
}

// hatOn casts a hat of 22 rounds on. The clock of what is served goes ahead as wait says.
func hatOn(t testing.TB) *terminal {
	folder := t.TempDir()
	w := terminalOn(t, filepath.Join(folder, "pieces.db"))
	w.names, w.env = "seated", []string{clockVariable + "=" + filepath.Join(folder, "clock")}
	require.Zero(t, w.run("cast-on", "hat", "example:lantern-band@6", "--gauge", "22x26/10cm").code)
	return w
}

// wait lets time pass: more than a press may come too early.
func (w *terminal) wait() {
	clock := strings.TrimPrefix(w.env[0], clockVariable+"=")
	text, _ := os.ReadFile(clock)
	ahead, _ := strconv.Atoi(string(text))
	require.NoError(w.t, os.WriteFile(clock, []byte(strconv.Itoa(ahead+3000)), 0o600))
}

// stateIn folds the log of a piece of a store.
func stateIn(t testing.TB, path string, piece store.PieceID) *session.State {
	var s *session.State
	require.NoError(t, store.At(path, store.Options{}).View(t.Context(), func(tx *store.Tx) (err error) {
		s, err = stored.FoldLog(tx, piece)
		return err
	}))
	return s
}

// kindsIn counts the events of each kind that the pieces' log holds, those undone too.
func kindsIn(s *session.State) map[session.Kind]int {
	kinds := map[session.Kind]int{}
	for _, e := range s.Log {
		kinds[e.Kind()]++
	}
	return kinds
}

// TestHatByForms knits the hat in a browser without a script.
func TestHatByForms(t *testing.T) {
	w := hatOn(t)
	s := servedOn(t, w)
	page := s.enter()
	press := func(name, value, says string) {
		t.Helper()
		w.wait()
		form := url.Values{"press": {hidden(t, page, "press")}, "seen": {hidden(t, page, "seen")}, name: {value}}
		for range 2 { // a form is sent twice where a finger shakes
			var code int
			code, page = s.do("POST", "/press", form, nil)
			require.Equal(t, 200, code)
		}
		require.Contains(t, page, says)
	}
	for row := 1; row <= 22; row++ {
		says := "logged as planned"
		switch row {
		case 5:
			press("key", "c", "which catch was made otherwise?")
			press("pick", "1", "catch b")
			press("choose", "1", "catch b")
			press("key", "l", "1 stitch later in every repeat")
			press("key", "Enter", "will be logged: catch b 1 stitch later in every repeat")
			says = "logged: catch b 1 stitch later in every repeat"
		case 9:
			press("key", "c", "")
			press("key", "m", "missed in every repeat")
			press("key", "x", "extra catch of oat")
			press("key", "Enter", "will be logged")
			says = "missed in every repeat; extra catch of oat"
		case 12:
			press("note", "slack at the third lantern", "noted")
			press("key", "u", "undid")
			press("note", "slack at the fourth lantern", "noted")
		}
		press("key", "Enter", says)
	}
	assert.Contains(t, page, "all 22 rounds are worked")
	state := stateIn(t, w.store, 1)
	assert.Equal(t, 22, state.Row)
	assert.Equal(t, map[session.Kind]int{
		session.KindCastOn: 1, session.KindRowKnit: 20, session.KindRowChanged: 2, session.KindNoted: 2, session.KindUndone: 1,
	}, kindsIn(state))
	assert.Len(t, state.DoneRow(5).Changes.Moved, 6)
	assert.Len(t, state.DoneRow(9).Changes.Missed, 6)
	assert.NotEmpty(t, state.DoneRow(9).Changes.Extra)
	requireSound(t, w.store)
}

// entered is what one press puts into the log.
type entered struct {
	kind  session.Kind
	press string // empty for what a terminal logs
}

// TestTwoPagesAndATerminalKilled presses on two pages and in a terminal, rounds, notes and undoing, while the
// program is killed five times with a press under way: each is in the log, once, in its order.
func TestTwoPagesAndATerminalKilled(t *testing.T) {
	t.Parallel()
	w := hatOn(t)
	require.Zero(t, w.run("cast-on", "tall hat", "example:lantern-band@2x4", "--gauge", "22x26/10cm").code)
	s := servedOn(t, w)
	s.enter()
	pages := [2]*http.Client{s.client, newBrowser(t)}
	_, err := io.WriteString(s.typed, "\n")
	require.NoError(t, err)
	_, s.key = s.told()
	s.client = pages[1]
	s.enter()

	log, holds := []entered{{kind: session.KindCastOn}}, []session.Kind{} // and what undoing has left of it
	random := rand.New(rand.NewPCG(1, 17))
	presses := rounds(150, 500)
	for n := range presses {
		w.wait()
		kind := []session.Kind{session.KindRowKnit, session.KindRowKnit, session.KindNoted, session.KindUndone, session.KindUndone}[random.IntN(5)]
		if len(holds) == 0 {
			kind = session.KindRowKnit
		}
		one := entered{kind, fmt.Sprintf("%016d", n)}
		if n%10 == 9 {
			one.press = ""
			line := map[session.Kind][]string{session.KindRowKnit: {"knit"}, session.KindNoted: {"note", "slack"}, session.KindUndone: {"undo"}}[kind]
			require.Zero(t, w.run(line...).code)
		} else {
			s.client = pages[n%2]
			_, page := s.do("GET", "/", nil, nil)
			w.wait() // as a row that a terminal logged came up only now
			form := url.Values{"press": {one.press}, "seen": {hidden(t, page, "seen")}}
			switch kind {
			case session.KindNoted:
				form = url.Values{"press": {one.press}, "note": {"slack"}}
			case session.KindUndone:
				form.Set("key", "u")
			default:
				form.Set("key", "Enter")
			}
			if n%(presses/5) == presses/10+2 {
				s = s.killedWhilePressed(form, time.Duration(random.IntN(12))*time.Millisecond)
				w.wait() // as a row that came up just now takes no press
			}
			for range 1 + n%3/2 {
				code, page := s.do("POST", "/press", form, nil)
				require.Equal(t, 200, code, page)
			}
		}
		log = append(log, one)
		if kind == session.KindUndone {
			holds = holds[:len(holds)-1]
		} else {
			holds = append(holds, kind)
		}
	}
	state := stateIn(t, w.store, 2)
	var found []entered
	for _, e := range state.Log {
		found = append(found, entered{e.Kind(), e.Press})
	}
	assert.Equal(t, log, found)
	rows := slices.DeleteFunc(slices.Clone(holds), func(k session.Kind) bool { return k != session.KindRowKnit })
	assert.Equal(t, len(rows), state.Row)
	assert.Len(t, state.Notes, len(holds)-len(rows))
	requireSound(t, w.store)
}

// killedWhilePressed kills the program while it takes a press, and starts it anew: the pages go on.
func (s *served) killedWhilePressed(form url.Values, after time.Duration) *served {
	killed := make(chan struct{})
	go func() {
		time.Sleep(after)
		s.kill()
		close(killed)
	}()
	r := s.request("POST", "/press", form)
	if answer, err := s.client.Do(r); err == nil {
		_ = answer.Body.Close()
	}
	<-killed
	next := servedOn(s.t, s.w)
	require.Equal(s.t, s.host, next.host)
	next.client = s.client
	return next
}

// The square is read back place by place from what stands in the cells of a terminal, and is the code of the address
// by the library that makes it, with four light places around (ISO/IEC 18004), whatever the terminal shows.
func TestTheSquareIsTheCodeOfTheAddress(t *testing.T) {
	const address = "http://192.168.178.20:43211/?key=0123456789abcdef0123456789abcdef"
	code, err := qr.Encode(address, qr.L)
	require.NoError(t, err)
	none, unicode, ascii := paint.New(paint.None), paint.ChooseMarks(paint.Unicode, os.Getenv), paint.ChooseMarks(paint.ASCII, os.Getenv)
	for name, look := range map[string]paint.Look{
		"colors":        {Paint: paint.New(paint.True), Marks: unicode, Width: 80},
		"16 colors":     {Paint: paint.New(paint.Sixteen), Marks: unicode, Width: 80},
		"none":          {Paint: none, Marks: unicode, Width: 80},
		"colors, ASCII": {Paint: paint.New(paint.True), Marks: ascii, Width: 90},
		"none, ASCII":   {Paint: none, Marks: ascii, Width: 90},
	} {
		dark := placesOf(t, square(address, look), look.Marks.Block == "#")
		require.GreaterOrEqual(t, len(dark), code.Size+8, name)
		for y := range dark {
			require.Len(t, dark[y], code.Size+8, name)
			for x := range dark[y] {
				require.Equal(t, code.Black(x-4, y-4), dark[y][x], "%s: place %d, %d", name, x, y)
			}
		}
	}
	assert.Empty(t, square(address, paint.Look{Paint: none, Marks: unicode, Width: 30}), "it would be broken off")
}

// placesOf reads a square as it looks on a terminal that is dark: which places are dark. Of ASCII signs a place takes two.
func placesOf(t *testing.T, square string, ascii bool) [][]bool {
	t.Helper()
	var dark [][]bool
	for line := range strings.Lines(square) {
		var upper, lower []bool
		ink, ground := false, true // whether what is drawn, and what is around it, is dark
		for _, cell := range regexp.MustCompile(`\x1b\[[0-9;]*m|.`).FindAllString(strings.TrimSuffix(line, "\n"), -1) {
			switch {
			case strings.HasPrefix(cell, "\x1b[0"), cell == "\x1b[m":
				ink, ground = false, true
			case cell[0] == '\x1b':
				ground = !regexp.MustCompile(`48;2;255;255;255|107|48;5;15`).MatchString(cell)
				ink = !ground
			default:
				drawn, is := map[string][2]bool{" ": {}, "█": {true, true}, "#": {true, true}, "▀": {true, false}, "▄": {false, true}}[cell]
				require.True(t, is, "%q", cell)
				dye := map[bool]bool{true: ink, false: ground}
				upper, lower = append(upper, dye[drawn[0]]), append(lower, dye[drawn[1]])
			}
		}
		if !ascii {
			dark = append(dark, upper, lower)
			continue
		}
		var places []bool
		for pair := range slices.Chunk(upper, 2) {
			require.Equal(t, pair[0], pair[1])
			places = append(places, pair[0])
		}
		dark = append(dark, places)
	}
	return dark
}
