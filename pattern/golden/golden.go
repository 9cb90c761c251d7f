// Package golden keeps what tests make in files that people can look at. Only
// tests import it: it gives each of them a flag -update.
package golden

import (
	"errors"
	"flag"
	"io/fs"
	"os"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// Update reports whether the golden files are to be rewritten, for tests that
// keep them in a form of their own.
func Update() bool { return *update }

// Check fails the test unless got is what testdata holds under a name that has
// slashes. With -update it writes that file instead.
func Check(t testing.TB, name string, got []byte) {
	t.Helper()
	file := filepath.Join("testdata", filepath.FromSlash(name))
	if *update {
		if err := os.WriteFile(file, got, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(file)
	if errors.Is(err, fs.ErrNotExist) {
		t.Fatalf("%v (run go test with -update in this package, then look at the file)", err)
	}
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), string(got)); diff != "" {
		t.Errorf("%s (-want +got):\n%s", file, diff)
	}
}
