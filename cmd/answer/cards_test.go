package answer

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"

	"strandwise/cmd/document"
	"strandwise/cmd/draw"
	"strandwise/cmd/knitted"
	"strandwise/cmd/paper"
	"strandwise/session"
)

// cardsFor are the options of cards on a paper, made on the day after the knitting began.
func cardsFor(size paper.Paper) CardsOptions {
	return CardsOptions{Paper: size, Inches: size == paper.Letter, At: knitted.Evening.AddDate(0, 0, 1)}
}

// cardsOf are the cards of a document.
func cardsOf(d document.Document) (cards []document.Card) {
	for _, b := range d.Blocks {
		if c, is := b.(document.Card); is {
			cards = append(cards, c)
		}
	}
	return cards
}

// lines are the texts of a card, its strip, and its wrong side.
func lines(t *testing.T, c document.Card) (texts []string, strip *draw.Scene, backs []*draw.Scene) {
	for _, b := range c.Blocks {
		switch b := b.(type) {
		case document.Line:
			texts = append(texts, b.Text.String())
		case document.Picture:
			scene := b.Drawing.(*draw.Scene)
			switch {
			case scene.Shapes[0].Class == "panel": // of a motion
			case strings.Contains(scene.Name, "wrong side"):
				backs = append(backs, scene)
			default:
				require.Nil(t, strip)
				strip = scene
			}
		}
	}
	return texts, strip, backs
}

// glance is a row for a glance as it is read.
func glance(r document.Row) string {
	text := r.Head
	for _, run := range r.Runs {
		text += " " + run.Text.String()
	}
	return text
}

func TestCardsTellEachRowAsItsSheetDoes(t *testing.T) {
	for name, k := range knitted.Examples(t) {
		k.Rows = 2
		p := k.Knit(t)
		made, back := NewCards(p, 3, p.Rows(), "", cardsFor(paper.A4)), draw.WithRowsToCome(p, p.Rows(), nil)
		for _, d := range []document.Document{made.Document(), made.Page()} {
			cards := cardsOf(d)
			require.Len(t, cards, p.Rows()-2, name)
			for i, c := range cards {
				s := p.Sheet(i + 3)
				glances := []string{glance(c.Row)}
				for _, b := range c.Blocks {
					if row, is := b.(document.Row); is {
						glances = append(glances, glance(row))
					}
				}
				var want []string
				for _, g := range s.Glances() {
					want = append(want, g.String())
				}
				require.Equal(t, want, glances)
				texts, strip, backs := lines(t, c)
				require.Equal(t, draw.Backs(back, s), backs)
				require.Equal(t, len(s.Distinct()) > 0, len(backs) > 0, "%s, row %d", name, s.Row)
				if runs := s.Blocks[0].Often.Runs; len(runs) > 1 || len(s.Blocks) > 1 {
					require.Equal(t, draw.Strip(s), strip)
				}
				for _, n := range s.Notes {
					require.Contains(t, texts, n.Text)
				}
				if i > 0 {
					require.Subset(t, texts, s.Cautions)
				}
			}
		}
	}
}

// Plain rounds in a row that are alike have one card with a box each, the finished ones ticked; a
// round that takes stitches has its own.
func TestPlainRoundsThatAreAlikeShareACard(t *testing.T) {
	k := knitted.Examples(t)["practice"]
	chart := k.Setup.Parts[0]
	k.Setup.Parts = []session.PartRef{chart, {Name: "plain oat", Plain: '.', Rows: 5, Adds: -6}}
	k.Rows = 0
	p := k.Knit(t)
	from := p.Rows() - 4
	cards := cardsOf(NewCards(p, from, p.Rows(), "", cardsFor(paper.A4)).Document())
	require.Len(t, cards, 2)
	total := p.Sheet(from).Stitches()
	assert.Equal(t, fmt.Sprintf("%d to %d: %d oat", from, from+3, total), glance(cards[0].Row))
	assert.Len(t, cards[0].Ticks, 4)
	assert.Len(t, cards[1].Ticks, 1)
}

