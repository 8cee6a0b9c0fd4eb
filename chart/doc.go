// Package chart holds a stranded-colorwork chart: its yarns, its grid of
// stitches, the text format it is kept in, and what can be measured on the chart
// alone (counts, color differences). It knows nothing of knitters, needles,
// repeats or floats.
//
// A chart is drawn as the right side looks. Row 1 is the lowest row and column 1
// the rightmost stitch, the order in which a right-side row is read.
package chart
