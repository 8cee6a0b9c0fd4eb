package draw

import (
	"bufio"
	"fmt"
	"io"

	"strandwise/chart"
)

// ChartSVG draws a chart as SVG. The same chart gives the same bytes.
func ChartSVG(w io.Writer, c *chart.Chart, d Drawing) error {
	s := sceneOf(c, d)
	out := bufio.NewWriter(w)
	fmt.Fprintf(out, `<svg xmlns="http://www.w3.org/2000/svg" width="%d" height="%d" viewBox="0 0 %d %d" shape-rendering="crispEdges">`+"\n", s.width, s.height, s.width, s.height)
	if s.title != "" {
		fmt.Fprintf(out, "<title>%s</title>\n", escaped(s.title))
	}
	if !s.bare {
		fmt.Fprintf(out, `<rect width="%d" height="%d" fill="#FFFFFF"/>`+"\n", s.width, s.height)
	}
	for _, t := range s.tiles {
		fmt.Fprintf(out, `<rect x="%d" y="%d" width="%d" height="%d" fill="%s"/>`+"\n", t.x, t.y, t.w, t.h, t.color)
	}
	for _, l := range s.strokes {
		fmt.Fprintf(out, `<line x1="%.2f" y1="%.2f" x2="%.2f" y2="%.2f" stroke="%s" stroke-width="%.1f" stroke-linecap="round" shape-rendering="auto"/>`+"\n",
			l.x1, l.y1, l.x2, l.y2, l.color, l.width)
	}
	for _, l := range s.labels {
		fmt.Fprintf(out, `<text x="%.2f" y="%.2f" font-family="sans-serif" font-size="%.0f" text-anchor="%s">%s</text>`+"\n", l.x, l.y, l.size, l.anchor, escaped(l.text))
	}
	fmt.Fprintln(out, "</svg>")
	return out.Flush()
}
