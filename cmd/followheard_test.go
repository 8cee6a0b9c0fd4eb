package cmd

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/accessibility"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// heard is what a screen reader comes to, in its order: all words, and the names of what can be operated (the browser's
// accessibility tree, by the rules of Accessible Name and Description Computation 1.2).
func heard(t *testing.T, ctx context.Context) (words string, controls []string) {
	t.Helper()
	tree, err := chromedp.Call(ctx, accessibility.GetFullAXTree, accessibility.GetFullAXTreeParams{})
	require.NoError(t, err)
	nodes := map[accessibility.NodeID]*accessibility.Node{}
	for _, n := range tree.Nodes {
		nodes[n.NodeID] = n
	}
	told := func(v *accessibility.Value) (text string) {
		if v != nil {
			require.NoError(t, json.Unmarshal(v.Value, &text))
		}
		return text
	}
	var walk func(accessibility.NodeID)
	walk = func(id accessibility.NodeID) {
		n := nodes[id]
		if n == nil {
			return
		}
		role := told(n.Role)
		operated := slices.ContainsFunc(n.Properties, func(p *accessibility.Property) bool {
			return p.Name == accessibility.PropertyNameFocusable && string(p.Value.Value) == "true"
		})
		switch {
		case n.Ignored, role == "option": // of a list that is not open
		case role == "StaticText":
			words += told(n.Name) + " "
		case operated && role != "RootWebArea":
			controls = append(controls, told(n.Name))
		}
		for _, child := range n.ChildIDs {
			walk(child)
		}
	}
	walk(tree.Nodes[0].NodeID)
	return strings.Join(strings.Fields(words), " "), controls
}

// tabbed is what the tab key comes to, by the words on it or beside it, until it leaves the page.
func tabbed(t *testing.T, ctx context.Context) []string {
	t.Helper()
	const at = `(() => {
		const e = document.activeElement;
		if (e === document.body) return '';
		if (!e.matches(':focus-visible') || getComputedStyle(e).outlineStyle === 'none') return 'not seen: ' + e.outerHTML;
		return e.labels?.length ? e.labels[0].firstChild.data?.trim() || e.labels[0].innerText.trim() : e.innerText.trim();
	})()`
	require.NoError(t, chromedp.Do(ctx, chromedp.Evaluate[chromedp.Void](`document.activeElement.blur()`)))
	var names []string
	for range 60 {
		key(t, ctx, kb.Tab)
		name, err := chromedp.Run(ctx, chromedp.Evaluate[string](at))
		require.NoError(t, err)
		if name == "" {
			return names
		}
		names = append(names, name)
	}
	require.Fail(t, "the tab key does not leave the page", "%q", names)
	return nil
}

// The page is heard as it is seen (WCAG 2.2, 1.3.2): what was done, then the row, then how its catches are made, then the
// keys, in the order in which the tab key comes to them (2.4.3), each with its name (4.1.2) and seen when it is come to (2.4.7).
func TestThePageIsHeardInItsOrder(t *testing.T) {
	w := hatOn(t)
	require.Zero(t, w.run("knit", "--to", "9").code)
	s := servedOn(t, w, "--by", "repeat")
	ctx := driven(t, s, 360, 640)
	footer := []string{"read aloud", "sounds", "review and mending list", "note", "a note on this round", "keep it"}
	inOrder := func(parts ...string) {
		t.Helper()
		words, _ := heard(t, ctx)
		for _, part := range parts {
			_, rest, is := strings.Cut(words, part)
			require.True(t, is, "%q is not next in %q", part, words)
			words = rest
		}
	}
	operated := func(want ...string) {
		t.Helper()
		want = append(want, footer...)
		_, controls := heard(t, ctx)
		assert.Equal(t, want, controls)
		assert.Equal(t, want, tabbed(t, ctx))
	}
	inOrder("hat", "round 10 of 22, repeat 1 of 6", "10, repeat 1: 1 oat , 6 fjord (2, catch a , 3) , 1 oat", "then repeat 2",
		"how the catches are made", "weave oat, left hand", "repeat done", "a note on this round")
	operated("how the catches are made", "repeat done", "round done", "look back", "catch", "undo", "note")

	tap(t, ctx, `button[value="c"]`)
	says(t, ctx, "which catch was made otherwise?")
	inOrder("hat", "10, 6 times: 1 oat", "which catch was made otherwise?", "catch a (oat, stitch 4), as planned", "change it in repeat 1 only", "missed", "done")
	operated("catch a (oat, stitch 4), as planned", "catch b (oat, stitch 20), as planned", "in repeat", "take it", "later", "earlier", "missed", "extra", "take back", "done")
	tap(t, ctx, `button[value="m"]`)
	says(t, ctx, "catch a (oat, stitch 4): missed in repeat 1")
	tap(t, ctx, ".buttons .main")
	says(t, ctx, "will be logged")
	inOrder("hat", "will be logged: catch a missed in repeat 1", "round 10 of 22")
}

// With colors of the reader's own (CSS Color Adjustment 1, forced colors) the page takes them, but for the yarns, whose
// colors are what is told.
func TestThePageTakesTheReadersColors(t *testing.T) {
	w := hatOn(t)
	require.Zero(t, w.run("knit", "--to", "9").code)
	s := servedOn(t, w, "--by", "repeat")
	ctx := driven(t, s, 360, 640)
	for scheme, want := range map[string]string{"light": "rgb(255, 255, 255) rgb(0, 0, 0)", "dark": "rgb(0, 0, 0) rgb(255, 255, 255)"} {
		require.NoError(t, chromedp.Do(ctx, emulated(scheme, "forced-colors", "active")))
		for _, of := range []string{"body", ".buttons .main"} {
			got, err := chromedp.Run(ctx, chromedp.Evaluate[string](fmt.Sprintf(`(c => c.backgroundColor + ' ' + c.color)(getComputedStyle(document.querySelector(%q)))`, of)))
			require.NoError(t, err)
			assert.Equal(t, want, got, "%s, %s", scheme, of)
		}
		faults, err := chromedp.Run(ctx, chromedp.Evaluate[string](faultsOfThePage))
		require.NoError(t, err)
		assert.Empty(t, faults, scheme)
		yarn, err := chromedp.Run(ctx, chromedp.Evaluate[string](`getComputedStyle(document.querySelector('.run .yarn')).backgroundColor`))
		require.NoError(t, err)
		assert.Equal(t, "rgb(239, 230, 210)", yarn, "oat")
	}
}
