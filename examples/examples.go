// Package examples holds charts drawn for this project, to try the program on. They
// share one invented scenario, a harbor at dusk.
package examples

import "embed"

// Files are the charts, by file name.
//
//go:embed *.chart
var Files embed.FS
