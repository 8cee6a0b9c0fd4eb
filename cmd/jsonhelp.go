package cmd

import (
	_ "embed"
	"strings"
)

// jsonText is what the keys of each answer mean. It is written from the types of the answers
// by TestHelpJSONTellsEveryKey.
//
//go:embed json.txt
var jsonText string

// jsonHelp is what help json says, of all commands or of one: "" where it has no answer.
func jsonHelp(command string) string {
	if command == "" {
		return jsonText
	}
	_, rest, found := strings.Cut(jsonText, "\n"+command+", schema ")
	if !found {
		return ""
	}
	section, _, _ := strings.Cut(rest, "\n\n")
	return command + ", schema " + strings.TrimSuffix(section, "\n") + "\n"
}
