package cmd

import (
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/url"
	"os"
	"os/exec"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// rowsOf is how many rows the log of the piece has.
func rowsOf(t testing.TB, w *terminal) string {
	ran := w.run("show", "--json")
	require.Zero(t, ran.code)
	return between(ran.out, `"row":`, ",")
}

func between(text, from, to string) string {
	_, text, _ = strings.Cut(text, from)
	text, _, _ = strings.Cut(text, to)
	return strings.TrimSpace(text)
}

// The attacks on the page: each is refused, and the page goes on. The refusals are those of HTTP (RFC 9110).
func TestWhoMayNotComeIn(t *testing.T) {
	w := hatOn(t)
	s := servedOn(t, w)
	stranger := *s
	stranger.client = newBrowser(t)
	foreign := func(name, value string) func(*http.Request) {
		return func(r *http.Request) { r.Header.Set(name, value) }
	}
	for _, path := range []string{"/live", "/review"} {
		code, _ := stranger.do("GET", path, nil, nil)
		assert.Equal(t, 403, code, "no key: %s", path)
	}
	code, _ := stranger.do("POST", "/press", url.Values{"press": {"0123456789abcdef"}, "key": {"Enter"}}, nil)
	assert.Equal(t, 403, code, "no key")
	code, page := stranger.do("GET", "/?key="+s.key, nil, nil)
	assert.Equal(t, 200, code)
	assert.NotContains(t, page, "oat", "a preview of the link sees nothing, and spends nothing")

	page = s.enter()
	code, _ = stranger.do("POST", "/enter", url.Values{"key": {s.key}}, nil)
	assert.Equal(t, 403, code, "a key twice")
	code, _ = stranger.do("POST", "/enter", url.Values{"key": {"00000000000000000000000000000000"}}, nil)
	assert.Equal(t, 429, code, "a wrong key right after: the address waits")
	code, _ = s.do("GET", "/", nil, nil)
	assert.Equal(t, 200, code, "not who has a cookie")

	done := url.Values{"press": {hidden(t, page, "press")}, "seen": {hidden(t, page, "seen")}, "key": {"Enter"}}
	for what, change := range map[string]func(*http.Request){
		"foreign origin":   foreign("Origin", "http://tide.example"),
		"no origin":        func(r *http.Request) { r.Header.Del("Origin") },
		"null origin":      foreign("Origin", "null"),
		"foreign site":     foreign("Sec-Fetch-Site", "cross-site"),
		"foreign name":     func(r *http.Request) { r.Host = "tide.example" },
		"name of the port": func(r *http.Request) { r.Host = "127.0.0.1" },
		"another port":     func(r *http.Request) { r.Host = "127.0.0.1:1" },
	} {
		code, _ := s.do("POST", "/press", done, change)
		assert.Contains(t, []int{403, 421}, code, what)
	}
	for _, method := range []string{"PUT", "DELETE", "PATCH", "OPTIONS", "TRACE", "HEAD", "FETCH"} {
		code, _ := s.do(method, "/press", done, foreign("Origin", s.host))
		assert.Equal(t, 405, code, method)
	}
	for _, path := range []string{"/../etc/passwd", "/review/../press", "//press", "/%2e%2e/press", "/press%00", "/pieces.db", "/review/x", "/.page"} {
		code, _ := s.do("GET", path, nil, nil)
		assert.Contains(t, []int{400, 404, 405}, code, path)
	}
	for _, bad := range []url.Values{{}, {"press": {"short"}, "key": {"Enter"}}, {"press": {"0123456789abcdef"}}, {"press": {strings.Repeat("a", 99)}, "key": {"Enter"}}} {
		code, _ := s.do("POST", "/press", bad, nil)
		assert.Equal(t, 400, code, "%v", bad)
	}
	assert.Equal(t, "1", rowsOf(t, w), "nothing was logged")
	w.wait()
	code, page = s.press(page, "key", "Enter")
	assert.Equal(t, 200, code)
	assert.Contains(t, page, "round 1 logged as planned")
	assert.Equal(t, "2", rowsOf(t, w), "the page goes on")
}

func TestLargeAndSlowRequestsAreCutOff(t *testing.T) {
	t.Parallel()
	w := hatOn(t)
	s := servedOn(t, w)
	page := s.enter()
	code, _ := s.do("POST", "/press", url.Values{"press": {hidden(t, page, "press")}, "note": {strings.Repeat("slack ", 10<<20/6)}}, nil)
	assert.Equal(t, 400, code, "10 MB")
	address := strings.TrimPrefix(s.host, "http://")
	slow := make([]net.Conn, 3)
	begins := []string{"GET / HT", "POST /press HTTP/1.1\r\nHost: " + address + "\r\nOrigin: " + s.host + "\r\nContent-Length: 100\r\n\r\npress=", ""}
	began := time.Now()
	for i := range slow {
		c, err := net.Dial("tcp", address)
		require.NoError(t, err)
		defer c.Close()
		_, err = io.WriteString(c, begins[i])
		require.NoError(t, err)
		slow[i] = c
	}
	code, _ = s.do("GET", "/", nil, nil)
	assert.Equal(t, 200, code, "others are served meanwhile")
	for _, c := range slow {
		require.NoError(t, c.SetReadDeadline(began.Add(20*time.Second)))
		_, err := io.Copy(io.Discard, c)
		assert.NoError(t, err, "it was closed from the other side")
	}
	assert.Less(t, time.Since(began), 15*time.Second)
}

// More connections than there is room for are closed at once; a page that is open is answered meanwhile.
func TestAThousandConnectionsLeaveThePageAsItIs(t *testing.T) {
	s := servedOn(t, hatOn(t))
	s.enter()
	s.do("GET", "/", nil, nil) // its connection is kept
	address := strings.TrimPrefix(s.host, "http://")
	var held []net.Conn
	for range 1000 {
		c, err := net.DialTimeout("tcp", address, time.Second)
		if err != nil {
			continue
		}
		held = append(held, c)
	}
	closed := 0
	for _, c := range held {
		require.NoError(t, c.SetReadDeadline(time.Now().Add(20*time.Millisecond)))
		if _, err := c.Read(make([]byte, 1)); errors.Is(err, io.EOF) || errors.Is(err, syscall.ECONNRESET) {
			closed++
		}
	}
	assert.GreaterOrEqual(t, closed, len(held)-128)
	code, page := s.do("GET", "/", nil, nil)
	assert.Equal(t, 200, code)
	assert.Contains(t, page, "round 1 of 22")
	for _, c := range held {
		_ = c.Close()
	}
}

// Names and notes are text, never markup, and the policy would let nothing of them run.
func TestNamesAreNoMarkup(t *testing.T) {
	const name = `<img src=x onerror=alert(1)>&"'`
	w := terminalOn(t, t.TempDir()+"/pieces.db")
	chart := t.TempDir() + "/knots.chart"
	require.NoError(t, os.WriteFile(chart, []byte("title: <b>knots</b>\nyarn: . <i>oat #EFE6D2\nyarn: x \"fjord' #1F4E79\nrows:\n.x.x.xxxxxxx\n"), 0o600))
	ran := w.run("cast-on", name, chart+"@3x4", "--limit", "3")
	require.Zero(t, ran.code, ran.err)
	s := servedOn(t, w)
	page := s.enter()
	_, page = s.do("POST", "/press", url.Values{"press": {hidden(t, page, "press")}, "note": {"<script>alert(2)</script>"}}, nil)
	_, review := s.do("GET", "/review", nil, nil)
	for _, text := range []string{page, review} {
		for _, markup := range []string{"<img", "<i>oat", "<b>knots", "<script>alert"} {
			assert.NotContains(t, text, markup)
		}
	}
	assert.Contains(t, page, "&lt;img src=x onerror=alert(1)&gt;")
}

// Every answer forbids whatever it does not need (Content Security Policy Level 3), and is not kept.
func TestHeadersOfEveryAnswer(t *testing.T) {
	s := servedOn(t, hatOn(t))
	s.enter()
	for _, path := range []string{"/", "/review", "/nothing"} {
		answer, err := s.client.Get(s.host + path)
		require.NoError(t, err)
		body, err := io.ReadAll(answer.Body)
		require.NoError(t, err)
		policy := answer.Header.Get("Content-Security-Policy")
		for _, part := range []string{"default-src 'none'", "base-uri 'none'", "frame-ancestors 'none'"} {
			assert.Contains(t, policy, part, path)
		}
		assert.Equal(t, "no-store", answer.Header.Get("Cache-Control"))
		assert.Equal(t, "same-origin", answer.Header.Get("Referrer-Policy"))
		assert.NotContains(t, policy, "unsafe", path)
		assert.NotRegexp(t, `<[^>]* style=`, string(body), path)
		if path == "/" {
			assert.NotRegexp(t, ` style=| on[a-z]+=`, string(body))
			assert.Less(t, len(body), 150_000)
			assert.NotRegexp(t, `(?:src|href)="(?:http|//)`, string(body), "nothing is loaded from elsewhere")
		}
	}
	cookie := s.client.Jar.Cookies(mustURL(s.host))
	require.Len(t, cookie, 1)
	assert.Len(t, cookie[0].Value, 32, "128 bits")
}

func mustURL(text string) *url.URL {
	u, err := url.Parse(text)
	if err != nil {
		panic(err)
	}
	return u
}

// A planned end refuses the cookies; a crash lets the pages go on, on the same port.
func TestPagesGoOnAfterACrashOnly(t *testing.T) {
	w := hatOn(t)
	s := servedOn(t, w)
	page := s.enter()
	client, host := s.client, s.host
	w.wait()
	press := url.Values{"press": {hidden(t, page, "press")}, "seen": {hidden(t, page, "seen")}, "key": {"Enter"}}
	_, page = s.do("POST", "/press", press, nil)
	require.Contains(t, page, "round 1 logged")
	for _, key := range []string{"Enter", "Enter", "Enter", "c", "m", "Enter"} { // a catch that is told, and not logged yet
		w.wait()
		_, page = s.press(page, "key", key)
	}
	require.Contains(t, page, "will be logged: catch a missed")
	kept := w.store + ".page"
	info, err := os.Stat(kept)
	require.NoError(t, err)
	assert.Equal(t, os.FileMode(0o600), info.Mode().Perm())
	s.kill()

	s = servedOn(t, w)
	require.Equal(t, host, s.host, "the same port")
	s.client = client
	code, page := s.do("GET", "/", nil, nil)
	require.Equal(t, 200, code)
	assert.Contains(t, page, "round 5 of 22")
	assert.Contains(t, page, "will be logged: catch a missed")
	code, _ = s.do("POST", "/press", press, nil)
	assert.Equal(t, 200, code, "the press is sent again after the crash")
	assert.Equal(t, "5", rowsOf(t, w), "it counted once")
	_, page = s.press(page, "key", "Enter")
	assert.Contains(t, page, "round 5 logged: catch a missed", "the row was on the page before the crash, so it is not too early")
	undo := url.Values{"press": {"fedcba9876543210"}, "seen": {hidden(t, page, "seen")}, "key": {"u"}}
	for range 3 {
		code, _ = s.do("POST", "/press", undo, nil)
		assert.Equal(t, 200, code)
	}
	assert.Equal(t, "5", rowsOf(t, w), "an undo counts once")
	s.end()
	assert.NoFileExists(t, kept)

	s = servedOn(t, w, "--port", strings.Split(host, ":")[2])
	s.client = client
	code, page = s.do("GET", "/", nil, nil)
	assert.Equal(t, 200, code)
	assert.NotContains(t, page, "oat", "the old cookie opens nothing after a planned end")
	old := time.Now().Add(-9 * time.Hour)
	s.client = newBrowser(t)
	s.enter()
	s.kill()
	require.NoError(t, os.Chtimes(kept, old, old))
	client = s.client
	s = servedOn(t, w, "--port", strings.Split(host, ":")[2])
	s.client = client
	_, page = s.do("GET", "/", nil, nil)
	assert.NotContains(t, page, "oat", "nor after eight hours")
}

// What is pressed on a page that does not show the log as it is, is meant for another row.
func TestAPressOnAPageOfYesterdayLogsNothing(t *testing.T) {
	w := hatOn(t)
	s := servedOn(t, w)
	page := s.enter()
	require.Zero(t, w.run("knit").code)
	w.wait()
	time.Sleep(time.Second)
	_, page = s.press(page, "key", "Enter")
	assert.Contains(t, page, "another terminal has logged")
	assert.Equal(t, "2", rowsOf(t, w))
	w.wait()
	_, page = s.press(page, "key", "Enter")
	assert.Contains(t, page, "round 2 logged")
	_, page = s.press(page, "key", "Enter")
	assert.Contains(t, page, "came up just now")
	assert.Equal(t, "3", rowsOf(t, w))
}

func TestPortsAndFlagsOfThePage(t *testing.T) {
	w := hatOn(t)
	w.wants(2, "--home and --port go with --page", "follow", "--home")
	w.wants(2, "--port 70000", "follow", "--page", "--port", "70000")
	taken, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	defer taken.Close()
	port := fmt.Sprint(taken.Addr().(*net.TCPAddr).Port)
	w.wants(5, "no page can be served at port "+port, "follow", "--page", "--port", port)
}

// On the home network, here one of its own without a way out: private addresses, and what it does not protect.
func TestAtHome(t *testing.T) {
	w := hatOn(t)
	own := exec.Command("unshare", "-n", "sh", "-c",
		"ip link set lo up && ip addr add 10.7.7.7/32 dev lo && ip addr add 203.0.113.7/32 dev lo && exec timeout -s INT 1 strandwise follow --page --home")
	own.Env = append(os.Environ(), "STRANDWISE_STORE="+w.store, "HOME="+t.TempDir(), "NO_COLOR=1")
	out, err := own.Output()
	if !strings.Contains(string(out), "/?key=") {
		t.Skipf("no network of its own can be made here: %v", err)
	}
	assert.Regexp(t, `^the page for one device: http://10\.7\.7\.7:\d+/\?key=[0-9a-f]{32}\n`, string(out))
	assert.NotContains(t, string(out), "203.0.113.7")
	assert.Contains(t, string(out), "travels unencrypted")
	assert.Contains(t, string(out), "\n████ ▄▄▄▄▄ █", "a corner of the square")
}

// What is pressed where something else was asked before a crash, logs nothing: here the chooser was open.
func TestAPressOfAnOpenChooserLogsNothingAfterACrash(t *testing.T) {
	w := hatOn(t)
	s := servedOn(t, w)
	page := s.enter()
	for range 4 {
		w.wait()
		_, page = s.press(page, "key", "Enter")
	}
	w.wait()
	_, page = s.press(page, "key", "c")
	require.Contains(t, page, "which catch was made otherwise?")
	client := s.client
	s.kill()

	s = servedOn(t, w)
	s.client = client
	s.do("GET", "/", nil, nil)
	w.wait()
	_, page = s.press(page, "key", "Enter")
	assert.Contains(t, page, "round 5 of 22")
	assert.Equal(t, "5", rowsOf(t, w))
}

// The pages of one piece do not go on with another.
func TestPagesGoOnWithTheirOwnPieceOnly(t *testing.T) {
	w := hatOn(t)
	s := servedOn(t, w)
	s.enter()
	client := s.client
	s.kill()
	require.Zero(t, w.run("cast-on", "sock", "example:practice", "--limit", "5").code)
	s = servedOn(t, w, "--piece", "sock")
	s.client = client
	_, page := s.do("GET", "/", nil, nil)
	assert.NotContains(t, page, "sock")
}

// Looking back before the end leaves the place in the row as it is.
func TestLookingBackKeepsThePlaceOnAPage(t *testing.T) {
	w := hatOn(t)
	s := servedOn(t, w, "--by", "run")
	page := s.enter()
	for range 3 {
		w.wait()
		_, page = s.press(page, "key", "Enter")
	}
	for range 3 {
		_, page = s.press(page, "key", "ArrowLeft")
	}
	s.end()
	assert.Contains(t, w.run("history").out, "paused after stitch 4")
	assert.NotContains(t, w.run("history").out, "cleared")
}

// A page goes on with its piece whatever another terminal calls it, or which it is about.
func TestThePageGoesOnWithAPieceThatIsRenamed(t *testing.T) {
	w := hatOn(t)
	s := servedOn(t, w)
	page := s.enter()
	w.wait()
	_, page = s.press(page, "key", "Enter")
	require.Contains(t, page, "round 1 logged")
	require.Zero(t, w.run("pieces", "rename", "harbor hat").code)
	require.Zero(t, w.run("cast-on", "sock", "example:practice", "--limit", "5").code)
	for _, says := range []string{"another terminal has logged", "round 2 logged", "round 3 logged"} {
		w.wait()
		_, page = s.press(page, "key", "Enter")
		assert.Contains(t, page, says)
	}
	assert.Contains(t, page, "<h1>harbor hat</h1>")
	_, review := s.do("GET", "/review", nil, nil)
	assert.Contains(t, review, "harbor hat")
	assert.Equal(t, 3, stateIn(t, w.store, 1).Row)
	require.Zero(t, w.run("pieces", "remove", "harbor hat", "--yes").code)
	w.wait()
	_, page = s.press(page, "key", "Enter")
	assert.Contains(t, page, "the piece of this sitting was removed")
}
