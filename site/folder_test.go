package site

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

// tree returns the files below dir with what is in them, by their paths; a
// folder without files is there as "name/".
func tree(t *testing.T, dir string) map[string]string {
	t.Helper()
	files := map[string]string{}
	err := filepath.WalkDir(dir, func(name string, d os.DirEntry, err error) error {
		if err != nil || name == dir {
			return err
		}
		rel, err := filepath.Rel(dir, name)
		if err != nil {
			return err
		}
		if d.IsDir() {
			if entries, _ := os.ReadDir(name); len(entries) == 0 {
				files[filepath.ToSlash(rel)+"/"] = ""
			}
			return nil
		}
		data, err := os.ReadFile(name)
		files[filepath.ToSlash(rel)] = string(data)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return files
}

// put writes files below dir.
func put(t *testing.T, dir string, files map[string]string) {
	t.Helper()
	for name, text := range files {
		file := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// publish makes a site of the files, or returns what went wrong.
func publish(out string, files map[string]string) error {
	f, err := newFolder(out)
	if err != nil {
		return err
	}
	for name, text := range files {
		if err := f.write(name, []byte(text)); err != nil {
			f.discard()
			return err
		}
	}
	return f.publish()
}

// without returns files without the manifest.
func without(files map[string]string) map[string]string {
	delete(files, manifestName)
	return files
}

var (
	oldSite = map[string]string{"index.html": "old", "buoy/index.html": "old buoy", "gone/deep/page.html": "old page"}
	newSite = map[string]string{"index.html": "new", "buoy/index.html": "new buoy"}
)

func TestPublish(t *testing.T) {
	out := filepath.Join(t.TempDir(), "not yet", "out")
	for _, site := range []map[string]string{oldSite, newSite, newSite} {
		if err := publish(out, site); err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(site, without(tree(t, out))); diff != "" {
			t.Errorf("the site (-want +got):\n%s", diff)
		}
	}
	onlyOut(t, out)
}

// onlyOut checks that nothing stands beside out.
func onlyOut(t *testing.T, out string) {
	t.Helper()
	entries, err := os.ReadDir(filepath.Dir(out))
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if e.Name() != filepath.Base(out) {
			t.Errorf("%s was left beside the site", e.Name())
		}
	}
}

// TestRefuses checks that a folder with anything in it that no build wrote is
// left as it is.
func TestRefuses(t *testing.T) {
	for _, test := range []struct {
		name   string
		meddle func(t *testing.T, out string)
		want   string // in the message
	}{
		{"another's file beside ours", func(t *testing.T, out string) { put(t, out, map[string]string{"CNAME": "x"}) }, "did not write (CNAME)"},
		{"another's file below ours", func(t *testing.T, out string) { put(t, out, map[string]string{"buoy/mine.jpg": "x"}) }, "did not write (buoy/mine.jpg)"},
		{"another's empty folder", func(t *testing.T, out string) {
			if err := os.Mkdir(filepath.Join(out, "mine"), 0o755); err != nil {
				t.Fatal(err)
			}
		}, "did not write (mine/)"},
		{"a file of ours that was changed", func(t *testing.T, out string) { put(t, out, map[string]string{"index.html": "by hand"}) }, "changed after roundelay wrote them (index.html)"},
		{"no manifest", func(t *testing.T, out string) {
			if err := os.Remove(filepath.Join(out, manifestName)); err != nil {
				t.Fatal(err)
			}
		}, "did not write (buoy/, gone/, index.html)"},
		{"a manifest that names what is not below", func(t *testing.T, out string) {
			put(t, out, map[string]string{manifestName: sum(nil) + "  ../precious\n"})
		}, "is damaged"},
		{"a link in the place of a file", func(t *testing.T, out string) {
			put(t, filepath.Dir(out), map[string]string{"precious": "old"})
			file := filepath.Join(out, "index.html")
			if err := errors.Join(os.Remove(file), os.Symlink("../precious", file)); err != nil {
				t.Skip(err)
			}
		}, "did not write (index.html)"},
	} {
		t.Run(test.name, func(t *testing.T) {
			top := t.TempDir()
			out := filepath.Join(top, "out")
			if err := publish(out, oldSite); err != nil {
				t.Fatal(err)
			}
			test.meddle(t, out)
			before := tree(t, top)
			err := publish(out, newSite)
			if err == nil || !strings.Contains(err.Error(), test.want) {
				t.Errorf("got error %v, want one with %q", err, test.want)
			}
			if diff := cmp.Diff(before, tree(t, top)); diff != "" {
				t.Errorf("what was there (-before +after):\n%s", diff)
			}
		})
	}
}

func TestRefusesAFile(t *testing.T) {
	out := filepath.Join(t.TempDir(), "out")
	put(t, filepath.Dir(out), map[string]string{"out": "a file"})
	if err := publish(out, newSite); err == nil || !strings.Contains(err.Error(), "is a file") {
		t.Errorf("got error %v", err)
	}
}

// TestFailsInTheMiddle has a site that can't be written: one of its names is
// both a file and a folder.
func TestFailsInTheMiddle(t *testing.T) {
	out := filepath.Join(t.TempDir(), "out")
	if err := publish(out, oldSite); err != nil {
		t.Fatal(err)
	}
	before := tree(t, filepath.Dir(out))
	f, err := newFolder(out)
	if err != nil {
		t.Fatal(err)
	}
	if err := f.write("buoy", []byte("a file")); err != nil {
		t.Fatal(err)
	}
	if err := f.write("buoy/index.html", nil); err == nil {
		t.Error("wrote a file below a file")
	}
	f.discard()
	if diff := cmp.Diff(before, tree(t, filepath.Dir(out))); diff != "" {
		t.Errorf("after a failure (-before +after):\n%s", diff)
	}
}

func TestWriteNames(t *testing.T) {
	f, err := newFolder(filepath.Join(t.TempDir(), "out"))
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"../up", "/root", "a/../b", "", ".", manifestName} {
		if err := f.write(name, nil); err == nil {
			t.Errorf("wrote a file named %q", name)
		}
	}
	if err := errors.Join(f.write("a", nil)); err != nil {
		t.Fatal(err)
	}
	if err := f.write("a", nil); err == nil {
		t.Error("wrote a file twice")
	}
}

// TestKilled kills a build of the demo book in the middle, in a process of its
// own, and builds again.
func TestKilled(t *testing.T) {
	const env = "ROUNDELAY_TEST_KILLED_BUILD"
	if out := os.Getenv(env); out != "" {
		book, opt := demo(t)
		n := 0
		opt.Progress = func(string) {
			if n++; n == 20 {
				self, err := os.FindProcess(os.Getpid())
				if err == nil {
					err = self.Kill()
				}
				fmt.Println("still alive:", err)
				select {}
			}
		}
		fmt.Println("built:", Build(book, out, opt))
		return
	}
	out := filepath.Join(t.TempDir(), "out")
	if err := publish(out, oldSite); err != nil {
		t.Fatal(err)
	}
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(self, "-test.run=^TestKilled$")
	cmd.Env = append(os.Environ(), env+"="+out)
	var said strings.Builder
	cmd.Stdout = &said
	if err := cmd.Run(); err == nil || strings.Contains(said.String(), "built:") {
		t.Fatalf("the build was not killed: %v\n%s", err, said.String())
	}
	if diff := cmp.Diff(oldSite, without(tree(t, out))); diff != "" {
		t.Errorf("after a killed build (-before +after):\n%s", diff)
	}
	left, err := filepath.Glob(filepath.Join(filepath.Dir(out), ".out.building-*"))
	if err != nil || len(left) != 1 {
		t.Fatalf("what the killed build left: %v, %v", left, err)
	}

	// A later build is not in its way, and clears it once it is old.
	long := time.Now().Add(-2 * staleAfter)
	if err := os.Chtimes(left[0], long, long); err != nil {
		t.Fatal(err)
	}
	if err := publish(out, newSite); err != nil {
		t.Fatal(err)
	}
	onlyOut(t, out)
}

func TestSwapInSteps(t *testing.T) {
	top := t.TempDir()
	a, b := filepath.Join(top, "a"), filepath.Join(top, "b")
	put(t, top, map[string]string{"a/x": "1", "b/y": "2"})
	if err := swapInSteps(a, b); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(map[string]string{"a/y": "2", "b/x": "1"}, tree(t, top)); diff != "" {
		t.Error(diff)
	}
	if err := swapInSteps(filepath.Join(top, "missing"), b); err == nil {
		t.Error("swapped with a folder that is not there")
	}
	if _, err := os.Stat(b); err != nil {
		t.Errorf("after a swap that failed: %v", err)
	}
}

func TestManifest(t *testing.T) {
	dir := t.TempDir()
	want := manifest{"index.html": sum([]byte("a")), "a b/ü.txt": sum(nil)}
	put(t, dir, map[string]string{manifestName: string(want.bytes())})
	got, err := readManifest(dir)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	if lines := strings.Split(string(want.bytes()), "\n"); !slices.IsSorted(lines[:2]) && lines[0][66:] > lines[1][66:] {
		t.Errorf("not in order of names: %q", lines)
	}
}

// FuzzManifest checks of any manifest that what is read names files of the
// folder only, and is written back as it was read.
func FuzzManifest(f *testing.F) {
	f.Add([]byte(sum(nil) + "  index.html\n"))
	f.Add([]byte("x  ../y\n"))
	f.Add([]byte("\n"))
	dir := f.TempDir()
	f.Fuzz(func(t *testing.T, data []byte) {
		if err := os.WriteFile(filepath.Join(dir, manifestName), data, 0o644); err != nil {
			t.Fatal(err)
		}
		m, err := readManifest(dir)
		if err != nil {
			return
		}
		for name := range m {
			if !filepath.IsLocal(filepath.FromSlash(name)) {
				t.Errorf("%q is not in the folder", name)
			}
		}
		if err := os.WriteFile(filepath.Join(dir, manifestName), m.bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
		again, err := readManifest(dir)
		if diff := cmp.Diff(m, again); err != nil || diff != "" {
			t.Errorf("written back: %v %s", err, diff)
		}
	})
}
