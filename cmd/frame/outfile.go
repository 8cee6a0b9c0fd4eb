package frame

import (
	"bufio"
	"cmp"
	"crypto/rand"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"strandwise/store"
)

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
	if err != nil {
		return err
	}
	if name == FromStdin {
		return write(a.Out.AsIs(true))
	}
	draft := filepath.Join(filepath.Dir(target), "."+filepath.Base(target)+"."+rand.Text()[:8]+draftTail)
	sweep(filepath.Join(quoteGlob(filepath.Dir(target)), "."+quoteGlob(filepath.Base(target))+".????????"+draftTail))
	remove := a.AtEnd(func() { _ = os.Remove(draft) })
	defer remove()
	if err := writeDraft(draft, cmp.Or(only, mode), write); err != nil {
		return CannotWrite(name, err)
	}
	if err := a.ctx.Err(); err != nil {
		return err
	}
	if force {
		return CannotWrite(name, os.Rename(draft, target))
	}
	err = store.AddName(draft, target)
	if errors.Is(err, fs.ErrExist) { // it has appeared in the meantime
		return exists(name)
	}
	return CannotWrite(name, err)
}

// CheckOutput refuses what could not be written, before any work is done for it.
func (a *App) CheckOutput(name string, force bool) error {
	_, _, err := a.outputTarget(name, force)
	return err
}

// draftTail ends the name of a file that is being written.
const draftTail = ".part"

// sweep takes away what killed runs left under names of ours, when it is older than a day.
func sweep(pattern string) {
	names, _ := filepath.Glob(pattern)
	for _, name := range names {
		if info, err := os.Lstat(name); err == nil && time.Since(info.ModTime()) > 24*time.Hour {
			_ = os.RemoveAll(name)
		}
	}
}

// TempFolder makes a folder for what is thrown away at the end of the run, or when remove is called.
func (a *App) TempFolder(what string) (folder string, remove func(), err error) {
	const name = "strandwise-"
	sweep(filepath.Join(quoteGlob(os.TempDir()), name+what+"-*"))
	if folder, err = os.MkdirTemp("", name+what+"-"); err != nil {
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
		return name, newFileMode, CannotWrite(name, err)
	case err != nil:
		return "", 0, CannotWrite(name, err)
	case !info.Mode().IsRegular():
		return "", 0, Unusable("%s is there and is no regular file", name).Hint("another name, or - for standard output")
	case !force:
		return "", 0, exists(name)
	}
	target, err = filepath.EvalSymlinks(name)
	return target, info.Mode().Perm(), CannotWrite(name, err)
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

func writeDraft(draft string, mode fs.FileMode, write func(io.Writer) error) error {
	f, err := os.OpenFile(draft, os.O_WRONLY|os.O_CREATE|os.O_EXCL, mode)
	if err != nil {
		return err
	}
	buffered := bufio.NewWriter(f)
	if err = write(buffered); err == nil {
		err = buffered.Flush()
	}
	if err == nil {
		err = f.Sync()
	}
	return errors.Join(err, f.Close())
}

// CannotWrite says why a file could not be written, nil where nothing went wrong. An error with a status of its
// own, from whoever made the contents, passes unchanged.
func CannotWrite(name string, err error) error {
	_, own := errors.AsType[*Fault](err)
	if err == nil || own || Reason(err) == err && Describe(err).Exit != ExitBug {
		return err
	}
	return Unusable("cannot write %s: %v", name, Reason(err)).Because(err).
		Hint("another folder for %s, or - for standard output", filepath.Base(name))
}
