package frame

import (
	"bytes"
	"cmp"
	"crypto/rand"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"

	"strandwise/chart"
	"strandwise/session"
	"strandwise/store"
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

// WriteOutput writes a whole file or none: into a new file beside it that takes its name at the
// end. "-" is standard output. An existing file is kept unless force is set, and then hands its
// permissions on. All files that the knitter names are written here.
func (a *App) WriteOutput(name string, force bool, write func(io.Writer) error) error {
	return a.writeFile(name, force, 0, write)
}

// WritePrivate is WriteOutput of what the knitter logged: for its owner only.
func (a *App) WritePrivate(name string, force bool, write func(io.Writer) error) error {
	return a.writeFile(name, force, 0o600, write)
}

func (a *App) writeFile(name string, force bool, only fs.FileMode, write func(io.Writer) error) error {
	target, mode, err := a.outputTarget(name, force)
	switch {
	case err != nil:
		return err
	case name == FromStdin:
		return write(a.Out.AsIs(true))
	}
	var contents bytes.Buffer
	if err := write(&contents); err != nil {
		return err
	}
	if err := a.ctx.Err(); err != nil {
		return err
	}
	folder, begin := filepath.Dir(target), "."+filepath.Base(target)+"."
	store.Sweep(folder, 0, begin, `[A-Z2-7]{8}`, draftTail)
	draft := filepath.Join(folder, begin+rand.Text()[:8]+draftTail)
	defer a.AtEnd(func() { _ = os.Remove(draft) })()
	put := store.AddName
	if force {
		put = os.Rename
	}
	if err = writeSynced(draft, contents.Bytes(), cmp.Or(only, mode)); err == nil {
		err = put(draft, target)
	}
	if errors.Is(err, fs.ErrExist) { // it has appeared in the meantime
		return exists(name)
	}
	return cannotWrite(name, err)
}

func writeSynced(name string, contents []byte, mode fs.FileMode) error {
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, mode)
	if err != nil {
		return err
	}
	_, err = f.Write(contents)
	return errors.Join(err, f.Sync(), f.Close())
}

// CheckOutput refuses what could not be written, before any work is done for it.
func (a *App) CheckOutput(name string, force bool) error {
	_, _, err := a.outputTarget(name, force)
	return err
}

// draftTail ends the name of a file that is being written.
const draftTail = ".part"

// TempFolder makes a folder for what is thrown away at the end of the run, or when remove is called.
func (a *App) TempFolder(what string) (folder string, remove func(), err error) {
	begin := "strandwise-" + what + "-"
	store.Sweep(os.TempDir(), fs.ModeDir, begin, `\d+`, "")
	if folder, err = os.MkdirTemp("", begin); err != nil {
		return "", nil, Unusable("no folder for temporary files: %v", Reason(err)).Because(err).Hint("set TMPDIR to a folder that can be written to")
	}
	return folder, a.AtEnd(func() { _ = os.RemoveAll(folder) }), nil
}

const newFileMode fs.FileMode = 0o666 // before the user's mask

// outputTarget follows links to the file that will be replaced, and refuses what could not be written.
func (a *App) outputTarget(name string, force bool) (target string, mode fs.FileMode, err error) {
	switch {
	case name == "":
		return "", 0, Usage("-o takes the name of a file, not %q", name).Hint("-o FILE")
	case name == FromStdin && a.Flags.JSON:
		return "", 0, Usage("the file and the answer of --json both want standard output").Hint("the name of a file in the place of -")
	case name == FromStdin:
		return "", 0, nil
	case a.keepsPieces(name):
		return "", 0, Unusable("%s is the store, or one of its backups, and was kept", name).
			Hint("another name").Hint("strandwise store restore, which alone puts another file in the place of the store")
	}
	info, err := os.Stat(name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		_, err = os.Stat(filepath.Dir(name))
		return name, newFileMode, cannotWrite(name, err)
	case err != nil:
		return "", 0, cannotWrite(name, err)
	case !info.Mode().IsRegular():
		return "", 0, Unusable("%s is there and is no regular file", name).Hint("another name, or - for standard output")
	case !force:
		return "", 0, exists(name)
	}
	target, err = filepath.EvalSymlinks(name)
	return target, info.Mode().Perm(), cannotWrite(name, err)
}

// keepsPieces reports whether a path leads to the store of this run, to a backup of it or to
// a former store put aside, whatever links are on the way.
func (a *App) keepsPieces(name string) bool {
	s, err := a.StoreWith(store.Options{})
	if err != nil {
		return false
	}
	aside, _ := filepath.Glob(quoteGlob(s.Path()) + ".aside-*")
	backups, _ := filepath.Glob(filepath.Join(quoteGlob(s.BackupFolder()), "*"))
	at, _ := os.Stat(name)
	path, _ := filepath.Abs(name) // there need be nothing yet
	return slices.ContainsFunc(slices.Concat(aside, backups, []string{s.Path()}), func(kept string) bool {
		there, _ := os.Stat(kept)
		other, _ := filepath.Abs(kept)
		return path != "" && path == other || os.SameFile(at, there)
	})
}

// quoteGlob takes the meaning off the characters of a path that a pattern would give them.
func quoteGlob(path string) string {
	return strings.NewReplacer(`*`, `[*]`, `?`, `[?]`, `[`, `[[]`).Replace(path)
}

func exists(name string) error {
	return Refused("%s is there already and was kept", name).Hint("another name, or --force to replace it")
}

// cannotWrite says why a file could not be written, nil where nothing went wrong.
func cannotWrite(name string, err error) error {
	if err == nil {
		return nil
	}
	return Unusable("cannot write %s: %v", name, Reason(err)).Because(err).
		Hint("another folder for %s, or - for standard output", filepath.Base(name))
}
