//go:build !linux

package store_test

import "os"

// dataSync is the nearest to the barrier a step makes.
func dataSync(f *os.File) error { return f.Sync() }
