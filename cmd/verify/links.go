package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"net/url"
	"os"
	"path"
	"strings"

	"golang.org/x/net/html"
)

// checkLinks follows every link and every other address in the pages.
func checkLinks(s *session, t *tally) error {
	if s.site == "" {
		return errNotBuilt
	}
	pages, err := readPages(os.DirFS(s.site))
	if err != nil {
		return err
	}
	for _, p := range pages {
		var wrong []error
		for _, address := range p.addresses {
			if err := follow(p, address, pages, os.DirFS(s.site)); err != nil {
				wrong = append(wrong, err)
			}
		}
		t.check(fmt.Sprintf("%s (%d addresses)", p.name, len(p.addresses)), errors.Join(wrong...))
	}
	return nil
}

// A page is one HTML file as far as links go.
type page struct {
	name      string // from the site's folder, with slashes
	ids       map[string]int
	addresses []string
}

// readPages reads the HTML files of a site: name -> page.
func readPages(site fs.FS) (map[string]*page, error) {
	pages := map[string]*page{}
	err := fs.WalkDir(site, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || path.Ext(name) != ".html" {
			return err
		}
		data, err := fs.ReadFile(site, name)
		if err != nil {
			return err
		}
		root, err := html.Parse(bytes.NewReader(data))
		if err != nil {
			return err
		}
		p := &page{name: name, ids: map[string]int{}}
		for n := range root.Descendants() {
			p.note(n)
		}
		pages[name] = p
		return nil
	})
	return pages, err
}

func (p *page) note(n *html.Node) {
	if n.Type != html.ElementNode {
		return
	}
	for _, a := range n.Attr {
		switch a.Key {
		case "id":
			p.ids[a.Val]++
		case "href", "src", "poster":
			p.addresses = append(p.addresses, a.Val)
		case "srcset":
			for part := range strings.SplitSeq(a.Val, ",") {
				if words := strings.Fields(part); len(words) > 0 {
					p.addresses = append(p.addresses, words[0])
				}
			}
		}
	}
}

// follow reports what is wrong with an address on a page: it must lead to a
// file of the site, and to an id that is there once. An address of another
// site is only read, never fetched; it must be https, http or mailto.
func follow(p *page, address string, pages map[string]*page, site fs.FS) error {
	u, err := url.Parse(address)
	if err != nil {
		return err
	}
	switch {
	case u.Scheme == "https" || u.Scheme == "http" || u.Scheme == "mailto" || u.Scheme == "data":
		return nil
	case u.Scheme != "" || u.Host != "":
		return fmt.Errorf("%s: not an address that a page should have", address)
	case strings.HasPrefix(u.Path, "/"):
		return fmt.Errorf("%s: begins at the root, so it breaks when opened from disk", address)
	}
	target := p
	if u.Path != "" {
		name := path.Join(path.Dir(p.name), u.Path)
		if strings.HasSuffix(u.Path, "/") {
			return fmt.Errorf("%s: leads to a folder, so it breaks when opened from disk", address)
		}
		info, err := fs.Stat(site, name)
		if err != nil || info.IsDir() {
			return fmt.Errorf("%s: there is no such file", address)
		}
		if target = pages[name]; target == nil {
			return nil // a picture, a style sheet
		}
	}
	if u.Fragment != "" && target.ids[u.Fragment] != 1 {
		return fmt.Errorf("%s: %d elements in %s have this id, not 1", address, target.ids[u.Fragment], target.name)
	}
	return nil
}
