package answer

import (
	"bytes"
	"encoding/json"
	"fmt"
	"html"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	doc "strandwise/cmd/document"
	"strandwise/cmd/knitted"
	"strandwise/cmd/paper"
	"strandwise/session"
)

// laidOut is what testdata/measure.js finds out about a page.
type laidOut struct {
	Dark   bool
	Inner  int
	Widths map[string]struct{ Scroll, Client int }
	Low    []string // texts with too little contrast
	Least  float64
	Texts  int

	Requests, Twice, Headings, Items, Tags []string
	Pictures                               []struct{ Role, Name, About string }
	Boxes, Unlabeled                       int
}

var measurement = regexp.MustCompile(`(?s)<pre>(.*?)</pre>`)

// ownRules is what a page forbids itself, scripts among it.
var ownRules = regexp.MustCompile(`<meta http-equiv="Content-Security-Policy"[^>]*>`)

// inBrowser opens copies of pages in Chromium, each in a frame 360 pixels wide, since a window of
// its own is never that narrow, and measures them.
func inBrowser(t *testing.T, pages map[string][]byte, dark bool) map[string]laidOut {
	t.Helper()
	script, err := os.ReadFile("testdata/measure.js")
	require.NoError(t, err)
	text := "<!DOCTYPE html><body>"
	for name, page := range pages {
		require.True(t, ownRules.Match(page), "the page forbids requests")
		opened := strings.Replace(ownRules.ReplaceAllString(string(page), ""), "</body>", "<script>"+string(script)+"</script></body>", 1)
		text += fmt.Sprintf(`<iframe name="%s" style="width: 360px; height: 800px; border: 0" srcdoc="%s"></iframe>`, name, html.EscapeString(opened))
	}
	found := measurement.FindAllSubmatch(dumped(t, text+"</body>", dark), -1)
	require.Len(t, found, len(pages), "every page was laidOut")
	all := map[string]laidOut{}
	for _, one := range found {
		require.NoError(t, json.Unmarshal([]byte(html.UnescapeString(string(one[1]))), &all))
	}
	return all
}

// dumped is a document as Chromium has it after its scripts.
func dumped(t *testing.T, text string, dark bool) []byte {
	t.Helper()
	lookFor(t, "chromium")
	folder := t.TempDir()
	name := filepath.Join(folder, "page.html")
	require.NoError(t, os.WriteFile(name, []byte(text), 0o600))
	scheme := map[bool]int{true: 0, false: 1}[dark] // as the browser's setting counts them
	command := exec.Command("chromium", "--headless", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--no-first-run",
		"--user-data-dir="+filepath.Join(folder, "profile"), "--virtual-time-budget=20000",
		fmt.Sprintf("--blink-settings=preferredColorScheme=%d", scheme), "--dump-dom", "file://"+name)
	var complaints bytes.Buffer
	command.Stderr = &complaints
	out, err := command.Output()
	require.NoError(t, err, complaints.String())
	return out
}

// pagesToOpen are pages of both kinds.
func pagesToOpen(t *testing.T) map[string][]byte {
	t.Helper()
	k := knitted.Examples(t)["mooring-mitten"] // hands and feet: with cautions
	p := k.Knit(t)
	var review, cards bytes.Buffer
	require.NoError(t, reviewHTML(&review, p))
	k = knitted.Examples(t)["tide-yoke"]
	k.Rows = 3
	p = k.Knit(t)
	require.NoError(t, doc.WriteHTML(&cards, NewCards(p, 4, p.Rows(), "", cardsFor(paper.A4)).Page(), paper.A4))
	return map[string][]byte{"review": review.Bytes(), "cards": cards.Bytes()}
}

func reviewHTML(w io.Writer, p *session.Piece) error {
	r := p.Review(nil)
	page := NewReview(p, r, false).Page()
	return doc.WriteHTML(w, page, paper.A4)
}

