package frame

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"

	"strandwise/chart"
	"strandwise/session"
)

// Standard input or output as the name of a file, and what messages call it.
const (
	FromStdin  = "-"
	StdinTitle = "standard input"
)

const inputMost = 64 << 20 // the largest file that is read, in bytes

// What begins the name of a chart that is part of the program, and what is left out of it.
const (
	exampleMark   = "example:"
	exampleEnding = ".chart"
)

// IsExample reports whether a name is that of a chart in the program, not of a file.
func IsExample(name string) bool { return strings.HasPrefix(name, exampleMark) }

func (a *App) readExample(name string) ([]byte, error) {
	data, err := fs.ReadFile(a.program.Examples, strings.TrimSuffix(strings.TrimPrefix(name, exampleMark), exampleEnding)+exampleEnding)
	if err == nil {
		return data, nil
	}
	files, _ := fs.Glob(a.program.Examples, "*"+exampleEnding)
	names := make([]string, len(files))
	for i, file := range files {
		names[i] = exampleMark + strings.TrimSuffix(file, exampleEnding)
	}
	return nil, BadInput("there is no chart %s in the program", name).Because(err).HintNear(name, names, "%s", session.Listed(names, "or"))
}

// ReadInput reads a whole file, standard input for "-", or a chart of the program for
// example:NAME, and returns what to call it in messages. A folder, a pipe or a device as a file is
// refused at once, since a read from one may never end; "-" is the way to read from a pipe.
func (a *App) ReadInput(name string) (data []byte, title string, err error) {
	if err := a.ctx.Err(); err != nil {
		return nil, name, err
	}
	if name == FromStdin {
		if a.Env.InTTY {
			fmt.Fprintln(a.Err, "strandwise: waiting for standard input; end it with Ctrl-D on a line of its own")
		}
		data, err = readMost(StdinTitle, a.Env.In)
		return data, StdinTitle, err
	}
	read := ReadFile
	if IsExample(name) {
		read = a.readExample
	}
	data, err = read(name)
	return data, name, err
}

// ReadFile reads a whole regular file of at most 64 MiB. The error is a fault that names it.
func ReadFile(name string) ([]byte, error) {
	info, err := os.Stat(name)
	if err != nil {
		return nil, CannotRead(name, err)
	}
	for _, k := range fileKinds {
		if info.Mode()&k.mode != 0 {
			return nil, BadInput("%s is %s, not a file", name, k.kind).Hint("%s", k.hint)
		}
	}
	// It may have become a pipe since: do not wait for a writer.
	f, err := os.OpenFile(name, os.O_RDONLY|syscall.O_NONBLOCK, 0)
	if err != nil {
		return nil, CannotRead(name, err)
	}
	defer f.Close()
	return readMost(name, f)
}

func readMost(name string, r io.Reader) ([]byte, error) {
	data, err := io.ReadAll(io.LimitReader(r, inputMost+1))
	if err == nil && len(data) > inputMost {
		err = fmt.Errorf("it is larger than %d MiB", inputMost>>20)
	}
	if err != nil {
		return nil, CannotRead(name, err)
	}
	return data, nil
}

var fileKinds = []struct {
	mode fs.FileMode
	kind string
	hint string
}{
	{fs.ModeDir, "a folder", "name a file in it"},
	{fs.ModeNamedPipe, "a pipe", "- as the name, and send the pipe to standard input"},
	{fs.ModeSocket, "a socket", "name a file"},
	{fs.ModeDevice, "a device", "name a file, or - for standard input"},
	{fs.ModeIrregular, "no regular file", "name a file"},
}

// CannotRead says why, and for a missing file offers the nearest name in the same folder.
func CannotRead(name string, err error) error {
	f := BadInput("cannot read %s: %v", name, Reason(err)).Because(err)
	if !errors.Is(err, fs.ErrNotExist) {
		return f
	}
	return f.Hint("%s", cmp.Or(nearestFile(name), "check the name and the folder it is in"))
}

func nearestFile(name string) string {
	folder, base := filepath.Split(name)
	entries, _ := os.ReadDir(filepath.Clean(folder + "."))
	var names []string
	for _, e := range entries {
		if e.Type().IsRegular() {
			names = append(names, e.Name())
		}
	}
	if near := chart.Nearest(base, names); near != "" {
		return filepath.Join(folder, near)
	}
	return ""
}
