// Package draw makes pictures: of charts, of both sides of a knitted piece, of the rows to come.
//
// In comes a chart, a piece with what was made of it (Knitted), or the sheet of a row; each is drawn once as a
// Scene, a list of shapes with places and paints. Out go bytes: the writers SVG, PNG and PDF know shapes and nothing
// of knitting. Every picture of stitches begins with the layers of a grid: stitches, lines, signs; a piece has its
// catches on them, or its strands. TextChart and FabricText write the same for a terminal, which has nothing finer
// than a character. Nothing here opens a file or decides about the knitting.
package draw
