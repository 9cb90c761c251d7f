// Verify sets up what the checks of this project need, and runs every one of
// them: the code, the tests, the demo book built to a site, its pages and
// charts in a real browser.
//
//	go run ./cmd/verify            everything
//	go run ./cmd/verify -only fuzz the steps whose name holds "fuzz"
//
// It says what it installs. Nothing is left behind in the checkout.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/signal"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

// A step is one group of checks.
type step struct {
	name  string
	needs []string // names of tools
	run   func(s *session, t *tally) error
}

// steps in the order in which they run. The quick ones come first; the site
// step makes what those after it look at.
var steps = []step{
	{"format", nil, checkFormat},
	{"vet", nil, checkVet},
	{"staticcheck", nil, checkStatic},
	{"modules", nil, checkModules},
	{"tests", nil, checkTests},
	{"fuzz", nil, checkFuzz},
	{"site", nil, buildSite},
	{"html", []string{"java", "vnu"}, checkHTML},
	{"xml", nil, checkXML},
	{"links", nil, checkLinks},
	{"pages", []string{"chromium", "axe"}, checkPages},
	{"preview", []string{"chromium", "axe"}, checkPreview},
	{"charts", []string{"chromium", "rsvg-convert", "node", "resvg"}, checkCharts},
}

// A session is what the steps share.
type session struct {
	ctx   context.Context
	out   io.Writer
	root  string            // the checkout
	temp  string            // a folder that is removed at the end
	cache string            // a folder that is kept from run to run, outside the checkout
	tools map[string]string // name of a tool -> its file
	site  string            // the demo book as built; "" until it is
}

// A tally counts the checks of a step.
type tally struct {
	passed int
	failed []string
}

// check counts one check: it failed if err is not nil.
func (t *tally) check(what string, err error) {
	if err == nil {
		t.passed++
		return
	}
	t.failed = append(t.failed, clip(fmt.Sprintf("%s: %v", what, err)))
}

// clip takes out lines that were there already, and the middle of what is long
// then: a mistake shows at the start of a report, or at its end.
func clip(text string) string {
	const ends = 10 // lines
	var lines []string
	for line := range strings.Lines(text) {
		if !slices.Contains(lines, line) {
			lines = append(lines, line)
		}
	}
	if n := len(lines) - 2*ends; n > 1 {
		lines = slices.Concat(lines[:ends], []string{fmt.Sprintf("(%d lines more)\n", n)}, lines[len(lines)-ends:])
	}
	return strings.Join(lines, "")
}

func main() {
	only := flag.String("only", "", "run only the steps whose name holds `word`, and those they build on")
	flag.Parse()
	if flag.NArg() > 0 {
		fmt.Fprintln(os.Stderr, "verify takes no file names; see go run ./cmd/verify -h")
		os.Exit(2)
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	ok, err := verify(ctx, os.Stdout, *only)
	if err != nil {
		fmt.Fprintln(os.Stderr, "verify:", err)
		os.Exit(2)
	}
	if !ok {
		os.Exit(1)
	}
}

// verify runs the steps and reports whether every check passed.
func verify(ctx context.Context, out io.Writer, only string) (ok bool, err error) {
	s := &session{ctx: ctx, out: out, tools: map[string]string{}}
	if s.root, err = checkout(); err != nil {
		return false, err
	}
	if s.temp, err = os.MkdirTemp("", "roundelay-verify-"); err != nil {
		return false, err
	}
	defer func() { err = errors.Join(err, os.RemoveAll(s.temp)) }()
	base, err := os.UserCacheDir()
	if err != nil {
		return false, err
	}
	s.cache = filepath.Join(base, "roundelay-verify")
	before, err := snapshot(s.root)
	if err != nil {
		return false, err
	}

	chosen := choose(only)
	if len(chosen) == 0 {
		return false, fmt.Errorf("no step is named like %q", only)
	}
	start := time.Now()
	passed, failed := 0, 0
	count := func(name string, t tally, took time.Duration) {
		if t.passed+len(t.failed) == 0 {
			t.check(name, errors.New("nothing was checked"))
		}
		passed += t.passed
		failed += len(t.failed)
		fmt.Fprintf(out, "%-12s %4d passed %3d failed %6.1f s\n", name, t.passed, len(t.failed), took.Seconds())
		for _, f := range t.failed {
			fmt.Fprintf(out, "    FAIL %s\n", strings.ReplaceAll(strings.TrimRight(f, "\n"), "\n", "\n         "))
		}
	}

	missing := s.install(chosen)
	for _, st := range chosen {
		if ctx.Err() != nil {
			return false, ctx.Err()
		}
		var t tally
		began := time.Now()
		if lacks := lacking(st, missing); lacks != "" {
			t.check(st.name, fmt.Errorf("not run, for want of %s", lacks))
		} else if err := st.run(s, &t); err != nil {
			t.check(st.name, err)
		}
		count(st.name, t, time.Since(began))
	}
	var t tally
	t.check("the checkout is as it was before", unchanged(s.root, before))
	count("checkout", t, 0)

	fmt.Fprintf(out, "\n%d passed, %d failed in %.0f s\n", passed, failed, time.Since(start).Seconds())
	return failed == 0, nil
}

// choose returns the steps whose name holds the word, and the site step if one
// of them looks at the site.
func choose(word string) []step {
	var chosen []step
	wanted := func(st step) bool { return strings.Contains(st.name, word) }
	looksAtSite := false
	for i := len(steps) - 1; i >= 0; i-- {
		st := steps[i]
		if wanted(st) || st.name == "site" && looksAtSite {
			chosen = append([]step{st}, chosen...)
			looksAtSite = looksAtSite || siteSteps[st.name]
		}
	}
	return chosen
}

// siteSteps are the steps that look at the built site.
var siteSteps = map[string]bool{"html": true, "xml": true, "links": true, "pages": true, "preview": true}

func lacking(st step, missing []string) string {
	var lacks []string
	for _, need := range st.needs {
		for _, m := range missing {
			if need == m {
				lacks = append(lacks, m)
			}
		}
	}
	return strings.Join(lacks, ", ")
}
