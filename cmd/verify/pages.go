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
	"sync/atomic"
)

//go:embed pages.js
var pageChecks string

// A pageScreen is a way in which every page is looked at.
type pageScreen struct {
	name string
	screen
	checks []string // functions of pages.js
	axe    string   // of axe-core: "" for none, allRules, or the rules that colours matter to
}

var screens = []pageScreen{
	{"on a phone", screen{width: 360, height: 740}, []string{"sideways", "smallText", "hiddenRounds", "pictures", "smallTargets"}, allRules},
	{"on a phone in the dark", screen{width: 360, height: 740, dark: true}, []string{"sideways"}, `"color-contrast", "link-in-text-block"`},
	{"on a small phone", screen{width: 320, height: 568}, []string{"sideways"}, ""},
	{"on a tablet", screen{width: 768, height: 1024}, []string{"sideways", "hiddenRounds"}, ""},
	{"on a desk", screen{width: 1280, height: 900}, []string{"sideways", "smallText", "hiddenRounds", "pictures"}, ""},
	{"with scripts off", screen{width: 360, height: 740, noScripts: true}, []string{"sideways", "smallText", "hiddenRounds", "pictures"}, ""},
	{"on paper", screen{width: 718, height: 1046, print: true}, []string{"sideways", "hiddenRounds"}, ""},
}

// allRules asks axe-core for all the rules that it has by default.
const allRules = "all"

// checkPages opens every page of the site from disk in Chromium.
func checkPages(s *session, t *tally) error {
	if s.site == "" {
		return errNotBuilt
	}
	axe, err := os.ReadFile(s.tools["axe"])
	if err != nil {
		return err
	}
	var names []string
	err = eachSiteFile(s.site, ".html", func(name string, _ []byte) error {
		names = append(names, name)
		return nil
	})
	if err != nil {
		return err
	}
	var rounds atomic.Int64
	err = share(s, t, names, func(tab *tab, name string, t *tally) error {
		n, err := tab.checkPage(filepath.Join(s.site, filepath.FromSlash(name)), name, string(axe), t)
		rounds.Add(int64(n))
		return err
	})
	if err == nil && rounds.Load() == 0 {
		err = errors.New("no page has a round that the checks could find")
	}
	return err
}

// checkPage looks at one page on every screen, and returns how many rounds it
// was found to have. The page is loaded once with scripts, and once without.
func (t *tab) checkPage(file, name, axe string, sum *tally) (rounds int, err error) {
	for _, scripts := range []bool{true, false} {
		load := name
		if !scripts {
			load += " with scripts off"
		}
		if err := t.load(file, screen{width: 360, height: 740, noScripts: !scripts}); err != nil {
			return 0, fmt.Errorf("%s: %w", load, err)
		}
		if err := t.eval(pageChecks, nil); err != nil {
			return 0, err
		}
		if err := t.eval("verify.count()", &rounds); err != nil {
			return 0, err
		}
		if scripts {
			if err := t.eval(axe+";true", nil); err != nil {
				return 0, err
			}
		}
		for _, sc := range screens {
			if sc.noScripts == scripts {
				continue
			}
			if err := t.look(name+" "+sc.name, sc, sum); err != nil {
				return 0, fmt.Errorf("%s %s: %w", name, sc.name, err)
			}
		}
		sum.check(load+": quiet console", complain(t.noise))
		sum.check(load+": no network", complain(slices.DeleteFunc(t.requests, onDisk)))
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
	if sc.axe != "" {
		complaints, err := t.axe(sc.axe)
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

// axe runs rules of axe-core, which is on the page, and returns what they find
// wrong.
func (t *tab) axe(rules string) ([]string, error) {
	only := ""
	if rules != allRules {
		only = ", runOnly: [" + rules + "]"
	}
	var found string
	err := t.eval(`axe.run({resultTypes: ["violations"], preload: false`+only+`}).then(r => JSON.stringify({
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
