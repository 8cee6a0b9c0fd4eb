package frame

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

// Progress shows n of m on stderr while long work goes on: on a terminal one line
// that is drawn again, elsewhere a line now and then.
type Progress struct {
	a     *App
	what  string
	next  time.Time
	drawn bool
}

// StartProgress begins to count; what says what is counted: "rows planned".
func (a *App) StartProgress(what string) *Progress {
	return &Progress{a: a, what: what, next: a.Env.Now().Add(patience)}
}

// Step tells that n of m are done.
func (p *Progress) Step(n, m int) {
	now := p.a.Env.Now()
	if now.Before(p.next) || p.a.Display().Quiet {
		return
	}
	if p.redraws() {
		p.a.Err.draw(fmt.Sprintf("\r%d of %d %s", n, m, p.what))
		p.drawn, p.next = true, now.Add(pace)
		return
	}
	fmt.Fprintf(p.a.Err, "%d of %d %s\n", n, m, p.what)
	p.next = now.Add(paceOffScreen)
}

// End clears the line.
func (p *Progress) End() {
	if p.drawn {
		p.a.Err.draw("\r\x1b[K")
	}
}

func (p *Progress) redraws() bool { return p.a.Env.ErrTTY && !p.a.Display().Plain }
