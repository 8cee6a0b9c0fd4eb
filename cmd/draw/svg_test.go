package draw

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"maps"
	"math"
	"os/exec"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/cmd/knitted"
	"strandwise/floats"
	"strandwise/session"
)

// element is one drawn element of an SVG, with the class of its group.
type element struct {
	name, class, text string
	stroke            string // its group's
	attr              map[string]string
}

func (e element) number(t require.TestingT, name string) int {
	n, err := strconv.Atoi(e.attr[name])
	require.NoError(t, err, "%s of %v", name, e)
	return n
}

// stitch counts a stitch over its row, as the events do.
func (e element) stitch(t require.TestingT, k *Knitted) int {
	place := floats.Place{Repeat: e.number(t, "data-repeat"), Stitch: e.number(t, "data-stitch")}
	if e.attr["data-block"] != "" {
		place.Block = e.number(t, "data-block")
	}
	return k.Piece.Row(e.number(t, "data-row")).StitchAt(place)
}

// length is an attribute that is a length.
func (e element) length(t require.TestingT, name string) float64 {
	v, err := strconv.ParseFloat(e.attr[name], 64)
	require.NoError(t, err, "%s of %v", name, e)
	return v
}

var knittedExamples = map[string]*session.Piece{}

// example is an example with so many rows knitted, -1 for all; planned once for all tests.
func example(t testing.TB, name string, rows int) *session.Piece {
	t.Helper()
	key := fmt.Sprint(name, rows)
	if knittedExamples[key] == nil {
		k := knitted.Examples(t)[name]
		k.Rows = rows
		knittedExamples[key] = k.Knit(t)
	}
	return knittedExamples[key]
}

// WorkedPart is the finished rows of a piece.
func WorkedPart(p *session.Piece, r *session.Review) *Knitted {
	return WithRowsToCome(p, p.State.Row, r.Mending)
}

// worked is an example whose rows are all knitted.
func worked(t testing.TB, name string) *Knitted {
	t.Helper()
	p := example(t, name, -1)
	return WorkedPart(p, p.Review(nil))
}

// readSVG lists the drawn elements of an SVG.
func readSVG(t require.TestingT, svg []byte) []element {
	d := xml.NewDecoder(bytes.NewReader(svg))
	var all []element
	var classes []string
	stroke := ""
	for {
		token, err := d.Token()
		if err == io.EOF {
			require.Empty(t, classes, "a group is left open")
			return all
		}
		if err != nil { // some 100,000 times: no call of require
			require.NoError(t, err)
		}
		switch token := token.(type) {
		case xml.StartElement:
			e := element{name: token.Name.Local, attr: map[string]string{}}
			for _, a := range token.Attr {
				e.attr[a.Name.Local] = a.Value
			}
			if e.name == "g" {
				stroke = e.attr["stroke"]
			}
			e.stroke = stroke
			classes = append(classes, e.attr["class"])
			for _, c := range classes {
				if c != "" {
					e.class = c
				}
			}
			all = append(all, e)
		case xml.EndElement:
			classes = classes[:len(classes)-1]
		case xml.CharData:
			if len(all) > 0 {
				all[len(all)-1].text += string(token)
			}
		}
	}
}

func ofClass(all []element, class string) []element {
	return slices.DeleteFunc(slices.Clone(all), func(e element) bool { return e.class != class || e.name == "g" })
}

// drawn is the SVG of one side.
func drawn(t require.TestingT, k *Knitted, side Side) []byte {
	var b bytes.Buffer
	require.NoError(t, SVG(&b, Picture(k, Options{Side: side})))
	return b.Bytes()
}

// floatsRead are the floats that the strands of a picture tell of.
func floatsRead(t require.TestingT, k *Knitted, all []element) []floats.Float {
	var read []floats.Float
	for _, e := range ofClass(all, "strand") {
		if e.attr["data-runs-on"] != "" {
			continue
		}
		fl := floats.Float{Yarn: k.Piece.Layout.Fabric.Yarn([]rune(e.attr["data-yarn"])[0])}
		fl.Row, fl.Stitch, fl.Length = e.number(t, "data-row")-1, e.stitch(t, k), e.number(t, "data-length")
		for kind := floats.Within; kind <= floats.Across; kind++ {
			if kind.String() == e.attr["data-kind"] {
				fl.Kind = kind
			}
		}
		read = append(read, fl)
	}
	slices.SortFunc(read, func(a, b floats.Float) int {
		return (a.Row-b.Row)*1_000_000 + (a.Stitch-b.Stitch)*10 + a.Yarn - b.Yarn
	})
	return read
}

