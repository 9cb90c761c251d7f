package main

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
)

// checkPreview has Chromium look at a page of a preview while its pattern is
// edited: the page has to follow, and to show a slip at its round.
func checkPreview(s *session, t *tally) error {
	if s.site == "" {
		return errNotBuilt
	}
	axe, err := os.ReadFile(s.tools["axe"])
	if err != nil {
		return err
	}
	dir := filepath.Join(s.temp, "preview")
	if err := os.CopyFS(dir, os.DirFS(filepath.Join(s.root, book))); err != nil {
		return err
	}
	cmd := exec.CommandContext(s.ctx, s.tools["roundelay"], "preview", dir, "--port", "0")
	cmd.Cancel = func() error { return cmd.Process.Signal(os.Interrupt) }
	var told bytes.Buffer
	cmd.Stderr = &told
	stdout, err := cmd.StdoutPipe()
	if err != nil {
		return err
	}
	if err := cmd.Start(); err != nil {
		return err
	}
	err = followEdits(s, t, dir, bufio.NewReader(stdout), string(axe))
	ended := errors.Join(cmd.Process.Signal(os.Interrupt), cmd.Wait())
	t.check("the preview ends when it is interrupted", ended)
	if err != nil {
		return fmt.Errorf("%w\n%s", err, tail(told.String(), 20))
	}
	return nil
}

var countOfRound3 = regexp.MustCompile(`(?m)^(Rnd 3: .*)\(\d+\)$`)

// followEdits makes a slip in the first pattern of the preview and mends it.
func followEdits(s *session, t *tally, dir string, stdout *bufio.Reader, axe string) error {
	const slug, round = "mooring-buoy", 3
	line, err := stdout.ReadString('\n')
	if err != nil {
		return err
	}
	_, rest, _ := strings.Cut(line, " at ")
	address, _, ok := strings.Cut(rest, " until ")
	if !ok {
		return fmt.Errorf("the preview says no address: %q", line)
	}
	b, err := startBrowser(s.ctx, s.tools["chromium"], s.temp)
	if err != nil {
		return err
	}
	defer b.close()
	tab, err := b.newTab()
	if err != nil {
		return err
	}
	if err := tab.visit(address+slug+"/", screen{width: 360, height: 740}); err != nil {
		return err
	}
	file := filepath.Join(dir, slug, "pattern.toml")
	text, err := os.ReadFile(file)
	if err != nil {
		return err
	}
	slip := countOfRound3.ReplaceAll(text, []byte("${1}(999)"))
	if bytes.Equal(slip, text) {
		return fmt.Errorf("%s has no round 3 with a count", file)
	}
	for _, edit := range []struct {
		what string
		text []byte
		want bool // a finding at the round
	}{
		{"a slip", slip, true},
		{"the slip mended", text, false},
	} {
		tab.loaded = false
		if err := os.WriteFile(file, edit.text, 0o644); err != nil {
			return err
		}
		if err := tab.awaitLoad(); err != nil {
			return fmt.Errorf("%s: the page does not follow: %w", edit.what, err)
		}
		if err := tab.eval(pageChecks+axe+";true", nil); err != nil {
			return err
		}
		var shown []string
		if err := tab.eval(fmt.Sprintf(`[...document.querySelectorAll("#r%d .finding")].filter(el => el.checkVisibility()).map(el => el.textContent)`, round), &shown); err != nil {
			return err
		}
		var wrong error
		if found := len(shown) == 1 && strings.Contains(shown[0], file); found != edit.want || !edit.want && len(shown) > 0 {
			wrong = fmt.Errorf("at round %d stands %q", round, shown)
		}
		t.check(edit.what+" is followed", wrong)
		if err := tab.look(edit.what, pageScreen{name: "on a phone", screen: screen{width: 360, height: 740}, checks: []string{"sideways", "hiddenRounds", "pictures"}, axe: allRules}, t); err != nil {
			return err
		}
	}
	t.check("quiet console", complain(tab.noise))
	t.check("nothing from elsewhere", complain(slices.DeleteFunc(tab.requests, func(a string) bool { return strings.HasPrefix(a, address) || strings.HasPrefix(a, "data:") })))
	return nil
}
