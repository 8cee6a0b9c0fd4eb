package frame

import (
	"errors"
	"io/fs"
	"os"
)

// Reason is the system's own word for why a file operation failed, without the
// operation and the path, which our messages give in theirs.
func Reason(err error) error {
	var path *fs.PathError
	var link *os.LinkError
	switch {
	case errors.As(err, &path):
		return path.Err
	case errors.As(err, &link):
		return link.Err
	}
	return err
}