// floatsTrue are the floats of the finished rows. One over the start needs both its rows.
func floatsTrue(p *session.Piece) []floats.Float {
	return slices.DeleteFunc(p.Layout.Fabric.Floats(p.State.Setup.RestLimit), func(fl floats.Float) bool {
		over := fl.Kind == floats.OverStart && fl.Stitch > 1
		return fl.Row+1 > p.State.Row || over && fl.Row+2 > p.State.Row
	})
}

// marksRead are the catches that a picture tells of: shown and made, by row.
func marksRead(t require.TestingT, k *Knitted, all []element) (shown, used map[int][]session.Mark) {
	shown, used = map[int][]session.Mark{}, map[int][]session.Mark{}
	for _, e := range ofClass(all, "catch") {
		row := e.number(t, "data-row")
		m := session.Mark{Stitch: e.stitch(t, k), Yarn: k.Piece.Layout.Fabric.Yarn([]rune(e.attr["data-yarn"])[0])}
		require.Equal(t, k.Piece.LetterOf(row, m), e.attr["data-letter"])
		if strings.Contains(e.attr["data-catch"], "planned") {
			shown[row] = append(shown[row], m)
		}
		if strings.Contains(e.attr["data-catch"], "made") {
			used[row] = append(used[row], m)
		}
	}
	inOrder(shown)
	inOrder(used)
	return shown, used
}

// inOrder sorts the catches of each row: a drawing has them by their paint.
func inOrder(marks map[int][]session.Mark) {
	for _, row := range marks {
		slices.SortFunc(row, session.Mark.Compare)
	}
}

// requireTrue holds a drawing of the wrong side to the piece.
func requireTrue(t require.TestingT, p *session.Piece) {
	k := WorkedPart(p, p.Review(nil))
	all := readSVG(t, drawn(t, k, WrongSide))
	want, got := floatsTrue(p), floatsRead(t, k, all)
	require.True(t, slices.Equal(want, got), "%v and %v", want, got)
	for _, side := range []Side{RightSide, WrongSide} {
		elements := all
		if side == RightSide {
			elements = readSVG(t, drawn(t, k, side))
		}
		shown, used := marksRead(t, k, elements)
		for _, done := range p.State.DoneRows {
			require.True(t, slices.Equal(done.Shown, shown[done.Row]), "%s side, row %d: %v and %v", side, done.Row, done.Shown, shown[done.Row])
			require.True(t, slices.Equal(done.Used, used[done.Row]), "%s side, row %d: %v and %v", side, done.Row, done.Used, used[done.Row])
		}
	}
	requireAnchored(t, k, all)
	requireWorked(t, k, all)
	requireWarned(t, k, all)
}

var decimal = regexp.MustCompile(`-?[0-9.]+`)

// ends are the points of a path of bows that lie on it.
func ends(t require.TestingT, e element) []Point {
	var all []float64
	for _, n := range decimal.FindAllString(e.attr["d"], -1) {
		v, err := strconv.ParseFloat(n, 64)
		require.NoError(t, err)
		all = append(all, v)
	}
	var points []Point
	for i := 0; i < len(all); i += 4 {
		points = append(points, Point{all[i], all[i+1]})
	}
	return points
}

// grasp is what holds a strand at one place of a drawing: how the yarn worked there lies, over the
// strand and for a twist behind it, and where that stands in the drawing.
type grasp struct {
	yarn         string
	behind, over []Point
	before, last int // in the drawing, of both
}

// at is where it holds.
func (g grasp) at() Point {
	if len(g.behind) > 0 {
		return g.behind[0]
	}
	return Point{(g.over[1].X + g.over[2].X) / 2, g.over[1].Y}
}

// graspsRead are those of a drawing.
func graspsRead(t require.TestingT, all []element) []grasp {
	found := map[string]grasp{}
	for i, e := range all {
		if (e.class == "leg" || e.class == "behind") && e.name != "g" {
			key := fmt.Sprint(e.attr["data-row"], " ", e.attr["data-block"], " ", e.attr["data-repeat"], " ", e.attr["data-stitch"], " ", e.attr["data-yarn"])
			g := found[key]
			if e.class == "leg" {
				g.over, g.last = ends(t, e), i
			} else {
				g.behind, g.before = ends(t, e), i
			}
			g.yarn = e.attr["data-yarn"]
			found[key] = g
		}
	}
	return slices.Collect(maps.Values(found))
}