func TestPagesInABrowser(t *testing.T) {
	pages := pagesToOpen(t)
	p := knitted.Examples(t)["lantern-band"].Knit(t)
	var hat bytes.Buffer
	require.NoError(t, reviewHTML(&hat, p))
	pages["hat"] = hat.Bytes()
	pages["faulty"] = []byte(faulty)
	for _, dark := range []bool{false, true} {
		for name, m := range inBrowser(t, pages, dark) {
			t.Run(fmt.Sprintf("%s, dark %v", name, dark), func(t *testing.T) {
				require.Equal(t, dark, m.Dark, "the browser was asked for it")
				if name == "faulty" {
					requireFaults(t, m)
					return
				}
				requireReadable(t, m)
				requireFits(t, m)
				requireNamed(t, m)
				if name == "hat" {
					requireAgree(t, p, m)
				}
			})
		}
	}
}

// faulty is a page with every fault that is looked for.
const faulty = `<!DOCTYPE html><html><head><meta http-equiv="Content-Security-Policy" content=""></head><body style="background: #fff">
<p id="a" style="color: #aaa">pale</p><p id="a" style="width: 300px">wide</p><input type="checkbox"><img src="http://127.0.0.1:9/tide.png">
<svg width="90" height="20"><rect width="90" height="20" fill="#222"/><text x="4" y="15" fill="#111">dark</text></svg></body></html>`

// requireFaults holds the measuring itself to a page with faults.
func requireFaults(t *testing.T, m laidOut) {
	t.Helper()
	assert.Len(t, m.Low, 2)
	assert.Equal(t, []string{"a"}, m.Twice)
	assert.Equal(t, 1, m.Unlabeled)
	assert.Greater(t, m.Widths["zoomed"].Scroll, m.Widths["zoomed"].Client)
	assert.LessOrEqual(t, m.Widths["plain"].Scroll, m.Widths["plain"].Client)
	assert.Empty(t, m.Pictures[0].Name)
	assert.NotEmpty(t, m.Requests)
}

// requireReadable wants contrast, no request and labels.
func requireReadable(t *testing.T, m laidOut) {
	t.Helper()
	assert.Empty(t, m.Low)
	assert.GreaterOrEqual(t, m.Least, 4.5)
	assert.Greater(t, m.Texts, 100)
	assert.Empty(t, m.Requests)
	assert.Empty(t, m.Twice, "ids are unique")
	assert.Zero(t, m.Unlabeled)
}

func requireNamed(t *testing.T, m laidOut) {
	t.Helper()
	require.NotEmpty(t, m.Pictures)
	for _, p := range m.Pictures {
		assert.Equal(t, "img", p.Role)
		assert.NotEmpty(t, p.Name)
		assert.NotEmpty(t, p.About, p.Name)
	}
}

// requireFits wants no scrolling sideways: at 360 pixels, with letters of twice the size, and with
// everything twice as large.
func requireFits(t *testing.T, m laidOut) {
	t.Helper()
	require.Equal(t, 360, m.Inner)
	for _, how := range []string{"plain", "letters", "zoomed"} {
		w, there := m.Widths[how]
		require.True(t, there, how)
		assert.LessOrEqual(t, w.Scroll, w.Client, how)
	}
}

// requireAgree wants the three most urgent places to mend to carry 1, 2, 3 in the list and in the
// picture.
func requireAgree(t *testing.T, p *session.Piece, m laidOut) {
	t.Helper()
	mends := p.Review(nil).Mending
	require.GreaterOrEqual(t, len(mends), 3)
	require.Len(t, m.Items, len(mends))
	for i, mend := range mends[:3] {
		assert.Contains(t, m.Items[i], mend.Text)
		for _, repeat := range mend.Repeats {
			assert.Contains(t, m.Tags, fmt.Sprint(i+1, " ", mend.From.Row, " ", repeat, " ", p.PlaceOf(mend.From.Row, mend.From.Stitch).Stitch))
		}
	}
}

var outward = regexp.MustCompile(`(?i)\b(?:src|href|action|data|poster|srcset)\s*=|url\((?:[^#)][^)]*)\)|@import|https?://[^"]*`)

