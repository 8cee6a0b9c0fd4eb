package cmd

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"net"
	"strconv"
	"strings"
	"time"

	"rsc.io/qr"

	"strandwise/chart"
	"strandwise/cmd/answer"
	"strandwise/cmd/document"
	"strandwise/cmd/follow"
	"strandwise/cmd/frame"
	"strandwise/cmd/page"
	"strandwise/cmd/paper"
	"strandwise/cmd/stored"
)

// State and Press, with Reload, make a follower the sitting of a page.

// State is what the page shows.
func (f *follower) State() follow.State { return f.s }

// Press carries out a press; what it logs carries its number.
func (f *follower) Press(press string, take page.Move) error {
	f.pressed = press
	defer func() { f.pressed = "" }()
	return f.answer(take(f.s, f.a.Env.Now()))
}

// followPage serves a piece to browsers until the run is ended.
func followPage(a *frame.App, o *followOptions, options follow.Options, piece string) error {
	store, err := stored.Store(a)
	if err != nil {
		return err
	}
	a.KeepsPlace.Store(true)
	ctx := a.Context() // before presses work on it
	kept := store.Path() + ".page"
	listeners, err := o.listen(page.KeptPort(kept, a.Env.Now()))
	if err != nil {
		return err
	}
	hosts := listOf(listeners, func(l net.Listener) string { return l.Addr().String() })
	_, port, _ := net.SplitHostPort(hosts[0])
	server, err := page.New(page.Options{
		Sit: func() (page.Seat, error) {
			p, err := stored.Take(a)
			if err != nil {
				return nil, err
			}
			return newFollower(a, p, options), nil
		},
		Review: func() (review document.Document, _ paper.Paper, err error) {
			p, err := stored.TakeWhole(a)
			if err == nil {
				review = answer.NewReview(p.Piece, p.Review(p.First), inches(a)).Page()
			}
			return review, paperNamed("", inches(a)), err
		},
		Now: a.Env.Now, Hosts: append([]string{"localhost:" + port}, hosts...), Kept: kept, Piece: piece,
	})
	if err != nil {
		return err
	}
	web := server.HTTP()
	defer web.Close()
	failed := make(chan error, len(listeners))
	for _, l := range listeners {
		go func() { failed <- web.Serve(l) }()
	}
	o.tellAddress(a, hosts, server.NewKey())
	go func() { // each line of the input asks for another key
		for in := bufio.NewScanner(a.Env.In); in.Scan(); {
			o.tellAddress(a, hosts, server.NewKey())
		}
	}()
	err = watchPage(ctx, server, store.Path(), failed)
	return errors.Join(server.End(a.Uninterrupted), err)
}

// listen listens on this computer alone, or on its private addresses too; on the port asked for, that of
// pages that are still open, or any.
func (o *followOptions) listen(kept string) ([]net.Listener, error) {
	port := kept
	if o.port > 0 {
		port = strconv.Itoa(o.port)
	}
	first, err := net.Listen("tcp", net.JoinHostPort("127.0.0.1", port))
	if err != nil && o.port == 0 {
		first, err = net.Listen("tcp", "127.0.0.1:0")
	}
	if err != nil {
		return nil, frame.Unusable("no page can be served at port %s: %v", port, frame.Reason(err)).Hint("strandwise follow --page, at any free port")
	}
	listeners := []net.Listener{first}
	if !o.home {
		return listeners, nil
	}
	_, port, _ = net.SplitHostPort(first.Addr().String())
	for _, host := range privateAddresses() {
		l, err := net.Listen("tcp", net.JoinHostPort(host, port))
		if err != nil {
			return nil, frame.Unusable("the home network cannot be served: %v", frame.Reason(err)).Hint("strandwise follow --page, for this computer alone")
		}
		listeners = append(listeners, l)
	}
	if len(listeners) == 1 {
		return nil, frame.Unusable("this computer has no address on a home network").Hint("strandwise follow --page, for this computer alone")
	}
	return listeners, nil
}