// requireAnchored wants each place where two bows of a strand meet to be held, as a weave or a twist
// lies (motions: both legs over the strand, one leading down across it and the other up; or once
// round it, behind and in front), and no strand to be held elsewhere.
func requireAnchored(t require.TestingT, k *Knitted, all []element) {
	list, held := graspsRead(t, all), 0
	for i, e := range all {
		if e.class != "strand" || e.name == "g" {
			continue
		}
		points := ends(t, e)
		for _, p := range points[1 : len(points)-1] {
			held++
			at := slices.IndexFunc(list, func(g grasp) bool {
				return g.yarn == e.attr["data-yarn"] && math.Abs(g.at().X-p.X) < 0.02 && g.at().Y > p.Y && g.at().Y < p.Y+usualCell/2
			})
			require.GreaterOrEqual(t, at, 0, "%v is held at %v by nothing", e, p)
			g := list[at]
			require.Greater(t, g.last, i)
			if len(g.over) == 4 {
				require.True(t, g.over[0].Y < p.Y && g.over[1].Y > p.Y, "down across it")
				require.True(t, g.over[2].Y > p.Y && g.over[3].Y < p.Y, "and up again")
				continue
			}
			require.Less(t, g.before, i)
			require.True(t, g.over[1].Y < p.Y && g.over[2].Y > p.Y && g.behind[0].Y > p.Y && g.behind[2].Y < p.Y, "once round")
		}
	}
	want := 0
	for _, st := range k.Strands {
		want += len(st.Caught)
	}
	require.Equal(t, want, held)
}

// requireWorked wants what holds a strand to be of the yarn worked there, and each stitch to be a
// bump of its yarn.
func requireWorked(t require.TestingT, k *Knitted, all []element) {
	yarns, count := k.Piece.Layout.Fabric.Yarns, 0
	for _, e := range ofClass(all, "leg") {
		row := k.Piece.Row(e.number(t, "data-row"))
		require.Equal(t, yarns[row.Stitch(e.stitch(t, k)).Yarn].Color.String(), e.stroke)
	}
	for _, e := range ofClass(all, "bumps") {
		count += len(ends(t, e)) - 1
	}
	for row := k.Begin; row <= k.Rows; row++ {
		count -= k.Piece.Row(row).Stitches()
	}
	require.Zero(t, count)
}

// requireWarned wants every line of the mending list to be drawn with its number, in each row
// it runs through, and nothing else.
func requireWarned(t require.TestingT, k *Knitted, all []element) {
	var want, got, tags []string
	for _, g := range k.Piece.OverLimit() {
		number := fmt.Sprint(numberOf(t, k, g))
		for range g.To.Row - g.From.Row + 1 {
			want = append(want, fmt.Sprint(number, g.From, g.Yarn.Index))
			tags = append(tags, number)
		}
	}
	for _, e := range ofClass(all, "warning") {
		at := k.Piece.Spot(e.number(t, "data-row"), e.stitch(t, k))
		got = append(got, fmt.Sprint(e.attr["data-mend"], at, k.Piece.Layout.Fabric.Yarn([]rune(e.attr["data-yarn"])[0])))
	}
	require.ElementsMatch(t, want, got)
	var texts []string
	for _, e := range ofClass(all, "tag") {
		if e.name == "text" {
			texts = append(texts, strings.TrimSpace(e.text))
		}
	}
	require.ElementsMatch(t, tags, texts)
}

func TestPictureTellsTheTruthOfExamples(t *testing.T) {
	for name := range knitted.Examples(t) {
		t.Run(name, func(t *testing.T) { requireTrue(t, example(t, name, -1)) })
	}
}

func TestPictureTellsTheTruthOfRandomPieces(t *testing.T) {
	strands, marks, mends := 0, 0, 0
	for seed := range uint64(200) {
		p := knitted.Random(seed).Knit(t)
		requireTrue(t, p)
		k := WorkedPart(p, p.Review(nil))
		strands, mends = strands+len(k.Strands), mends+len(k.Mends)
		for _, row := range k.Marks {
			marks += len(row)
		}
		if seed < 100 {
			requireTrue(t, knitted.Blocks(seed).Knit(t))
		}
	}
	assert.Greater(t, strands, 2000)
	assert.Greater(t, marks, 500)
	assert.Greater(t, mends, 100)
}

// Column 1 lies at the left of the wrong side and at the right of the right side, row 1 at the
// bottom of both.
func TestSidesAreMirrored(t *testing.T) {
	k := worked(t, "practice")
	wrong := newView(k, k.whole(), Options{Side: WrongSide})
	right := newView(k, k.whole(), Options{Side: RightSide})
	wrong.draw("")
	right.draw("")
	assert.Less(t, wrong.x(0), wrong.x(1))
	assert.Greater(t, right.x(0), right.x(1))
	assert.InDelta(t, wrong.x(0)-wrong.left, right.left+right.bodyWidth()-right.x(0), 1e-9)
	assert.Greater(t, wrong.y(1), wrong.y(2))
}

func TestPictureKeepsTheShapeOfStitches(t *testing.T) {
	k := worked(t, "lantern-band")
	v := newView(k, k.whole(), Options{Side: WrongSide})
	assert.InDelta(t, 20.0/22, v.cell.Y/v.cell.X, 1e-9, "20 stitches and 22 rows over 4 in")
}

