package frame

import "runtime/debug"

// release is the released version, set when a release is built.
var release string

// version is the released version, else what the build tells of its source.
func version() string {
	if release != "" {
		return release
	}
	if info, ok := debug.ReadBuildInfo(); ok && info.Main.Version != "" && info.Main.Version != "(devel)" {
		return info.Main.Version
	}
	return "development"
}
