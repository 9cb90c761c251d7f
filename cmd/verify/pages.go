package main

import (
	"bytes"
	_ "embed"
	"encoding/json"
	"errors"
	"fmt"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

//go:embed pages.js
var pageChecks string

// A pageScreen is a way in which every page is looked at.
type pageScreen struct {
	name string
	screen
	checks []string // functions of pages.js
	axe    bool
}

var screens = []pageScreen{
	{"on a phone", screen{width: 360, height: 740}, []string{"sideways", "smallText", "hiddenRounds", "pictures", "smallTargets"}, true},
	{"on a phone in the dark", screen{width: 360, height: 740, dark: true}, []string{"sideways"}, true},
	{"on a small phone", screen{width: 320, height: 568}, []string{"sideways"}, false},
	{"on a tablet", screen{width: 768, height: 1024}, []string{"sideways", "hiddenRounds"}, false},
	{"on a desk", screen{width: 1280, height: 900}, []string{"sideways", "smallText", "hiddenRounds", "pictures"}, false},
	{"with scripts off", screen{width: 360, height: 740, noScripts: true}, []string{"sideways", "smallText", "hiddenRounds", "pictures"}, false},
	{"on paper", screen{width: 718, height: 1046, print: true}, []string{"sideways", "hiddenRounds"}, false},
}

// checkPages opens every page of the site from disk in Chromium.
func checkPages(s *session, t *tally) error {
	if s.site == "" {
		return errNotBuilt
	}
	axe, err := os.ReadFile(s.tools["axe"])
	if err != nil {
		return err
	}
	b, err := startBrowser(s.ctx, s.tools["chromium"], s.temp)
	if err != nil {
		return err
	}
	defer b.close()
	rounds := 0
	err = eachSiteFile(s.site, ".html", func(name string, _ []byte) error {
		n, err := checkPage(b, filepath.Join(s.site, filepath.FromSlash(name)), name, string(axe), t)
		rounds += n
		return err
	})
	if err == nil && rounds == 0 {
		err = errors.New("no page has a round that the checks could find")
	}
	return err
}

// checkPage looks at one page on every screen, and returns how many rounds it
// was found to have. The page is loaded once with scripts, and once without.
func checkPage(b *browser, file, name, axe string, t *tally) (rounds int, err error) {
	for _, scripts := range []bool{true, false} {
		load := name
		if !scripts {
			load += " with scripts off"
		}
		tab, err := b.open(file, screen{width: 360, height: 740, noScripts: !scripts})
		if err != nil {
			return 0, fmt.Errorf("%s: %w", load, err)
		}
		if err := tab.eval(pageChecks, nil); err != nil {
			return 0, err
		}
		if err := tab.eval("verify.count()", &rounds); err != nil {
			return 0, err
		}
		if scripts {
			if err := tab.eval(axe+";true", nil); err != nil {
				return 0, err
			}
		}
		for _, sc := range screens {
			if sc.noScripts == scripts {
				continue
			}
			if err := tab.look(name+" "+sc.name, sc, t); err != nil {
				return 0, fmt.Errorf("%s %s: %w", name, sc.name, err)
			}
		}
		t.check(load+": quiet console", complain(tab.noise))
		t.check(load+": no network", complain(slices.DeleteFunc(tab.requests, onDisk)))
		if err := tab.close(); err != nil {
			return 0, err
		}
	}
	return rounds, nil
}

// look makes the checks of one screen.
func (t *tab) look(what string, sc pageScreen, sum *tally) error {
	if err := t.show(sc.screen); err != nil {
		return err
	}
	for _, check := range sc.checks {
		var complaints []string
		if err := t.eval("verify."+check+"()", &complaints); err != nil {
			return err
		}
		sum.check(what+": "+check, complain(complaints))
	}
	if sc.axe {
		complaints, err := t.axe()
		if err != nil {
			return fmt.Errorf("axe: %w", err)
		}
		sum.check(what+": axe", complain(complaints))
	}
	if sc.print {
		pdf, err := t.pdf()
		if err == nil && (!bytes.HasPrefix(pdf, []byte("%PDF-")) || !bytes.Contains(pdf, []byte("/Type /Page"))) {
			err = errors.New("what was printed is no PDF")
		}
		sum.check(what+": prints", err)
	}
	return nil
}

func onDisk(address string) bool {
	u, err := url.Parse(address)
	return err == nil && (u.Scheme == "file" || u.Scheme == "data")
}

func complain(complaints []string) error {
	if len(complaints) == 0 {
		return nil
	}
	return errors.New(strings.Join(complaints, "\n"))
}

// axe runs axe-core, which is on the page, and returns what it finds wrong.
func (t *tab) axe() ([]string, error) {
	var found string
	err := t.eval(`axe.run({resultTypes: ["violations"], preload: false}).then(r => JSON.stringify({
		passes: r.passes.length,
		violations: r.violations.map(v => v.id + " (" + v.impact + "): " + v.help + ": "
			+ v.nodes.slice(0, 4).map(n => n.target.join(" ") + " " + (n.any[0] || {message: ""}).message).join("; "))}))`, &found)
	if err != nil {
		return nil, err
	}
	var report struct {
		Passes     int
		Violations []string
	}
	if err := json.Unmarshal([]byte(found), &report); err != nil {
		return nil, err
	}
	if report.Passes == 0 {
		return nil, errors.New("no rule of axe-core applied")
	}
	return report.Violations, nil
}
