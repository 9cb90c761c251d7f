package main

import (
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// testBrowser starts Chromium, or skips the test where there is none: go test
// needs nothing but Go. Verify installs one before it runs the tests.
func testBrowser(t *testing.T) *browser {
	t.Helper()
	for _, tool := range tools {
		if tool.name != "chromium" {
			continue
		}
		for _, c := range tool.commands {
			if program, err := exec.LookPath(c); err == nil {
				b, err := startBrowser(t.Context(), program, t.TempDir())
				if err != nil {
					t.Fatal(err)
				}
				t.Cleanup(b.close)
				return b
			}
		}
	}
	t.Skip("there is no Chromium here")
	return nil
}

// Every check of a page finds its fault.
func TestFaultyPage(t *testing.T) {
	b := testBrowser(t)
	file, err := filepath.Abs("testdata/faulty.html")
	if err != nil {
		t.Fatal(err)
	}
	for _, test := range []struct {
		screen
		check, want string // want is a part of one complaint
	}{
		{screen{width: 360, height: 740}, "sideways", "508 px wide on a screen of 360"},
		{screen{width: 360, height: 740}, "smallText", "12 px: li.round"},
		{screen{width: 360, height: 740}, "hiddenRounds", "Rnd 3"},
		{screen{width: 360, height: 740}, "pictures", "not loaded"},
		{screen{width: 360, height: 740}, "pictures", "no alt"},
		{screen{width: 360, height: 740}, "smallTargets", "10 by 10 px: button"},
		{screen{width: 360, height: 740, noScripts: true}, "hiddenRounds", "Rnd 2"},
		{screen{width: 718, height: 1046, print: true}, "hiddenRounds", "Rnd 4"},
	} {
		tab, err := b.open(file, test.screen)
		if err != nil {
			t.Fatal(err)
		}
		var complaints []string
		if err := tab.eval(pageChecks+"verify."+test.check+"()", &complaints); err != nil {
			t.Fatal(err)
		}
		if !slices.ContainsFunc(complaints, func(c string) bool { return strings.Contains(c, test.want) }) {
			t.Errorf("%s says %q, want a complaint with %q", test.check, complaints, test.want)
		}
		if heard := strings.Join(tab.noise, "\n"); !test.noScripts && !strings.Contains(heard, "a slip") {
			t.Errorf("console: %q, want the slip", heard)
		}
		if !test.noScripts && !slices.Contains(tab.requests, "https://harbour.example/") {
			t.Errorf("requests: %q, want the one to the network", tab.requests)
		}
		if err := tab.close(); err != nil {
			t.Fatal(err)
		}
	}
}

// Every check of a chart finds its fault, and no other.
func TestFaultyChart(t *testing.T) {
	b := testBrowser(t)
	file, err := filepath.Abs("testdata/faulty.svg")
	if err != nil {
		t.Fatal(err)
	}
	tab, err := b.open(file, screen{width: 1280, height: 900})
	if err != nil {
		t.Fatal(err)
	}
	if err := tab.eval(chartChecks, nil); err != nil {
		t.Fatal(err)
	}
	for _, test := range []struct {
		check string
		want  []string // starts of the complaints
	}{
		{"overlaps", []string{"#st-sc (2 of round 1) and #st-sc (3 of round 1), by ", "#st-sc (1 of round 1) and #mark-inc (6 of round 1), by "}},
		{"outside", []string{"#st-sc (4 of round 1)", `text "twenty-four"`}},
		{"unseen", []string{"#st-dc (5 of round 1)"}},
		{"words", []string{"twelve and eighteen"}},
	} {
		var complaints []string
		if err := tab.eval("verify."+test.check+"()", &complaints); err != nil {
			t.Fatal(err)
		}
		if !slices.EqualFunc(complaints, test.want, strings.HasPrefix) {
			t.Errorf("%s says %q, want %q", test.check, complaints, test.want)
		}
	}
	var rounds []shownRound
	if err := tab.eval("verify.rounds()", &rounds); err != nil {
		t.Fatal(err)
	}
	if len(rounds) != 1 || rounds[0].Count != 4 || len(rounds[0].Stitches) != 5 || rounds[0].Stitches[4].Kind != "dc" || rounds[0].Stitches[4].X != 20 {
		t.Errorf("the rounds were read as %+v", rounds)
	}
}
