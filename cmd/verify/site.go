package main

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

// book is the demo book, from the root of the checkout.
const book = "testdata/book"

// buildSite builds the demo book as a user does, twice: the same input must
// give the same bytes.
func buildSite(s *session, t *tally) error {
	program := filepath.Join(s.temp, "roundelay")
	if err := run(s.goTool("build", "-o", program, "./cmd/roundelay")); err != nil {
		return err
	}
	s.tools["roundelay"] = program
	first, second := filepath.Join(s.temp, "site"), filepath.Join(s.temp, "again")
	built := make(chan error, 2)
	for _, dir := range []string{first, second} {
		go func() {
			cmd := exec.CommandContext(s.ctx, program, "build", book, "-o", dir)
			cmd.Dir = s.root
			built <- run(cmd)
		}()
	}
	if err := errors.Join(<-built, <-built); err != nil {
		return err
	}
	s.site = first
	t.check("roundelay build "+book, nil)
	t.check("built twice, it is the same", sameFiles(first, second))
	proof := exec.CommandContext(s.ctx, program, "proof", book)
	proof.Dir = s.root
	t.check("roundelay proof "+book, run(proof))
	return nil
}

// sameFiles tells how two folders differ.
func sameFiles(a, b string) error {
	files := map[string][]byte{}
	err := eachSiteFile(a, "", func(name string, data []byte) error { files[name] = data; return nil })
	if err != nil {
		return err
	}
	err = eachSiteFile(b, "", func(name string, data []byte) error {
		was, ok := files[name]
		delete(files, name)
		if !ok {
			return fmt.Errorf("%s was made only the second time", name)
		}
		if !bytes.Equal(was, data) {
			return fmt.Errorf("%s differs", name)
		}
		return nil
	})
	if err != nil {
		return err
	}
	for name := range files {
		return fmt.Errorf("%s was made only the first time", name)
	}
	return nil
}

// eachSiteFile calls visit with every file below dir whose extension is one of
// exts, which are parted by spaces; "" is any. Names have slashes.
func eachSiteFile(dir, exts string, visit func(name string, data []byte) error) error {
	return filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		if exts != "" && !strings.Contains(" "+exts+" ", " "+filepath.Ext(path)+" ") {
			return nil
		}
		data, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		name, err := filepath.Rel(dir, path)
		if err != nil {
			return err
		}
		return visit(filepath.ToSlash(name), data)
	})
}

// checkHTML runs the Nu checker over every page, style sheet and drawing.
func checkHTML(s *session, t *tally) error {
	if s.site == "" {
		return errNotBuilt
	}
	cmd := exec.CommandContext(s.ctx, s.tools["java"], "-jar", s.tools["vnu"],
		"--format", "json", "--exit-zero-always", "--also-check-css", "--also-check-svg", "--skip-non-html", s.site)
	var stdout, stderr bytes.Buffer
	cmd.Stdout, cmd.Stderr = &stdout, &stderr
	if err := cmd.Run(); err != nil {
		return fmt.Errorf("the Nu checker: %w\n%s", err, tail(stderr.String(), 20))
	}
	complaints, err := readNu(stderr.Bytes())
	if err != nil {
		return err
	}
	return eachSiteFile(s.site, ".html .css .svg", func(name string, _ []byte) error {
		var err error
		if said := complaints[filepath.Join(s.site, filepath.FromSlash(name))]; len(said) > 0 {
			err = errors.New(strings.Join(said, "\n"))
		}
		t.check(name, err)
		return nil
	})
}

// readNu reads what the Nu checker says as JSON: file -> its complaints.
func readNu(report []byte) (map[string][]string, error) {
	var read struct {
		Messages []struct {
			Type, SubType, URL, Message, Extract string
			LastLine, LastColumn                 int
		}
	}
	if err := json.Unmarshal(report, &read); err != nil {
		return nil, fmt.Errorf("the Nu checker's report: %w\n%s", err, tail(string(report), 10))
	}
	complaints := map[string][]string{}
	for _, m := range read.Messages {
		if m.Type == "non-document-error" {
			return nil, errors.New("the Nu checker: " + m.Message)
		}
		if m.Type == "info" && m.SubType != "warning" {
			continue
		}
		file := strings.TrimPrefix(m.URL, "file:")
		complaints[file] = append(complaints[file], fmt.Sprintf("%d:%d: %s: %s", m.LastLine, m.LastColumn, m.Message, strings.TrimSpace(m.Extract)))
	}
	return complaints, nil
}

// checkXML reads every drawing, feed and map as XML.
func checkXML(s *session, t *tally) error {
	if s.site == "" {
		return errNotBuilt
	}
	return eachSiteFile(s.site, ".svg .xml .atom", func(name string, data []byte) error {
		t.check(name, wellFormed(data))
		return nil
	})
}

// wellFormed reports the first thing that makes data other than one
// well-formed XML document. It looks for an attribute given twice, too, which
// encoding/xml lets pass and most other readers refuse.
func wellFormed(data []byte) error {
	dec := xml.NewDecoder(bytes.NewReader(data))
	roots, depth := 0, 0
	for {
		tok, err := dec.Token()
		if err == io.EOF {
			break
		}
		line, column := dec.InputPos()
		if err != nil {
			return fmt.Errorf("%d:%d: %w", line, column, err)
		}
		switch tok := tok.(type) {
		case xml.StartElement:
			if depth == 0 {
				roots++
			}
			depth++
			seen := map[xml.Name]bool{}
			for _, a := range tok.Attr {
				if seen[a.Name] {
					return fmt.Errorf("%d:%d: attribute %s is given twice", line, column, a.Name.Local)
				}
				seen[a.Name] = true
			}
		case xml.EndElement:
			depth--
		case xml.CharData:
			if depth == 0 && len(bytes.TrimSpace(tok)) > 0 {
				return fmt.Errorf("%d:%d: text outside the root element", line, column)
			}
		}
	}
	if roots != 1 {
		return fmt.Errorf("%d root elements, not 1", roots)
	}
	return nil
}
