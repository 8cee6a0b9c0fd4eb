//go:build unix

package frame

import (
	"net"
	"os"
	"path/filepath"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestWhatIsNoFileIsRefusedAtOnce(t *testing.T) {
	folder := t.TempDir()
	socket := filepath.Join(folder, "socket")
	listener, err := net.Listen("unix", socket)
	require.NoError(t, err)
	defer listener.Close()
	pipe := filepath.Join(folder, "pipe")
	require.NoError(t, syscall.Mkfifo(pipe, 0o600))
	for name, kind := range map[string]string{folder: "a folder", pipe: "a pipe", socket: "a socket", os.DevNull: "a device", "/dev/zero": "a device"} {
		start := time.Now()
		_, _, err := newApp(Env{}).ReadInput(name)
		require.EqualError(t, err, name+" is "+kind+", not a file")
		assert.Less(t, time.Since(start), time.Second)
		p := Describe(err)
		assert.Equal(t, ExitInput, p.Exit)
		assert.NotEmpty(t, p.Hints)
	}
}
