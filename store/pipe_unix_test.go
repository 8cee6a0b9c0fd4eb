//go:build unix

package store_test

import (
	"net"
	"os"
	"path/filepath"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/store"
)

func TestWhatIsNotAFile(t *testing.T) {
	folder, err := os.MkdirTemp("", "quay") // a socket's path must be short
	require.NoError(t, err)
	t.Cleanup(func() { os.RemoveAll(folder) })
	socket := filepath.Join(folder, "socket")
	l, err := net.Listen("unix", socket)
	require.NoError(t, err)
	defer l.Close()
	pipe := filepath.Join(folder, "pipe")
	require.NoError(t, syscall.Mkfifo(pipe, 0o600))
	for path, kind := range map[string]string{folder: "a folder", pipe: "a pipe", socket: "a socket", os.DevNull: "a device"} {
		began := time.Now()
		s := store.At(path, store.Options{Backups: filepath.Join(folder, "backups")})
		requireRefused(t, s, store.ClassUnusable, kind)
		_, err := s.Restore(ctx, path, store.RestoreOptions{})
		assert.Equal(t, store.ClassUnusable, store.ClassOf(err))
		assert.Less(t, time.Since(began), time.Second)
	}
}
