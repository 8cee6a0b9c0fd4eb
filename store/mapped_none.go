//go:build !(linux || darwin || freebsd || netbsd || dragonfly)

package store

import "os"

// mapFile maps no file here: where memory and file are kept in step only on demand, what is
// examined there may not be what is read after.
func mapFile(*os.File, int64) mapped { return nil }

func (m mapped) unmap() {}
