package follow

import (
	"fmt"
	"time"

	"strandwise/chart"
)

// How knitting is counted for the reminder to pause. Time from key to key is
// knitting, unless it is longer than rested: then it was a pause, and the count
// begins anew. The reminder comes when it is due, in the middle of a row as well,
// and stays until the first forward press after it could be seen for a while. All
// three are our choices.

const (
	rested         = 30 * time.Minute
	longEnoughSeen = time.Minute
)

type clock struct {
	every  time.Duration // 0 is never
	last   time.Time     // when time was counted last
	worked time.Duration // since the last pause
	due    bool
	since  time.Time // when the reminder came
}

func (c clock) heard(now time.Time) clock {
	gap := now.Sub(c.last)
	c.last = now
	if gap > rested && c.every <= rested {
		c.worked, c.due = 0, false
		return c
	}
	c.worked += max(0, gap)
	if c.every > 0 && c.worked >= c.every && !c.due {
		c.due, c.since = true, now
	}
	return c
}

func (c clock) seen(now time.Time) clock {
	if c.due && now.Sub(c.since) >= longEnoughSeen {
		c.due, c.worked = false, 0
	}
	return c
}

func (c clock) words() string {
	n := int(c.every / time.Minute)
	return fmt.Sprintf("%d %s of knitting: time to pause. Put the work down and rest hands and eyes.", n, chart.Plural("minute", n))
}

const painWords = "Pain, tingling or numbness: stop; if it stays, ask a doctor or therapist."

// Wake is when Tick is to be called if no key comes before; false when it need not be.
func (s State) Wake() (time.Time, bool) {
	c := s.clock
	return c.last.Add(c.every - c.worked), c.every > 0 && !c.due
}

// Tick lets the machine know that time has passed.
func (s State) Tick(now time.Time) State {
	s.effects = Effects{}
	if at, wanted := s.Wake(); wanted && !now.Before(at) {
		s.clock = s.clock.heard(now)
		s.effects = Effects{Draw: s.clock.due, Ring: s.clock.due}
	}
	return s
}
