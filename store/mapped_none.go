//go:build !(linux || darwin || freebsd || netbsd || openbsd || dragonfly)

package store

import "os"

// mapFile maps no file here.
func mapFile(*os.File, int64) mapped { return nil }

func (m mapped) unmap() {}