func TestPartsOverlap(t *testing.T) {
	assert.Equal(t, [][2]int{{0, 9}}, parts(0, 9, 10))
	assert.Equal(t, [][2]int{{0, 6}, {5, 10}}, parts(0, 10, 10))
	for from := range 3 {
		for to := from; to < 70; to++ {
			for most := 3; most < 40; most++ {
				all := parts(from, to, most)
				require.Equal(t, from, all[0][0])
				require.Equal(t, to, all[len(all)-1][1])
				for i, p := range all {
					require.LessOrEqual(t, p[1]-p[0]+1, most)
					require.True(t, i == 0 || p[0] == all[i-1][1]-overlap+1, "%v of %d to %d by %d", all, from, to, most)
				}
			}
		}
	}
}

// The parts of a picture together tell all that the whole tells.
func TestPartsTellEverything(t *testing.T) {
	k := worked(t, "tide-yoke")
	seen := map[string]bool{}
	facts := func(svg []byte) map[string]bool {
		all := map[string]bool{}
		for _, e := range readSVG(t, svg) {
			if e.attr["data-row"] != "" {
				all[fmt.Sprint(e.class, e.attr["data-row"], e.attr["data-repeat"], e.attr["data-stitch"], e.attr["data-yarn"], e.attr["data-length"], e.attr["data-catch"], e.attr["data-mend"])] = true
			}
		}
		return all
	}
	scenes := Parts(k, Options{Side: WrongSide}, 48, 40)
	require.Len(t, scenes, 12)
	for _, s := range scenes {
		var b bytes.Buffer
		require.NoError(t, SVG(&b, s))
		for fact := range facts(b.Bytes()) {
			seen[fact] = true
		}
	}
	assert.Equal(t, facts(drawn(t, k, WrongSide)), seen)
}

// Catches have their letters on them where stitches are large, and the same ones.
func TestLettersStandOnCatches(t *testing.T) {
	k := worked(t, "lantern-band")
	for _, side := range []Side{RightSide, WrongSide} {
		for cell, want := range map[float64]bool{5: true, 3: false} {
			var b bytes.Buffer
			require.NoError(t, SVG(&b, newView(k, k.whole(), Options{Side: side, wide: cell}).draw("")))
			var told, seen []string
			all := readSVG(t, b.Bytes())
			for _, e := range ofClass(all, "catch") {
				if want && e.attr["data-letter"] != "" {
					told = append(told, e.attr["data-letter"])
				}
			}
			for _, e := range ofClass(all, "letter") {
				seen = append(seen, strings.TrimSpace(e.text))
			}
			assert.ElementsMatch(t, told, seen)
			isLetter := func(e element) bool { return e.class == "letter" }
			if first := slices.IndexFunc(all, isLetter); first >= 0 {
				assert.Empty(t, ofClass(all[first:], "catch"), "no sign lies over a letter")
			}
			assert.Equal(t, want, len(seen) > 50)
		}
	}
}

func TestPictureIsTheSameEveryTime(t *testing.T) {
	p, again := knitted.Examples(t)["tide-yoke"].Knit(t), knitted.Examples(t)["tide-yoke"].Knit(t)
	for _, side := range []Side{RightSide, WrongSide} {
		assert.Equal(t, drawn(t, WorkedPart(p, p.Review(nil)), side), drawn(t, WorkedPart(again, again.Review(nil)), side))
	}
}

func TestNamesAreEscaped(t *testing.T) {
	k := knitted.Random(3)
	k.Setup.Name = `<pier> & "tide"`
	p := k.Knit(t)
	all := readSVG(t, drawn(t, WorkedPart(p, p.Review(nil)), RightSide))
	title := all[slices.IndexFunc(all, func(e element) bool { return e.name == "title" })]
	assert.Contains(t, title.text, `<pier> & "tide", right side`)
}

func TestNumbers(t *testing.T) {
	for v, want := range map[float64]string{0: "0", -0.001: "0", 1: "1", 10: "10", 1.5: "1.5", 1.25: "1.25", 100.004: "100", -2.1: "-2.1"} {
		assert.Equal(t, want, number(v))
	}
}

// lookFor skips a test where a program is missing.
func lookFor(t *testing.T, program string) {
	t.Helper()
	if _, err := exec.LookPath(program); err != nil {
		t.Skipf("%s is not installed", program)
	}
}

// Another program's reading of the drawing has the yarns' colors where the stitches are.
func TestPictureOpensInRsvg(t *testing.T) {
	lookFor(t, "rsvg-convert")
	k := worked(t, "practice")
	scene := Picture(k, Options{Side: RightSide})
	command := exec.Command("rsvg-convert", "--width", fmt.Sprint(math.Round(scene.Width*10)))
	var b bytes.Buffer
	require.NoError(t, SVG(&b, scene))
	command.Stdin = &b
	png, err := command.Output()
	require.NoError(t, err)
	requirePicture(t, png, k)
}