// The boxes of finished rows are ticked, on a page and on paper, and no others.
func TestBoxesOfFinishedRowsAreTicked(t *testing.T) {
	k := knitted.Examples(t)["practice"]
	k.Rows = 2
	p := k.Knit(t)
	cards := NewCards(p, 1, p.Rows(), "", cardsFor(paper.A4))
	for i, c := range cardsOf(cards.Document()) {
		assert.Equal(t, []document.Tick{{Row: i + 1, Done: i < 2}}, c.Ticks)
	}
	var page strings.Builder
	require.NoError(t, document.WriteHTML(&page, cards.Page(), paper.A4))
	assert.Equal(t, 2, strings.Count(page.String(), `<input type="checkbox" checked>`))
	assert.Equal(t, p.Rows()-2, strings.Count(page.String(), `<input type="checkbox">`))
}

// Every page tells which rows, what is done by when, the hold and the yarns; and which rows are on it.
func TestEveryPageTellsWhatItIs(t *testing.T) {
	k := knitted.Examples(t)["lantern-band"]
	k.Rows = 4
	p := k.Knit(t)
	for i, page := range textOf(t, writtenCards(t, p, paper.A4)) {
		assert.Contains(t, page, "lantern-band: rounds 1 to 22 of 22; 4 of 22 rounds done on 2031-03-10")
		assert.Contains(t, page, "Hold: two-hands, parallel carry, weave.")
		assert.Contains(t, page, "Gauge: 20x22/4in.")
		assert.Regexp(t, `\. fjord +x oat`, page)
		if i > 0 {
			assert.Regexp(t, `rounds \d+ to \d+, .*, 96 stitches, page`, page)
		}
	}
}

// A motion stands in full once, in few words when it comes back, and not at all while it stays.
func TestMotionsStandOncePerChange(t *testing.T) {
	k := knitted.Examples(t)["lantern-band"]
	k.Rows = 0
	var told []string
	for i, c := range cardsOf(NewCards(k.Knit(t), 1, 22, "", cardsFor(paper.A4)).Document()) {
		for _, b := range c.Blocks {
			line, is := b.(document.Line)
			if is && strings.Contains(line.Text.String(), ": weave ") {
				title, short, _ := strings.Cut(line.Text.String()+"|", " hand:")
				told = append(told, fmt.Sprintf("%d %s hand %v", i+1, title, short == "|"))
			}
		}
	}
	assert.Equal(t, []string{"5 a, b: weave oat, left hand true", "8 b: weave fjord, right hand true", "16 b: weave fjord, right hand false"}, told)
}

func TestCardsCarryTheCautions(t *testing.T) {
	k := knitted.Examples(t)["mooring-mitten"]
	k.Rows = 0
	p := k.Knit(t)
	page := NewCards(p, 1, p.Rows(), "", cardsFor(paper.A4)).Page()
	var head []string
	for _, b := range page.Blocks {
		line, is := b.(document.Line)
		if !is {
			break
		}
		head = append(head, line.Text.String())
	}
	cautions := append(session.HandsFeet.Cautions(), session.HandCautions...)
	assert.Subset(t, head, cautions)
	assert.Equal(t, session.HandsFeet.Cautions(), p.Sheet(1).Cautions)
	for _, c := range cardsOf(page)[:2] {
		texts, _, _ := lines(t, c)
		for _, caution := range cautions {
			assert.NotContains(t, texts, caution, "they stand above, at the head")
		}
	}
}

// writtenCards are the cards of all rows on paper.
func writtenCards(t *testing.T, p *session.Piece, size paper.Paper) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, document.WritePDF(&b, NewCards(p, 1, p.Rows(), "", cardsFor(size)).Document(), size))
	return b.Bytes()
}

// lookFor skips a test where a program is missing.
func lookFor(t *testing.T, program string) {
	t.Helper()
	if _, err := exec.LookPath(program); err != nil {
		t.Skipf("%s is not installed", program)
	}
}

// poppler is what one of its programs says of a document, which stands at % among its arguments.
func poppler(t *testing.T, pdf []byte, program string, arguments ...string) string {
	t.Helper()
	lookFor(t, program)
	name := filepath.Join(t.TempDir(), "cards.pdf")
	require.NoError(t, os.WriteFile(name, pdf, 0o600))
	arguments[slices.Index(arguments, "%")] = name
	var complaints strings.Builder
	command := exec.Command(program, arguments...)
	command.Stderr = &complaints
	out, err := command.Output()
	require.NoError(t, err, complaints.String())
	require.Empty(t, complaints.String(), "%s complains of nothing", program)
	return string(out)
}

