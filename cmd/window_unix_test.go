//go:build unix

package cmd

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/creack/pty"
	"github.com/stretchr/testify/require"
	"golang.org/x/term"
)

// window is a terminal window with a program in it.
type window struct {
	t           *testing.T
	home        string
	master, tty *os.File
	before      *term.State
	c           *exec.Cmd
	ahead       int

	mu   sync.Mutex
	out  bytes.Buffer
	seen int // of out, by await
}

// openWindow opens a window of 80 columns and 24 lines; home holds the store and the
// clock.
func openWindow(t *testing.T, home string) *window {
	t.Helper()
	w := &window{t: t, home: home}
	master, tty, err := pty.Open()
	require.NoError(t, err)
	w.master, w.tty = closable(t, master), tty
	t.Cleanup(func() { _ = w.master.Close(); _ = w.tty.Close() })
	w.resize(80, 24)
	w.before, err = term.GetState(int(w.tty.Fd()))
	require.NoError(t, err)
	go w.read()
	return w
}

// closable makes a file that closes at once, though it is being read: only a file
// the runtime waits for by itself does.
func closable(t *testing.T, f *os.File) *os.File {
	t.Helper()
	syscall.ForkLock.RLock()
	fd, err := syscall.Dup(int(f.Fd()))
	syscall.CloseOnExec(fd)
	syscall.ForkLock.RUnlock()
	require.NoError(t, err)
	require.NoError(t, f.Close())
	require.NoError(t, syscall.SetNonblock(fd, true))
	return os.NewFile(uintptr(fd), "window")
}

// run starts a program in the window.
func (w *window) run(name string, args ...string) {
	w.t.Helper()
	w.c = exec.Command(name, args...)
	w.c.Stdin, w.c.Stdout, w.c.Stderr = w.tty, w.tty, w.tty
	w.c.Env = append(seatedEnv(w.home), "TERM=xterm-256color", "LANG=C.UTF-8")
	w.c.SysProcAttr = &syscall.SysProcAttr{Setsid: true, Setctty: true}
	// A child does not ignore what its parent handles, even when these tests were started by
	// what ignores hang-ups.
	signal.Notify(make(chan os.Signal, 1), syscall.SIGHUP)
	require.NoError(w.t, w.c.Start())
}

func seatedEnv(home string) []string {
	return []string{
		"HOME=" + home, "PATH=" + os.Getenv("PATH"), "GORACE=atexit_sleep_ms=0",
		clockVariable + "=" + filepath.Join(home, "clock"),
	}
}

func (w *window) read() {
	b := make([]byte, 4096)
	for {
		n, err := w.master.Read(b)
		w.mu.Lock()
		w.out.Write(b[:n])
		w.mu.Unlock()
		if err != nil {
			return
		}
	}
}

func (w *window) resize(columns, lines int) {
	require.NoError(w.t, pty.Setsize(w.tty, &pty.Winsize{Rows: uint16(lines), Cols: uint16(columns)}))
}

// await waits until a text has come since the one awaited before.
func (w *window) await(text string) {
	w.t.Helper()
	w.awaitOne(text)
}

// awaitOne waits until one of some texts has come, and tells which.
func (w *window) awaitOne(texts ...string) int {
	w.t.Helper()
	for end := time.Now().Add(10 * time.Second); time.Now().Before(end); time.Sleep(time.Millisecond) {
		for i, text := range texts {
			if w.came(text) {
				return i
			}
		}
	}
	require.FailNow(w.t, "never shown: "+strings.Join(texts, ", "), "%q", w.shownSoFar()[w.seen:])
	return -1
}

// came reports whether a text has come since the one awaited before.
func (w *window) came(text string) bool {
	w.mu.Lock()
	defer w.mu.Unlock()
	at := strings.Index(w.out.String()[w.seen:], text)
	if at >= 0 {
		w.seen += at + len(text)
	}
	return at >= 0
}

// press sends keys, a while after those before.
func (w *window) press(keys string) {
	w.t.Helper()
	w.ahead += int((3 * time.Second).Milliseconds())
	require.NoError(w.t, os.WriteFile(filepath.Join(w.home, "clock"), []byte(strconv.Itoa(w.ahead)), 0o600))
	w.pressAgain(keys)
}

// pressAgain sends keys at once.
func (w *window) pressAgain(keys string) {
	w.t.Helper()
	_, err := w.master.WriteString(keys)
	require.NoError(w.t, err)
}

// ends waits for the program and wants its exit status and the terminal as it was.
func (w *window) ends(code int) {
	w.t.Helper()
	w.stops(code)
	after, err := term.GetState(int(w.tty.Fd()))
	require.NoError(w.t, err)
	require.Equal(w.t, w.before, after, "the terminal is as it was found")
	if !bytes.Contains(w.shownSoFar(), []byte(secondScreen)) {
		return
	}
	require.Eventually(w.t, func() bool {
		out := w.shownSoFar()
		return bytes.Count(out, []byte(secondScreen)) == bytes.Count(out, []byte(firstScreen))
	}, 5*time.Second, time.Millisecond, "the first screen is back")
}

func (w *window) shownSoFar() []byte {
	w.mu.Lock()
	defer w.mu.Unlock()
	return bytes.Clone(w.out.Bytes())
}

func (w *window) stops(code int) {
	w.t.Helper()
	done := make(chan struct{})
	go func() { _ = w.c.Wait(); close(done) }()
	select {
	case <-done:
		require.Equal(w.t, code, w.c.ProcessState.ExitCode())
	case <-time.After(10 * time.Second):
		_ = w.c.Process.Kill()
		require.FailNow(w.t, "the program does not end")
	}
}

// outside runs a command on the same store, without a window.
func (w *window) outside(args ...string) string {
	w.t.Helper()
	c := exec.Command("seated", args...)
	c.Env = seatedEnv(w.home)
	out, err := c.CombinedOutput()
	require.NoError(w.t, err, "%s", out)
	return string(out)
}

// logged waits until the screen says that a row was logged.
func (w *window) logged(row int, how string) {
	w.t.Helper()
	w.await(fmt.Sprintf("round %d logged", row))
	w.await(how)
}
