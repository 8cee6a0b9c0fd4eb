package cmd

import (
	"bytes"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"strandwise/cmd/document"
	"strandwise/cmd/frame"
)

const tourChart = "example:lantern-band"

type tourStep struct {
	says string        // what it is about
	line string        // the command line without the program
	wait time.Duration // what the tour's clock is put forward before it
}

const aRound = 4 * time.Minute

// tourSteps moves, in one round, a catch into the column of one of the next round.
var tourSteps = []tourStep{
	{"A hat band from a chart of the program, two repeats round.", "cast-on tour-hat " + tourChart + "@2 --gauge 20x22/4in", 0},
	{"The first four rounds have short floats only. They were knitted without the program: log them at once. Round 5 comes with its catches and the motion.", "knit --to 4", aRound},
	{"Round 5 went as planned.", "knit", aRound},
	{"Round 6 too.", "knit", aRound},
	{"In round 7 the first catch was made two stitches early. Round 8 would have one right above it, so its catches are chosen anew; a star marks what moved.", "knit --moved a-2", aRound},
	{"Round 7 looked uneven: out with it. What was ripped stays in the history.", "rip 1 --yes", aRound},
	{"Three days later: where was I?", "resume", 72 * time.Hour},
	{"Looking back on the piece so far.", "review", 0},
}

func newTour(a *frame.App) *cobra.Command {
	return a.Leaf(frame.Spec{Use: "tour"}, runTour)
}

func runTour(a *frame.App, _ []string) error {
	folder, remove, err := a.TempFolder("tour")
	if err != nil {
		return err
	}
	defer remove()
	t := &tour{app: a, folder: folder}
	for i, step := range tourSteps {
		if err := a.Context().Err(); err != nil {
			return err
		}
		if i > 0 {
			fmt.Fprintln(a.Out)
		}
		if err := t.take(step); err != nil {
			return err
		}
	}
	fmt.Fprintln(a.Out)
	a.Say("", "next: strandwise cast-on NAME PART..., with a chart of your own")
	return nil
}

type tour struct {
	app    *frame.App
	folder string
	ahead  time.Duration // of its clock
}

func (t *tour) take(step tourStep) error {
	a := t.app
	t.ahead += step.wait
	command := document.Verbatim("$ strandwise " + step.line)
	_ = a.Show(document.Document{Blocks: []document.Block{document.Line{Text: document.Words(step.says)}, document.Line{Text: command, Tone: document.Strong}}})
	var out, errs bytes.Buffer
	if code := a.Again(t.env(strings.Fields(step.line), &out, &errs)); code != int(frame.ExitDone) {
		return frame.NewFault(frame.Exit(code), "the tour stopped at strandwise %s: %s", step.line, strings.TrimSpace(errs.String()))
	}
	_, err := out.WriteTo(a.Out)
	if err == nil {
		_, err = errs.WriteTo(a.Err)
	}
	return err
}

// env has the tour's store, piece and clock, and nobody to answer questions.
func (t *tour) env(args []string, out, errs *bytes.Buffer) frame.Env {
	env := t.app.Env
	env.In, env.InTTY, env.Raw, env.Interrupt = strings.NewReader(""), false, nil, nil
	env.Out, env.Err = out, errs
	env.Args = nil
	t.app.Flags.Set.VisitAll(func(f *pflag.Flag) { // how answers look, as it was given to the tour
		if f.Changed && slices.Contains([]string{"color", "plain", "width", "ascii"}, f.Name) {
			env.Args = append(env.Args, fmt.Sprintf("--%s=%s", f.Name, f.Value))
		}
	})
	env.Args = append(env.Args, args...)
	env.Now = func() time.Time { return t.app.Env.Now().Add(t.ahead) }
	env.Getenv = func(name string) string {
		switch name {
		case "STRANDWISE_STORE":
			return filepath.Join(t.folder, "tour.store")
		case "STRANDWISE_PIECE", "STRANDWISE_HOLD", "STRANDWISE_CARRY", "STRANDWISE_METHOD", "STRANDWISE_MIRROR":
			return ""
		}
		return t.app.Env.Getenv(name)
	}
	return env
}
