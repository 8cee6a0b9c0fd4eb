package cmd

import (
	"bufio"
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// writeOutput writes a whole file or none: into a new file beside it that takes
// its name at the end. "-" is standard output. An existing file is kept unless
// force is set, and then hands its permissions on.
func (a *app) writeOutput(ctx context.Context, name string, force bool, write func(io.Writer) error) error {
	if name == fromStdin {
		return write(a.out)
	}
	target, mode, err := outputTarget(name, force)
	if err != nil {
		return err
	}
	draft := filepath.Join(filepath.Dir(target), "."+filepath.Base(target)+"."+rand.Text()[:8]+".part")
	remove := a.atEnd(func() { _ = os.Remove(draft) })
	defer remove()
	if err := writeDraft(draft, mode, write); err != nil {
		return cannotWrite(name, err)
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	return publish(draft, target, name, force)
}

// newFileMode is what a new file allows before the user's mask.
const newFileMode fs.FileMode = 0o666

// outputTarget follows links to the file that will be replaced.
func outputTarget(name string, force bool) (target string, mode fs.FileMode, err error) {
	info, err := os.Stat(name)
	if errors.Is(err, fs.ErrNotExist) {
		return name, newFileMode, nil
	}
	if err != nil {
		return "", 0, cannotWrite(name, err)
	}
	if !info.Mode().IsRegular() {
		return "", 0, unusable("%s is there and is no regular file", name).hint("another name, or - for standard output")
	}
	if !force {
		return "", 0, exists(name)
	}
	target, err = filepath.EvalSymlinks(name)
	if err != nil {
		return "", 0, cannotWrite(name, err)
	}
	return target, info.Mode().Perm(), nil
}

func exists(name string) error {
	return refused("%s is there already and was kept", name).hint("another name, or --force to replace it")
}

func writeDraft(draft string, mode fs.FileMode, write func(io.Writer) error) error {
	f, err := os.OpenFile(draft, os.O_WRONLY|os.O_CREATE|os.O_EXCL, mode)
	if err != nil {
		return err
	}
	buffered := bufio.NewWriter(f)
	err = write(buffered)
	if err == nil {
		err = buffered.Flush()
	}
	if err == nil {
		err = f.Sync()
	}
	return errors.Join(err, f.Close())
}

// publish gives the draft its name. Without force a file that has appeared in the
// meantime is kept: a link, unlike a rename, does not replace. Where the file
// system knows no links, a last look must do.
func publish(draft, target, name string, force bool) error {
	if force {
		return asWriteFault(name, os.Rename(draft, target))
	}
	err := os.Link(draft, target)
	if err == nil {
		return nil
	}
	if _, missing := os.Lstat(target); missing == nil {
		return exists(name)
	}
	return asWriteFault(name, os.Rename(draft, target))
}

func asWriteFault(name string, err error) error {
	if err == nil {
		return nil
	}
	return cannotWrite(name, err)
}

// cannotWrite says why a file could not be written. An error with a status of its
// own, from whoever made the contents, passes unchanged.
func cannotWrite(name string, err error) error {
	var f *fault
	if errors.As(err, &f) {
		return err
	}
	if reason(err) == err && describe(err).exit != exitBug {
		return err
	}
	return unusable("cannot write %s: %v", name, reason(err)).because(err).
		hint("%s", fmt.Sprintf("another folder for %s, or - for standard output", filepath.Base(name)))
}