// textOf is what pdftotext reads on each page of a document.
func textOf(t *testing.T, pdf []byte) []string {
	t.Helper()
	return strings.Split(strings.TrimSuffix(poppler(t, pdf, "pdftotext", "-layout", "%", "-"), "\f"), "\f")
}

// rowBegins finds the first line of a row.
var rowBegins = regexp.MustCompile(`(?m)^ *(\d+)(?:, [^:]+)?: `)

// Every row stands whole on one page: its number and its place in the chart are read there, in
// order, on both papers; the chart comes first.
func TestCardsBreakBetweenRows(t *testing.T) {
	k := knitted.Examples(t)["tide-yoke"]
	k.Rows = 0
	p := k.Knit(t)
	for _, size := range []paper.Paper{paper.A4, paper.Letter} {
		written := writtenCards(t, p, size)
		require.True(t, bytes.Equal(written, writtenCards(t, p, size)))
		pages := textOf(t, written)
		assert.Contains(t, pages[0], "right side, rounds 1 to 60, one repeat")
		row := 1
		for _, page := range pages[1:] {
			for _, begun := range rowBegins.FindAllStringSubmatch(page, -1) {
				require.Equal(t, fmt.Sprint(row), begun[1], size.Name)
				require.Contains(t, page, fmt.Sprintf("row %d of 60", row), size.Name)
				row++
			}
		}
		assert.Equal(t, p.Rows()+1, row, "every row is there, in order")
		assert.Contains(t, pages[1], fmt.Sprintf("page 2 of %d", len(pages)))
	}
}

// paged is a drawing that notes the page on which it is set.
type paged struct {
	document.Drawing
	page *int
}

func (p paged) PDF(b *paper.Book, x, y, scale float64) {
	*p.page = b.PageNo()
	p.Drawing.PDF(b, x, y, scale)
}

// The steps of a motion stand on the page of its picture.
func TestMotionsStandOnOnePage(t *testing.T) {
	for name, size := range map[string]paper.Paper{"lantern-band": paper.A4, "mooring-mitten": paper.Letter, "practice": paper.A4} {
		k := knitted.Examples(t)[name]
		k.Rows = 0
		p := k.Knit(t)
		made := NewCards(p, 1, p.Rows(), "", cardsFor(size)).Document()
		words, pages := [][]string{}, []*int{} // of each motion: its title and steps, and the page of its picture
		for _, c := range cardsOf(made) {
			motion := -1
			for i, b := range c.Blocks {
				line, _ := b.(document.Line)
				text := line.Text.String()
				picture, drawn := b.(document.Picture)
				switch {
				case strings.HasSuffix(text, ":"):
					motion, words, pages = len(words), append(words, nil), append(pages, new(int))
				case drawn && motion >= 0:
					picture.Drawing = paged{picture.Drawing, pages[motion]}
					c.Blocks[i], motion = picture, -1
				}
				if motion >= 0 {
					words[motion] = append(words[motion], text)
				}
			}
		}
		var b bytes.Buffer
		require.NoError(t, document.WritePDF(&b, made, size))
		read := textOf(t, b.Bytes())
		require.NotEmpty(t, words, name)
		for i, page := range pages {
			for _, text := range words[i] {
				assert.Contains(t, strings.Join(strings.Fields(read[*page-1]), " "), strings.Join(strings.Fields(text), " "), "%s on %s", name, size.Name)
			}
		}
	}
}

// wordBox finds the edges of a word that pdftotext reads, in points.
var wordBox = regexp.MustCompile(`<word xMin="([0-9.-]+)" yMin="([0-9.-]+)" xMax="([0-9.]+)" yMax="([0-9.]+)">.*`)

