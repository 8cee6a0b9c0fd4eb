// Package draw makes pictures: of charts, of both sides of a knitted piece, of the rows to come.
//
// In comes a chart, a piece with what was made of it (Knitted), or the sheet of a row. Each is
// drawn once as a Scene, a list of shapes with their places and paints; the writers SVG, PNG and
// PDF know shapes and nothing of knitting. A terminal has no places finer than a character, so
// its pictures are made from the same charts and pieces directly. Nothing here opens a file.
package draw
