package cmd

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// driven opens the page in a browser of that size.
func driven(t *testing.T, s *served, width, height int, flags ...chromedp.ExecAllocatorOption) context.Context {
	path, err := exec.LookPath("chromium")
	if err != nil {
		t.Skip("no chromium here")
	}
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.WindowSize(width, height))
	all, endAll := chromedp.NewExecAllocator(context.Background(), append(options, flags...)...)
	ctx, end := chromedp.NewContext(all)
	t.Cleanup(func() { end(); endAll() })
	require.NoError(t, chromedp.Do(ctx, chromedp.EmulateViewport(int64(width), int64(height)), chromedp.Navigate(s.host+"/?key="+s.key)))
	tap(t, ctx, "form button")
	require.NoError(t, chromedp.Do(ctx, chromedp.WaitVisible("main[data-seen]")))
	ctx, cancel := context.WithTimeout(ctx, 3*time.Minute)
	t.Cleanup(cancel)
	return ctx
}

// TestPageLooks keeps captures where STRANDWISE_CAPTURES names a folder.
func TestPageLooks(t *testing.T) {
	folder := os.Getenv("STRANDWISE_CAPTURES")
	if folder == "" {
		t.Skip("captures are for the eye")
	}
	w := hatOn(t)
	require.Zero(t, w.run("knit", "--to", "9").code)
	for _, by := range []string{"row", "repeat"} {
		s := servedOn(t, w, "--by", by)
		for i, dark := range []bool{false, true} {
			for j, size := range [][2]int{{360, 640}, {768, 1024}, {1280, 800}} {
				if i+j > 0 {
					fmt.Fprintln(s.typed)
					_, s.key = s.told()
				}
				ctx := driven(t, s, size[0], size[1])
				scheme := "light"
				if dark {
					scheme = "dark"
				}
				for _, what := range []string{"row", "catch"} {
					require.NoError(t, chromedp.Do(ctx, emulated(scheme), chromedp.Sleep(300*time.Millisecond)))
					png, err := chromedp.Run(ctx, chromedp.CaptureScreenshot())
					require.NoError(t, err)
					require.NoError(t, os.WriteFile(filepath.Join(folder, fmt.Sprintf("%s-%s-%d-%s.png", by, what, size[0], scheme)), png, 0o600))
					if what == "row" {
						tap(t, ctx, `button[value="c"]`)
						require.NoError(t, chromedp.Do(ctx, chromedp.WaitVisible(".choices")))
					}
				}
				tap(t, ctx, `button[value="Enter"]`)
				require.NoError(t, chromedp.Do(ctx, chromedp.WaitNotPresent(".choices")))
			}
		}
	}
}

// emulated asks for the light or the dark page.
func emulated(scheme string) chromedp.Action[chromedp.Void] {
	return chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
		features := []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}
		_, err := cdp.Call(ctx, target, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: features})
		return err
	})
}

// tap clicks a button that can be seen and that nothing covers.
func tap(t *testing.T, ctx context.Context, button string) {
	t.Helper()
	const click = `(() => {
		const b = document.querySelector(%q);
		if (!b) return 'none';
		b.scrollIntoView({block: 'nearest'});
		const r = b.getBoundingClientRect(), top = document.elementFromPoint(r.x + r.width / 2, r.y + r.height / 2);
		if (!b.contains(top)) return 'covered';
		b.click();
		return 'clicked';
	})()`
	require.NoError(t, chromedp.Do(ctx, chromedp.WaitReady(button)))
	done, err := chromedp.Run(ctx, chromedp.Evaluate[string](fmt.Sprintf(click, button)))
	require.NoError(t, err)
	require.Equal(t, "clicked", done, button)
}
