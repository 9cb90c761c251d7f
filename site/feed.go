package site

import (
	"cmp"
	"crypto/sha1"
	"encoding/xml"
	"fmt"
	"path"
	"slices"
	"time"

	"roundelay/pattern"
)

// A feed is an Atom feed (RFC 4287) of new and corrected patterns.
type feed struct {
	XMLName xml.Name    `xml:"http://www.w3.org/2005/Atom feed"`
	Lang    string      `xml:"xml:lang,attr"`
	ID      string      `xml:"id"`
	Title   string      `xml:"title"`
	Summary string      `xml:"subtitle,omitempty"`
	Updated string      `xml:"updated"`
	Author  *feedAuthor `xml:"author"`
	Rights  string      `xml:"rights,omitempty"`
	Links   []feedLink  `xml:"link"`
	Entries []feedEntry `xml:"entry"`
}

type feedAuthor struct {
	Name string `xml:"name"`
}

type feedLink struct {
	Rel  string `xml:"rel,attr,omitempty"`
	Type string `xml:"type,attr,omitempty"`
	Href string `xml:"href,attr"`
}

type feedEntry struct {
	ID      string      `xml:"id"`
	Title   string      `xml:"title"`
	Updated string      `xml:"updated"`
	Author  *feedAuthor `xml:"author,omitempty"`
	Rights  string      `xml:"rights,omitempty"`
	Summary string      `xml:"summary,omitempty"`
	Link    feedLink    `xml:"link"`

	at time.Time
}

// feed returns the feed: an entry for each version of each pattern, the newest
// first. A pattern without a date is left out, as its entry would have no time.
func (b *builder) feed() feed {
	out := feed{
		Lang:    b.page("", "").Language,
		ID:      b.id(""),
		Title:   b.book.Title,
		Summary: b.book.Summary,
		Author:  &feedAuthor{cmp.Or(b.book.Author, b.book.Title)},
		Rights:  b.book.Licence,
		Links:   []feedLink{{Type: "text/html", Href: b.book.Address + Index}},
	}
	if b.book.Address != "" {
		out.Links = append(out.Links, feedLink{Rel: "self", Type: "application/atom+xml", Href: b.book.Address + "feed.xml"})
	}
	for _, p := range b.book.Patterns {
		for _, c := range versions(p) {
			if c.Date.IsZero() {
				continue
			}
			e := feedEntry{
				ID:      b.id(path.Join(p.Slug, cmp.Or(c.Version, c.Date.Format(time.DateOnly)))),
				Title:   p.Title,
				Updated: c.Date.Format(time.RFC3339),
				Rights:  p.Licence,
				Summary: c.Say,
				Link:    feedLink{Type: "text/html", Href: b.book.Address + home(p)},
				at:      c.Date,
			}
			if c.Version != "" {
				e.Title += ", version " + c.Version
			}
			if p.Author != b.book.Author && p.Author != "" {
				e.Author = &feedAuthor{p.Author}
			}
			out.Entries = append(out.Entries, e)
		}
	}
	slices.SortStableFunc(out.Entries, func(a, b feedEntry) int { return b.at.Compare(a.at) })
	updated := time.Unix(0, 0).UTC() // of a feed without entries
	if len(out.Entries) > 0 {
		updated = out.Entries[0].at
	}
	out.Updated = updated.Format(time.RFC3339)
	return out
}

// versions returns the changes of a pattern, the newest first, and the pattern
// itself if none of them is of its date.
func versions(p *pattern.Pattern) []pattern.Change {
	out := slices.Clone(p.Changes)
	if !slices.ContainsFunc(out, func(c pattern.Change) bool { return c.Date.Equal(p.Date) }) {
		out = slices.Insert(out, 0, pattern.Change{Version: p.Version, Date: p.Date, Say: p.Summary})
	}
	return out
}

// id returns a lasting name for a part of the book: an address below that of
// the book, or, if it has none, a UUID of version 5 (RFC 9562) from the title
// and the part.
func (b *builder) id(part string) string {
	if b.book.Address != "" {
		return b.book.Address + part
	}
	sum := sha1.Sum([]byte(b.book.Title + "\x00" + part))
	u := sum[:16]
	u[6] = u[6]&0x0f | 0x50
	u[8] = u[8]&0x3f | 0x80
	return fmt.Sprintf("urn:uuid:%x-%x-%x-%x-%x", u[:4], u[4:6], u[6:8], u[8:10], u[10:])
}

// A siteMap lists the pages for search engines (sitemaps.org, 0.9).
type siteMap struct {
	XMLName xml.Name  `xml:"http://www.sitemaps.org/schemas/sitemap/0.9 urlset"`
	Pages   []siteURL `xml:"url"`
}

type siteURL struct {
	Address string `xml:"loc"`
	Changed string `xml:"lastmod,omitempty"`
}

func (b *builder) siteMap() siteMap {
	out := siteMap{Pages: []siteURL{{Address: b.book.Address + Index}}}
	for _, p := range b.book.Patterns {
		u := siteURL{Address: b.book.Address + home(p)}
		if d := versions(p)[0].Date; !d.IsZero() {
			u.Changed = d.Format(time.DateOnly)
		}
		out.Pages = append(out.Pages, u)
	}
	return out
}