// Whatever piece, part and yarns are called, nothing stands past the margins: a run wider than a line
// is broken within, a word wider than a line within it. The names are of 40 letters and of 200; a run
// has four catches.
func TestNothingStandsPastThePaper(t *testing.T) {
	long := strings.Repeat("fjord", 8)
	for _, c := range []struct {
		letters int
		yarns   [2]string
	}{
		{40, [2]string{long, strings.Repeat("oatmeal ", 5)[:39] + "s"}},
		{200, [2]string{strings.Repeat(long, 5), strings.Repeat("oatmeal ", 25)[:199] + "s"}},
	} {
		k := knitted.Examples(t)["practice"]
		head, _, _ := strings.Cut(k.Chart, "rows:")
		k.Chart = strings.NewReplacer("fjord", c.yarns[0], "oat", c.yarns[1]).Replace(head) +
			"rows:\nx.............................\n.xxxxxxxxxxxxxxxxxxxxxxxxxxxxx\n"
		k.Setup.Name, k.Setup.Parts[0].Name, k.Rows = long, strings.Repeat("bands", 8), 1
		k.Setup.Parts = append(k.Setup.Parts, session.PartRef{Name: "plain", Plain: '.', Rows: 30})
		p := k.Knit(t)
		require.True(t, slices.ContainsFunc(p.Sheet(2).Blocks[0].Often.Runs, func(r session.Run) bool { return len(r.Catches) >= 4 }))
		for _, size := range []paper.Paper{paper.A4, paper.Letter} {
			for _, large := range []bool{false, true} {
				o := cardsFor(size)
				o.Large = large
				var b bytes.Buffer
				require.NoError(t, document.WritePDF(&b, NewCards(p, 1, p.Rows(), "", o).Document(), size))
				requireWithin(t, b.Bytes(), size, fmt.Sprint(c.letters, " letters ", size.Name, " ", large))
			}
		}
	}
}

// The cards of fifty random pieces, with yarn names of one to forty letters: nothing past the margins, and on the
// pages of rows no letter and no figure, those of strips among them, under 8 points.
func TestCardsOfRandomPiecesCanBeReadOnPaper(t *testing.T) {
	for seed := range uint64(50) {
		k := knitted.Random(seed)
		random := rand.New(rand.NewPCG(seed, 3))
		long := func(word string) string { return strings.TrimSpace(strings.Repeat(word, 40)[:1+random.IntN(40)]) }
		k.Chart = strings.NewReplacer("oat", long("oatmeal "), "fjord", long("fjord"), "kelp", long("kelp at sea ")).Replace(k.Chart)
		k.Setup.Name = long("pier ")
		size := []paper.Paper{paper.A4, paper.Letter}[seed%2]
		pdf := writtenCards(t, k.Knit(t), size)
		requireWithin(t, pdf, size, fmt.Sprint(seed, k.Chart))
		requireLarge(t, pdf, fmt.Sprint(seed, k.Chart))
	}
}

// requireLarge holds the words on the pages of rows to 8 points at least. The first word of each page is in the
// small letters of the head, 3.1 mm, which tells how high a box is for its letters.
func requireLarge(t *testing.T, pdf []byte, name string) {
	t.Helper()
	pages := strings.Split(poppler(t, pdf, "pdftotext", "-bbox", "%", "-"), "<page ")[1:]
	height := func(word []string) float64 {
		top, err := strconv.ParseFloat(word[2], 64)
		require.NoError(t, err)
		bottom, err := strconv.ParseFloat(word[4], 64)
		require.NoError(t, err)
		return bottom - top
	}
	rows := slices.IndexFunc(pages, func(page string) bool { return regexp.MustCompile(`>(Rounds|Rows)<`).MatchString(page) })
	require.GreaterOrEqual(t, rows, 1)
	for _, page := range pages[rows:] {
		words := wordBox.FindAllStringSubmatch(page, -1)
		point := height(words[0]) / (3.1 * 72 / 25.4)
		for _, word := range words {
			require.GreaterOrEqual(t, height(word)/point, 7.99, "%s: %s", name, word[0])
		}
	}
}

// requireWithin holds every word of a document within the margins of its paper.
func requireWithin(t *testing.T, pdf []byte, size paper.Paper, name string) {
	t.Helper()
	const point = 72 / 25.4
	words := 0
	for _, word := range wordBox.FindAllStringSubmatch(poppler(t, pdf, "pdftotext", "-bbox", "%", "-"), -1) {
		var edges [4]float64
		for i := range edges {
			var err error
			edges[i], err = strconv.ParseFloat(word[i+1], 64)
			require.NoError(t, err)
		}
		require.GreaterOrEqual(t, edges[0], paper.Margin*point-0.1, "%s: %s", name, word[0])
		require.GreaterOrEqual(t, edges[1], paper.Margin*point-1, "%s: %s", name, word[0])
		require.LessOrEqual(t, edges[2], (size.Width-paper.Margin)*point+0.1, "%s: %s", name, word[0])
		require.LessOrEqual(t, edges[3], (size.Height-paper.Margin+3)*point, "%s: %s", name, word[0])
		words++
	}
	require.Greater(t, words, 50)
}

