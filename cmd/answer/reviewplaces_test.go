package answer

import (
	"bytes"
	"fmt"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/cmd/knitted"
)

// Each entry of the mending list leads to one place of the page, of that number and in the
// picture of the whole, and has a picture of its own, in which it is drawn.
func TestMendingLeadsToItsPlace(t *testing.T) {
	tagged := regexp.MustCompile(`id="(mend-[0-9]+)"[^>]*>([0-9]+)<`)
	n := 0
	check := func(k knitted.Knitting) {
		p := k.Knit(t)
		var b bytes.Buffer
		require.NoError(t, reviewHTML(&b, p))
		page := b.String()
		places := tagged.FindAllStringSubmatch(page, -1)
		mends := p.Review(nil).Mending
		require.Len(t, places, len(mends))
		require.Equal(t, len(mends), strings.Count(page, `">in the picture</a>`))
		for _, at := range places {
			require.Equal(t, "mend-"+at[2], at[1])
		}
		for i, m := range mends {
			link := fmt.Sprintf(`<a href="#mend-%d">`, m.Number)
			require.Equal(t, 1, strings.Count(page, link))
			_, entry, _ := strings.Cut(page, link)
			entry, _, _ = strings.Cut(entry, "</li>")
			require.Contains(t, entry, fmt.Sprintf(`around number %d to mend`, i+1))
			at := p.PlaceOf(m.From.Row, m.From.Stitch)
			require.Contains(t, entry, fmt.Sprintf(`data-row="%d" data-repeat="%d" data-stitch="%d" data-yarn="%c" data-mend="%d"`,
				m.From.Row, at.Repeat, at.Stitch, m.Yarn.Symbol, m.Number))
		}
		n += len(mends)
	}
	for _, k := range knitted.Examples(t) {
		check(k)
	}
	for seed := range uint64(60) {
		k := knitted.Random(seed)
		if k.Rows == 0 {
			continue
		}
		check(k)
	}
	assert.Greater(t, n, 50)
}
