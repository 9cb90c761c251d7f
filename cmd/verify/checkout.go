package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// checkout returns the folder of go.mod: this one, or the nearest above.
func checkout() (string, error) {
	dir, err := os.Getwd()
	if err != nil {
		return "", err
	}
	for {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return dir, nil
		}
		if filepath.Dir(dir) == dir {
			return "", errors.New("run this inside the checkout: there is no go.mod here or above")
		}
		dir = filepath.Dir(dir)
	}
}

// snapshot notes the size and time of every file under root. What git keeps
// for itself is left out.
func snapshot(root string) (map[string]string, error) {
	files := map[string]string{}
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(root, path)
		if err != nil {
			return err
		}
		if rel == ".git" {
			if d.IsDir() {
				return filepath.SkipDir
			}
			return nil
		}
		info, err := d.Info()
		if err != nil {
			return err
		}
		if d.IsDir() {
			files[rel] = "folder"
		} else {
			files[rel] = fmt.Sprint(info.Size(), info.ModTime().UnixNano())
		}
		return nil
	})
	return files, err
}

// unchanged tells what differs from an earlier snapshot of root.
func unchanged(root string, before map[string]string) error {
	after, err := snapshot(root)
	if err != nil {
		return err
	}
	var changes []string
	for name, was := range before {
		switch is, ok := after[name]; {
		case !ok:
			changes = append(changes, name+" is gone")
		case is != was:
			changes = append(changes, name+" has changed")
		}
	}
	for name := range after {
		if _, ok := before[name]; !ok {
			changes = append(changes, name+" is new")
		}
	}
	if len(changes) == 0 {
		return nil
	}
	slices.Sort(changes)
	return errors.New(strings.Join(changes, "\n"))
}