// textHeight finds the height of the letters of a page's fonts, in points, as pdftohtml reads them.
var textHeight = regexp.MustCompile(`<fontspec id="\d+" size="(\d+)"`)

// Large cards have no letter under 24 points, no drawing, and every run a line as it is told aloud;
// the page too.
func TestLargeCardsAreWords(t *testing.T) {
	k := knitted.Examples(t)["lantern-band"]
	k.Rows = 4
	p := k.Knit(t)
	o := cardsFor(paper.A4)
	o.Large = true
	cards := NewCards(p, 1, p.Rows(), "", o)
	var pdf, page bytes.Buffer
	require.NoError(t, document.WritePDF(&pdf, cards.Document(), paper.A4))
	require.NoError(t, document.WriteHTML(&page, cards.Page(), paper.A4))
	assert.NotContains(t, page.String(), "<svg")
	assert.Contains(t, page.String(), "font-size: 24pt")
	text := strings.Join(textOf(t, pdf.Bytes()), "\n")
	for row := 1; row <= p.Rows(); row++ {
		for _, phrase := range p.Sheet(row).Glances()[0].Phrases {
			assert.Contains(t, text, "- "+phrase.Aloud)
			assert.Contains(t, page.String(), "<li>"+phrase.Aloud+"</li>")
		}
	}
	assert.Contains(t, text, "A, B: weave oat, left hand:", "catches are called as in the runs")
	lookFor(t, "pdftohtml")
	heights := textHeight.FindAllStringSubmatch(poppler(t, pdf.Bytes(), "pdftohtml", "-xml", "-stdout", "-zoom", "1", "%"), -1)
	require.NotEmpty(t, heights)
	for _, height := range heights {
		points, err := strconv.Atoi(height[1])
		require.NoError(t, err)
		assert.GreaterOrEqual(t, points, 24)
	}
}

func TestCardsOpenInPoppler(t *testing.T) {
	k := knitted.Examples(t)["pier-panel"]
	k.Rows = 0
	assert.NotEmpty(t, poppler(t, writtenCards(t, k.Knit(t), paper.Letter), "pdftoppm", "-r", "20", "-gray", "%"))
}

// Every letter of the examples' cards is in the fonts.
func TestFontsHaveTheLettersOfCards(t *testing.T) {
	var fonts []*sfnt.Font
	for _, data := range [][]byte{goregular.TTF, gobold.TTF} {
		f, err := sfnt.Parse(data)
		require.NoError(t, err)
		fonts = append(fonts, f)
	}
	for name, k := range knitted.Examples(t) {
		for _, letter := range poppler(t, writtenCards(t, k.Knit(t), paper.A4), "pdftotext", "-raw", "-enc", "UTF-8", "%", "-") {
			for _, f := range fonts {
				glyph, err := f.GlyphIndex(nil, letter)
				require.NoError(t, err)
				assert.True(t, glyph != 0 || letter == '\n' || letter == '\f', "%s: %q", name, letter)
			}
		}
	}
}

// bigPiece is 300 rounds of 240 stitches, catches planned plainly, nothing knitted.
func bigPiece(t testing.TB) *session.Piece {
	k := knitted.Examples(t)["night-sea"]
	k.Setup.Parts[0].Repeats, k.Setup.Parts[0].Times, k.Rows, k.Even = 5, 7, 0, true
	return k.Knit(t)
}

// BenchmarkCards makes the cards of 300 rounds of 240 stitches.
func BenchmarkCards(b *testing.B) {
	p := bigPiece(b)
	var out bytes.Buffer
	for _, c := range []struct {
		name  string
		write func(*Cards) error
	}{
		{"pdf", func(c *Cards) error { return document.WritePDF(&out, c.Document(), paper.A4) }},
		{"html", func(c *Cards) error { return document.WriteHTML(&out, c.Page(), paper.A4) }},
	} {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				out.Reset()
				if err := c.write(NewCards(p, 1, 300, "", cardsFor(paper.A4))); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(out.Len())/1e6, "MB")
		})
	}
}
