package frame

import (
	"path/filepath"
	"runtime"
)

// programFolder is the name of our folder inside the user's own.
const programFolder = "strandwise"

// StoreFile is the name of the store in the data folder.
const StoreFile = "pieces.store"

// defaultStore is where the store lies unless told otherwise: the data folder of
// the XDG base directory rules, on Windows the local application data. It is ""
// when the environment names no home.
func defaultStore(getenv func(string) string) string {
	folder := userFolder(getenv, "XDG_DATA_HOME", ".local/share")
	if folder == "" {
		return ""
	}
	return filepath.Join(folder, programFolder, StoreFile)
}

// stateFolder is where reports of our own faults go, or "".
func stateFolder(getenv func(string) string) string {
	folder := userFolder(getenv, "XDG_STATE_HOME", ".local/state")
	if folder == "" {
		return ""
	}
	return filepath.Join(folder, programFolder)
}

// userFolder follows the rule that a relative path in the variable is ignored.
func userFolder(getenv func(string) string, variable, below string) string {
	if folder := getenv(variable); filepath.IsAbs(folder) {
		return folder
	}
	if runtime.GOOS == "windows" {
		return getenv("LOCALAPPDATA")
	}
	if home := getenv("HOME"); home != "" {
		return filepath.Join(home, filepath.FromSlash(below))
	}
	return ""
}
