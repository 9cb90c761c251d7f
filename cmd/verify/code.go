package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"go/format"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
)

const (
	staticcheck = "honnef.co/go/tools/cmd/staticcheck@v0.8.2"
	fuzzTime    = "3s" // for each target
)

func checkFormat(s *session, t *tally) error {
	return filepath.WalkDir(s.root, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || filepath.Ext(path) != ".go" {
			return err
		}
		src, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(s.root, path)
		if err != nil {
			return err
		}
		tidy, err := format.Source(src)
		if err == nil && !bytes.Equal(src, tidy) {
			err = errors.New("not as gofmt writes it; run: gofmt -w " + rel)
		}
		t.check(rel, err)
		return nil
	})
}

func checkVet(s *session, t *tally) error {
	t.check("go vet", run(s.goTool("vet", "./...")))
	return nil
}

func checkStatic(s *session, t *tally) error {
	t.check("staticcheck", run(s.goTool("run", staticcheck, "./...")))
	return nil
}

func checkModules(s *session, t *tally) error {
	t.check("go.mod is tidy", run(s.goTool("mod", "tidy", "-diff")))
	t.check("the modules are what go.sum says", run(s.goTool("mod", "verify")))
	return nil
}

// A testEvent is one line of what go test -json prints.
type testEvent struct {
	Action, Package, ImportPath, Test, Output string
}

// testEvents runs go test -json with the arguments. The error says that tests
// failed, or that go test could not run them; the events are whole either way.
func (s *session) testEvents(args ...string) ([]testEvent, error) {
	cmd := s.goTool(append([]string{"test", "-json"}, args...)...)
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	out, failed := cmd.Output()
	var events []testEvent
	dec := json.NewDecoder(bytes.NewReader(out))
	for dec.More() {
		var e testEvent
		if err := dec.Decode(&e); err != nil {
			return nil, fmt.Errorf("go test -json printed what is not JSON: %w\n%s", err, stderr.String())
		}
		events = append(events, e)
	}
	if exit := (*exec.ExitError)(nil); failed != nil && !errors.As(failed, &exit) {
		return nil, failed
	}
	if failed != nil {
		failed = fmt.Errorf("go test: %w\n%s", failed, tail(stderr.String(), 40))
	}
	return events, failed
}

func checkTests(s *session, t *tally) error {
	events, err := s.testEvents("-vet=off", "./...")
	if err != nil && len(events) == 0 {
		return err
	}
	countTests(events, t)
	if err != nil && len(t.failed) == 0 {
		return err
	}
	return nil
}

// countTests counts every test and subtest, and every package that failed
// otherwise: it does not build, or a test ended the process.
func countTests(events []testEvent, t *tally) {
	type key struct{ pkg, test string }
	said := map[key]*strings.Builder{}
	failed := map[string]bool{} // packages that have a failed test
	for _, e := range events {
		k := key{e.Package, e.Test}
		if e.Action == "build-output" || e.Action == "build-fail" {
			k.pkg = e.ImportPath
		}
		switch e.Action {
		case "output", "build-output":
			if said[k] == nil {
				said[k] = &strings.Builder{}
			}
			said[k].WriteString(e.Output)
		case "pass":
			if e.Test != "" {
				t.passed++
			}
		case "fail", "build-fail":
			if e.Test == "" && failed[e.Package] {
				continue // told already, test by test
			}
			failed[e.Package] = true
			text := "failed"
			if b := said[k]; b != nil {
				text = tail(b.String(), 60)
			}
			t.check(strings.TrimSpace(k.pkg+" "+k.test), errors.New(text))
		}
	}
}

// checkFuzz gives every fuzz target a few seconds. An input that fails is
// moved out of the checkout, and the report tells where it is.
func checkFuzz(s *session, t *tally) error {
	events, err := s.testEvents("-run", "^$", "-list", "^Fuzz", "./...")
	if err != nil {
		return err
	}
	for _, e := range events {
		name := strings.TrimSpace(e.Output)
		if e.Action != "output" || !strings.HasPrefix(name, "Fuzz") {
			continue
		}
		if s.ctx.Err() != nil {
			return s.ctx.Err()
		}
		dir := filepath.Join(s.root, strings.TrimPrefix(e.Package, "roundelay/"), "testdata", "fuzz", name)
		before := fileNames(dir)
		err := run(s.goTool("test", "-vet=off", "-run", "^$", "-fuzz", "^"+name+"$",
			"-fuzztime", fuzzTime, "-fuzzminimizetime", "10x", e.Package))
		if kept := s.moveNew(dir, before); len(kept) > 0 {
			err = fmt.Errorf("%w\nput this into %s to see it again: %s", err, dir, strings.Join(kept, " "))
		}
		t.check(e.Package+" "+name, err)
	}
	return nil
}

// moveNew moves the files of dir that were not there before into the cache,
// removes the folders that were made for them, and returns the files' new names.
func (s *session) moveNew(dir string, before []string) (kept []string) {
	for _, name := range fileNames(dir) {
		if slices.Contains(before, name) {
			continue
		}
		to := filepath.Join(s.cache, "fuzz", filepath.Base(dir), name)
		data, err := os.ReadFile(filepath.Join(dir, name))
		if err == nil {
			err = errors.Join(os.MkdirAll(filepath.Dir(to), 0o755), os.WriteFile(to, data, 0o644))
		}
		if err != nil {
			continue // it stays where it is, and the last check finds it
		}
		os.Remove(filepath.Join(dir, name))
		kept = append(kept, to)
	}
	// Remove takes empty folders only.
	for range 3 {
		if os.Remove(dir) != nil {
			break
		}
		dir = filepath.Dir(dir)
	}
	return kept
}

func fileNames(dir string) (names []string) {
	entries, _ := os.ReadDir(dir) // a folder that is not there has no files
	for _, e := range entries {
		names = append(names, e.Name())
	}
	return names
}