// allowedOutward are names that look like addresses and fetch nothing.
var allowedOutward = []string{"http://www.w3.org/2000/svg"}

// within begins a link to a place of the page itself.
const within = ` href="#`

func TestPagesNameNothingOutside(t *testing.T) {
	for name, page := range pagesToOpen(t) {
		for _, found := range outward.FindAllString(strings.ReplaceAll(string(page), within, ""), -1) {
			assert.Contains(t, allowedOutward, found, name)
		}
		assert.NotContains(t, string(page), "<script", name)
	}
}

func TestPagesAreTheSameEveryTimeAndSmall(t *testing.T) {
	first, again := pagesToOpen(t), pagesToOpen(t)
	for name := range first {
		assert.True(t, bytes.Equal(first[name], again[name]), name)
	}
	p := knitted.Examples(t)["lantern-band"].Knit(t) // a usual hat
	var page bytes.Buffer
	require.NoError(t, reviewHTML(&page, p))
	assert.Less(t, page.Len(), 1_000_000)
}

// What the knitter wrote, names and notes, is text wherever a page has it.
func TestNamesStayTextOnPages(t *testing.T) {
	const wrote, stands = `<b>"z"&'y'`, "&lt;b&gt;&#34;z&#34;&amp;&#39;y&#39;"
	k := knitted.Examples(t)["practice"]
	k.Chart = strings.NewReplacer("oat", "oat"+wrote, "fjord", "fjord"+wrote).Replace(k.Chart)
	k.Setup.Name, k.Notes = wrote, []string{"note" + wrote}
	p := k.Knit(t)
	var review, cards bytes.Buffer
	require.NoError(t, reviewHTML(&review, p))
	require.NoError(t, doc.WriteHTML(&cards, NewCards(p, 1, p.Rows(), "", cardsFor(paper.Letter)).Page(), paper.Letter))
	for _, raw := range []string{"<b>", `"z"`, "&'", "'y'"} {
		assert.NotContains(t, review.String(), raw)
		assert.NotContains(t, cards.String(), raw)
	}
	for _, place := range []string{"<title>%s: review</title>", "<h1>%s: review</h1>", "<li>fjord%s: ", "note on round 1: note%s</li>"} {
		assert.Contains(t, review.String(), fmt.Sprintf(place, stands))
	}
	const fjord = "<span class=\"run\"><span class=\"yarn y2\">9\u00a0fjord"
	for _, place := range []string{
		"<title>%s</title>", "<h1>%s</h1>", fjord + "%s</span> (", "<p><strong>repeat 1:</strong> " + fjord + "%s",
		`<desc id="drawing5-about">2, 3 times: 1 oat%s, `, "weave oat%s, right hand:</p>",
	} {
		assert.Contains(t, cards.String(), fmt.Sprintf(place, stands))
	}
	assert.Contains(t, cards.String(), "@page { size: 215.9mm 279.4mm")
}

// Every event of the log stands on the page once, under its sitting.
func TestLogBySitting(t *testing.T) {
	p := knitted.Examples(t)["night-sea"].Knit(t)
	blocks := NewReview(p, p.Review(nil), false).Page().Blocks
	log := slices.IndexFunc(blocks, func(b doc.Block) bool {
		h, is := b.(doc.Heading)
		return is && h.Text.String() == "Log"
	})
	var titles, lines []string
	for _, b := range blocks[log+1:] {
		switch b := b.(type) {
		case doc.Heading:
			require.True(t, b.Sub)
			titles = append(titles, b.Text.String())
		case doc.Items:
			for _, item := range b.Items {
				lines = append(lines, item.Text.String())
			}
		}
	}
	sittings := p.Review(nil).Time.Sittings
	require.Len(t, titles, len(sittings)+1)
	for i, s := range sittings {
		assert.Contains(t, titles[i+1], doc.DayTime(s.From))
	}
	assert.Len(t, lines, len(p.State.Log))
	assert.Contains(t, lines[0], "03-09 18:00 ")
}
