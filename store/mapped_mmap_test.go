//go:build linux || darwin || freebsd || netbsd || dragonfly

package store

import (
	"bytes"
	"io"
	"os"
	"path/filepath"
	"testing"
	"testing/iotest"

	"github.com/stretchr/testify/require"
)

// The file in memory reads as the file does, to its end and beyond.
func TestMappedReadsAsTheFile(t *testing.T) {
	text := bytes.Repeat([]byte("tide and pier "), 1000)
	name := filepath.Join(t.TempDir(), "text")
	require.NoError(t, os.WriteFile(name, text, 0o600))
	f, err := os.Open(name)
	require.NoError(t, err)
	defer f.Close()
	m := mapFile(f, int64(len(text)))
	require.NotNil(t, m)
	defer m.unmap()
	require.NoError(t, iotest.TestReader(io.NewSectionReader(m, 0, int64(len(text))), text))
	for _, at := range []int64{-1, int64(len(text)) + 1} {
		_, err := m.ReadAt(make([]byte, 1), at)
		require.Equal(t, io.EOF, err)
	}
}
