package site

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"image"
	_ "image/gif"  // so that their sizes
	_ "image/jpeg" // are known to pages
	_ "image/png"
	"io"
	"io/fs"
	"path"
	"regexp"
	"strings"
)

// maxPicture is the most bytes that a picture may have.
const maxPicture = 16 << 20

// readPicture reads a picture of the book. Of a drawing it makes sure that it
// is no more than a drawing.
func readPicture(files fs.FS, name string) ([]byte, error) {
	f, err := files.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, maxPicture+1))
	if err != nil {
		return nil, err
	}
	if len(data) > maxPicture {
		return nil, fmt.Errorf("%s is larger than %d MB; make the picture smaller", name, maxPicture>>20)
	}
	if strings.EqualFold(path.Ext(name), ".svg") {
		if err := checkDrawing(data); err != nil {
			return nil, fmt.Errorf("%s %w", name, err)
		}
	}
	return data, nil
}

// outside finds what a style sheet fetches from elsewhere.
var outside = regexp.MustCompile(`(?i)@import|url\(\s*["']?[^#"'\s]`)

// checkDrawing returns an error for an SVG file that could run a script or
// fetch something if it were opened on its own.
func checkDrawing(data []byte) error {
	d := xml.NewDecoder(bytes.NewReader(data))
	for {
		t, err := d.Token()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return fmt.Errorf("is not sound SVG: %w", err)
		}
		switch t := t.(type) {
		case xml.CharData: // of a style sheet
			if found := outside.Find(t); found != nil {
				return fmt.Errorf("refers to %q; a drawing may refer to its own parts only", found)
			}
		case xml.Directive:
			return errors.New("has a document type declaration; take it out")
		case xml.StartElement:
			switch strings.ToLower(t.Name.Local) {
			case "script", "foreignobject", "iframe", "handler", "listener":
				return fmt.Errorf("has an element %s; a drawing needs none", t.Name.Local)
			}
			for _, a := range t.Attr {
				name := strings.ToLower(a.Name.Local)
				switch {
				case strings.HasPrefix(name, "on"):
					return fmt.Errorf("has an attribute %s; a drawing needs none", a.Name.Local)
				case name == "href" && !strings.HasPrefix(strings.TrimSpace(a.Value), "#"), outside.MatchString(a.Value):
					return fmt.Errorf("refers to %q; a drawing may refer to its own parts only", a.Value)
				}
			}
		}
	}
}

// pixels returns the size of a picture; 0, 0 if it isn't known.
func pixels(data []byte) (width, height int) {
	c, _, err := image.DecodeConfig(bytes.NewReader(data))
	if err != nil {
		return 0, 0
	}
	return c.Width, c.Height
}
