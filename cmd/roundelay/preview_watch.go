package main

import (
	"context"
	"fmt"
	"io/fs"
	"path/filepath"
	"strings"
	"time"

	"github.com/fsnotify/fsnotify"
)

// A folderWatch notices what changes in a folder and in those below it.
type folderWatch struct {
	dir     string
	watcher *fsnotify.Watcher
}

// maxFolders is the most folders that are watched: a book has one or two for
// each pattern, and the system lends only so many.
const maxFolders = 2000

// quiet is how long nothing has to change for a change to be taken as whole:
// editors save in several steps.
const quiet = 100 * time.Millisecond

// watchFolder begins to watch. Changes from now on are told by follow.
func watchFolder(dir string) (*folderWatch, error) {
	watcher, err := fsnotify.NewWatcher()
	if err != nil {
		return nil, fmt.Errorf("watch %s: %w", dir, err)
	}
	w := &folderWatch{dir, watcher}
	if err := w.addAll(); err != nil {
		w.close()
		return nil, fmt.Errorf("watch %s: %w", dir, err)
	}
	return w, nil
}

func (w *folderWatch) close() { w.watcher.Close() }

// addAll watches all folders that there are now. Hidden ones hold no part of a
// book.
func (w *folderWatch) addAll() error {
	n := 0
	return filepath.WalkDir(w.dir, func(name string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case !d.IsDir():
			return nil
		case name != w.dir && isHidden(name):
			return fs.SkipDir
		}
		if n++; n > maxFolders {
			return fmt.Errorf("there are more than %d folders in it; keep the book in a folder of its own", maxFolders)
		}
		return w.watcher.Add(name)
	})
}

// isHidden reports whether a file is none that a person works on, by its name.
func isHidden(name string) bool { return strings.HasPrefix(filepath.Base(name), ".") }

// isBackup reports whether an editor keeps an earlier state in the file.
func isBackup(name string) bool { return strings.HasSuffix(name, "~") }

// follow calls changed after each change, once it is quiet again, until ctx
// ends.
func (w *folderWatch) follow(ctx context.Context, changed func()) error {
	var settled <-chan time.Time // nil while nothing has changed
	for {
		select {
		case <-ctx.Done():
			return nil
		case e := <-w.watcher.Events:
			if !isHidden(e.Name) && !isBackup(e.Name) && e.Op != fsnotify.Chmod {
				settled = time.After(quiet)
			}
		case <-w.watcher.Errors: // some changes went untold
			settled = time.After(quiet)
		case <-settled:
			settled = nil
			// What can't be watched now may be gone already; what is read
			// next tells so.
			_ = w.addAll()
			changed()
		}
	}
}