// privateAddresses are this computer's addresses on networks of a home (RFC 1918), but for those that lead to
// one other machine only.
func privateAddresses() []string {
	var hosts []string
	all, _ := net.Interfaces() // none where they cannot be read
	for _, i := range all {
		addresses, _ := i.Addrs()
		for _, a := range addresses {
			n, is := a.(*net.IPNet)
			if is && n.IP.To4() != nil && n.IP.IsPrivate() && i.Flags&net.FlagUp != 0 && i.Flags&net.FlagPointToPoint == 0 {
				hosts = append(hosts, n.IP.String())
			}
		}
	}
	return hosts
}

// tellAddress prints where the page is, with a key for one device, and what is to be known of it.
func (o *followOptions) tellAddress(a *frame.App, hosts []string, key string) {
	address := func(host string) string { return fmt.Sprintf("http://%s/?key=%s", host, key) }
	if o.home {
		hosts = hosts[1:]
	}
	fmt.Fprintf(a.Out, "the page for one device: %s\n", address(hosts[0]))
	for _, other := range hosts[1:] { // which network the device is on is not known here
		fmt.Fprintf(a.Out, "or, on another network: %s\n", address(other))
	}
	if o.home {
		fmt.Fprint(a.Out, square(address(hosts[0]), a.Display()),
			"The page travels unencrypted: whoever listens on this network can read it, and press in your stead.\n"+
				"Browsers keep the screen awake on secure pages only: set the device to stay on.\n")
	}
	fmt.Fprintln(a.Out, "enter prints another key; control and C ends it")
	_ = a.Out.Flush()
}

// halves draw two places above each other, where the upper and where the lower one is drawn.
var halves = map[[2]bool]string{{true, true}: "█", {true, false}: "▀", {false, true}: "▄", {}: " "}

// square is a text as a QR code with the quiet zone of its standard (ISO/IEC 18004: four places), or what there is
// room for. Where there are colors it is black on white. Elsewhere its light places are drawn, since most
// terminals are dark and not every reader takes a code that is inverted.
func square(text string, look document.Look) string {
	code, err := qr.Encode(text, qr.L)
	columns, rows := 1, 2 // of a place, and places in a line
	if look.Marks.Block == "#" {
		columns, rows = 2, 1
	}
	white := chart.Color{R: 255, G: 255, B: 255}
	colored := look.Paint.Yarn(" ", white) != " "
	if err != nil || code.Size*columns > look.Width {
		return ""
	}
	var b strings.Builder
	quiet := min(4, (look.Width/columns-code.Size)/2)
	for y := -quiet; y < code.Size+quiet; y += rows {
		line := ""
		for x := -quiet; x < code.Size+quiet; x++ {
			drawn := code.Black(x, y) == colored
			switch {
			case columns == 1:
				line += halves[[2]bool{drawn, code.Black(x, y+1) == colored}]
			case colored && drawn:
				line += look.Paint.Yarn("  ", chart.Color{})
			case colored:
				line += look.Paint.Yarn("  ", white)
			case drawn:
				line += "##"
			default:
				line += "  "
			}
		}
		if columns == 1 {
			line = look.Paint.Yarn(line, white) // black on it, where there are colors
		}
		b.WriteString(line + "\n")
	}
	return b.String()
}

// watchPage shows what is logged elsewhere until the run ends, or nothing can be served any more.
func watchPage(ctx context.Context, server *page.Server, store string, failed <-chan error) error {
	changed := newWatched(store)
	for {
		select {
		case <-ctx.Done():
			return frame.ErrInterrupted
		case err := <-failed:
			return frame.Unusable("the page cannot be served any more: %v", frame.Reason(err))
		case <-time.After(looking):
			server.Tick()
			if changed() {
				_ = server.Refresh() // what cannot be read, the next press tells
			}
		}
	}
}
