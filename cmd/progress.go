package cmd

import (
	"fmt"
	"time"
)

// Progress is shown from patience on, at most once every pace.
const (
	patience      = time.Second
	pace          = 200 * time.Millisecond
	paceOffScreen = 10 * time.Second
)

// progress shows n of m on stderr while long work goes on: on a terminal one line
// that is drawn again, elsewhere a line now and then.
type progress struct {
	a     *app
	what  string
	next  time.Time
	drawn bool
}

// startProgress begins to count; what says what is counted: "rows planned".
func (a *app) startProgress(what string) *progress {
	return &progress{a: a, what: what, next: a.env.Now().Add(patience)}
}

// step tells that n of m are done.
func (p *progress) step(n, m int) {
	now := p.a.env.Now()
	if now.Before(p.next) || p.a.display.quiet {
		return
	}
	if p.redraws() {
		p.a.err.draw(fmt.Sprintf("\r%d of %d %s", n, m, p.what))
		p.drawn, p.next = true, now.Add(pace)
		return
	}
	fmt.Fprintf(p.a.err, "%d of %d %s\n", n, m, p.what)
	p.next = now.Add(paceOffScreen)
}

// end clears the line.
func (p *progress) end() {
	if p.drawn {
		p.a.err.draw("\r\x1b[K")
	}
}

func (p *progress) redraws() bool { return p.a.env.ErrTTY && !p.a.display.plain }
