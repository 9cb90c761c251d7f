package site

import (
	"bufio"
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

// manifestName is the file in which a site lists its own files, in the form
// that sha256sum -c reads.
const manifestName = ".roundelay-files"

// A manifest is the SHA-256 sum, in hexadecimal, of every file that a build
// wrote, by its slash-separated path in the site.
type manifest map[string]string

func (m manifest) bytes() []byte {
	var b bytes.Buffer
	for _, name := range slices.Sorted(maps.Keys(m)) {
		fmt.Fprintf(&b, "%s  %s\n", m[name], name)
	}
	return b.Bytes()
}

// readManifest returns what the last build wrote into dir; nothing if dir has
// no manifest.
func readManifest(dir string) (manifest, error) {
	data, err := os.ReadFile(filepath.Join(dir, manifestName))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	m := manifest{}
	lines := bufio.NewScanner(bytes.NewReader(data))
	for lines.Scan() {
		sum, name, ok := strings.Cut(lines.Text(), "  ")
		if !ok || !fs.ValidPath(name) {
			return nil, fmt.Errorf("%s is damaged; move it away, with the folder it is in", filepath.Join(dir, manifestName))
		}
		m[name] = sum
	}
	return m, lines.Err()
}

// folders returns every folder of the site, with "." for itself.
func (m manifest) folders() map[string]bool {
	folders := map[string]bool{".": true}
	for name := range m {
		for d := path.Dir(name); d != "."; d = path.Dir(d) {
			folders[d] = true
		}
	}
	return folders
}

func sum(data []byte) string { return fmt.Sprintf("%x", sha256.Sum256(data)) }

// A folder is a site as it is built: beside the place where it is to stand, so
// that it takes that place whole or not at all.
type folder struct {
	out      string // where the site is to stand
	dir      string // where it is built
	manifest manifest
}

// staleAfter is how old a half-built folder has to be for a later build to
// take it for one that was killed.
const staleAfter = time.Hour

// newFolder begins a site that is to stand at out. It refuses an out that holds
// files which no build wrote, or which were changed since.
func newFolder(out string) (*folder, error) {
	out, err := filepath.Abs(out)
	if err != nil {
		return nil, err
	}
	if real, err := filepath.EvalSymlinks(out); err == nil {
		out = real
	}
	if err := checkOwn(out); err != nil {
		return nil, err
	}
	parent, prefix := filepath.Dir(out), "."+filepath.Base(out)+".building-"
	if err := os.MkdirAll(parent, 0o755); err != nil {
		return nil, err
	}
	removeStale(parent, prefix)
	dir, err := os.MkdirTemp(parent, prefix)
	if err != nil {
		return nil, err
	}
	if err := os.Chmod(dir, 0o755); err != nil {
		return nil, err
	}
	return &folder{out: out, dir: dir, manifest: manifest{}}, nil
}

// removeStale removes what builds that were killed left in parent.
func removeStale(parent, prefix string) {
	entries, _ := os.ReadDir(parent)
	for _, e := range entries {
		info, err := e.Info()
		if err == nil && e.IsDir() && strings.HasPrefix(e.Name(), prefix) && time.Since(info.ModTime()) > staleAfter {
			os.RemoveAll(filepath.Join(parent, e.Name()))
		}
	}
}

// maxNamed is how many files a refusal names.
const maxNamed = 3

// checkOwn returns an error if dir holds anything but a site as it was built.
func checkOwn(dir string) error {
	info, err := os.Lstat(dir)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return err
	}
	if !info.IsDir() {
		return fmt.Errorf("%s is a file; give a folder for the site", dir)
	}
	m, err := readManifest(dir)
	if err != nil {
		return err
	}
	folders := m.folders()
	var foreign, changed []string
	err = filepath.WalkDir(dir, func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(dir, name)
		if err != nil {
			return err
		}
		rel = filepath.ToSlash(rel)
		want, own := m[rel]
		switch {
		case rel == manifestName:
		case d.IsDir():
			if !folders[rel] {
				foreign = append(foreign, rel+"/")
				return fs.SkipDir
			}
		case !own || !d.Type().IsRegular():
			foreign = append(foreign, rel)
		default:
			data, err := os.ReadFile(name)
			if err != nil {
				return err
			}
			if sum(data) != want {
				changed = append(changed, rel)
			}
		}
		if len(foreign)+len(changed) > maxNamed {
			return fs.SkipAll
		}
		return nil
	})
	switch {
	case err != nil:
		return err
	case len(foreign) > 0:
		return fmt.Errorf("%s holds files that roundelay did not write (%s); nothing was built: give another folder with -o, or move them away", dir, someOf(foreign))
	case len(changed) > 0:
		return fmt.Errorf("%s holds files that were changed after roundelay wrote them (%s); nothing was built: give another folder with -o, or delete them", dir, someOf(changed))
	}
	return nil
}

func someOf(names []string) string {
	if len(names) > maxNamed {
		return strings.Join(names[:maxNamed], ", ") + ", ..."
	}
	return strings.Join(names, ", ")
}

// write adds a file to the site. Its name is slash-separated.
func (f *folder) write(name string, data []byte) error {
	if !fs.ValidPath(name) || name == manifestName {
		return fmt.Errorf("%q is no name for a file of a site", name)
	}
	if _, twice := f.manifest[name]; twice {
		return fmt.Errorf("the site has two files %s", name)
	}
	if err := os.MkdirAll(filepath.Join(f.dir, filepath.FromSlash(path.Dir(name))), 0o755); err != nil {
		return err
	}
	if err := os.WriteFile(filepath.Join(f.dir, filepath.FromSlash(name)), data, 0o644); err != nil {
		return err
	}
	f.manifest[name] = sum(data)
	return nil
}

// discard removes what was built so far.
func (f *folder) discard() { os.RemoveAll(f.dir) }

// publish puts the site in its place, and removes the files of the one that
// stood there.
func (f *folder) publish() error {
	if err := os.WriteFile(filepath.Join(f.dir, manifestName), f.manifest.bytes(), 0o644); err != nil {
		return err
	}
	// Once more: it may have changed while the site was built.
	if err := checkOwn(f.out); err != nil {
		return err
	}
	if _, err := os.Lstat(f.out); errors.Is(err, fs.ErrNotExist) {
		return os.Rename(f.dir, f.out)
	}
	if err := swap(f.dir, f.out); err != nil {
		return err
	}
	return removeOwn(f.dir)
}

// removeOwn removes the files of dir that its manifest lists, and the folders
// that are then empty.
func removeOwn(dir string) error {
	m, err := readManifest(dir)
	if err != nil {
		return err
	}
	for name := range m {
		if err := os.Remove(filepath.Join(dir, filepath.FromSlash(name))); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return err
		}
	}
	if err := os.Remove(filepath.Join(dir, manifestName)); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	// The deepest first: a longer path is never above a shorter one.
	byLength := slices.SortedFunc(maps.Keys(m.folders()), func(a, b string) int { return len(b) - len(a) })
	for _, d := range byLength {
		if err := os.Remove(filepath.Join(dir, filepath.FromSlash(d))); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return fmt.Errorf("the new site stands, but the old one could not be removed: %w", err)
		}
	}
	return nil
}
