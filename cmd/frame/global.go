package frame

import (
	"strconv"

	"github.com/spf13/pflag"

	"strandwise/cmd/paint"
)

// Flags are the flags of every command.
type Flags struct {
	Set *pflag.FlagSet // to see which were given

	store  string
	piece  string
	color  string
	plain  bool
	JSON   bool
	quiet  bool
	Width  int
	ascii  bool
	Yes    bool
	asking bool // --help
}

func (g *Flags) add(set *pflag.FlagSet) {
	g.Set = set
	set.StringVar(&g.store, "store", "", "`PATH` of the store (default: pieces.store in the user's data folder)")
	set.StringVar(&g.piece, "piece", "", "`NAME` of the piece (default: the one chosen last, or the only one)")
	g.color = paint.Auto
	set.Var(OneOf(&g.color, paint.Auto, paint.Always, paint.Never), "color", "when to use color: `auto|always|never`")
	set.BoolVar(&g.plain, "plain", false, "plain sentences for a screen reader: no boxes, columns, redraw or color")
	set.BoolVar(&g.JSON, "json", false, "answer, and tell errors, as one JSON document")
	set.BoolVar(&g.quiet, "quiet", false, "leave out the lines on what changed and what comes next")
	set.IntVar(&g.Width, "width", 0, "fit lines to `N` columns (default: as wide as the terminal, else 80)")
	set.BoolVar(&g.ascii, "ascii", false, "use ASCII marks only")
	set.BoolVar(&g.Yes, "yes", false, "answer yes to every question")
	set.BoolVarP(&g.asking, "help", "h", false, "explain the command")
}

// flagSetting gives a setting's value when its flag was given.
func (a *App) flagSetting(name string) (string, bool) {
	f := a.Flags.Set.Lookup(name)
	if f == nil || !f.Changed {
		return "", false
	}
	switch name {
	case "ascii":
		return map[bool]string{true: "ascii", false: "auto"}[a.Flags.ascii], true
	case "plain", "quiet":
		on, _ := strconv.ParseBool(f.Value.String())
		return YesNo(on), true
	}
	return f.Value.String(), true
}
