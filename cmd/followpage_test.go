package cmd

import (
	"bufio"
	"io"
	"net/http"
	"net/http/cookiejar"
	"net/url"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
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
	r, err := http.NewRequest(method, s.host+path, strings.NewReader(form.Encode()))
	require.NoError(s.t, err)
	if method == http.MethodPost {
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		r.Header.Set("Origin", s.host)
	}
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

func hatOn(t testing.TB) *terminal {
	w := terminalOn(t, filepath.Join(t.TempDir(), "pieces.db"))
	require.Zero(t, w.run("cast-on", "hat", "example:lantern-band@6", "--gauge", "22x26/10cm").code)
	return w
}
