//go:build linux || darwin || freebsd || netbsd || dragonfly

package store

import (
	"os"
	"syscall"
)

// mapFile maps the first bytes of a file, so many; nil where that cannot be done.
func mapFile(f *os.File, size int64) mapped {
	m, err := syscall.Mmap(int(f.Fd()), 0, int(size), syscall.PROT_READ, syscall.MAP_SHARED)
	if err != nil {
		return nil
	}
	return m
}

func (m mapped) unmap() { _ = syscall.Munmap(m) }
