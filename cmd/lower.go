package cmd

import (
	"bufio"
	"context"
	"fmt"
	"strings"

	"strandwise/cmd/frame"
	"strandwise/session"
	"strandwise/session/hold"
)

// Which of two strands comes from below is a fact of the knitter's hands. Where teachers
// differ it is asked for once, when such a hold is chosen at a terminal; a knitter who does
// not know goes on with what is usual, marked as not sure.

// lowerFor is the event that tells it, nil where there is nothing to tell: as the flag says,
// else as she answers.
func lowerFor(a *frame.App, ctx context.Context, given string, hands hold.Hands) (*session.LowerSet, error) {
	word := given
	if word == "" && hands.Asks() && a.Env.InTTY && a.Env.ErrTTY && !a.Flags.JSON && !a.Flags.Yes {
		answer, err := askLower(a, ctx, hands)
		if err != nil {
			return nil, err
		}
		word = answer
	}
	if word == "" {
		return nil, nil
	}
	if hands.Carry == hold.Rotating {
		return nil, frame.Usage("--lower tells which strand stays below, and in a rotating carry none does").Hint("leave --lower out")
	}
	place, err := hands.ParsePlace(word)
	if err != nil {
		return nil, err
	}
	return &session.LowerSet{Place: place.String()}, nil
}

// askLower asks; an empty answer is the usual place.
func askLower(a *frame.App, ctx context.Context, hands hold.Hands) (string, error) {
	places := hands.Places()
	fmt.Fprintf(a.Err, "Which strand comes from below: 1 %s, or 2 %s?\nIf you are not sure, look at the wrong side below the needle: the floats of that yarn lie lower.\n1 or 2, or enter for %[1]s, not sure: ",
		places[0], places[1])
	answer, err := bufio.NewReader(a.Env.In).ReadString('\n')
	if ctx.Err() != nil {
		return "", ctx.Err()
	}
	if err != nil {
		return "", nil // the end of the input is no answer
	}
	switch answer = strings.TrimSpace(answer); answer {
	case "1":
		return places[0].String(), nil
	case "2":
		return places[1].String(), nil
	}
	return answer, nil
}
