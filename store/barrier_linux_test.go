package store_test

import (
	"os"
	"syscall"
)

// dataSync is the barrier a step makes.
func dataSync(f *os.File) error { return syscall.Fdatasync(int(f.Fd())) }
