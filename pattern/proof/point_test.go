package proof

import (
	"fmt"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/rogpeppe/go-internal/txtar"

	"roundelay/pattern"
	"roundelay/pattern/source"
	"roundelay/pattern/stitch"
)

// wantComment is an expectation: the finding that the line, or with want-file
// the file as a whole, is to have. The comments are cut off before the file is
// read.
var wantComment = regexp.MustCompile(`[ \t]*# want(-file)? ("(?:[^"\\]|\\.)*")`)

// TestPoints checks each point on testdata/points/CODE.txtar. Under speaks it
// has to find exactly what the comments want, under quiet nothing. What other
// points find is passed over.
func TestPoints(t *testing.T) {
	for _, point := range Checklist {
		t.Run(point.Code, func(t *testing.T) {
			archive, err := txtar.ParseFile("testdata/points/" + point.Code + ".txtar")
			if err != nil {
				t.Fatal(err)
			}
			for _, side := range []string{"speaks", "quiet"} {
				want, got := proofread(t, archive, side, point)
				if side == "speaks" && len(want) == 0 || side == "quiet" && len(want) > 0 {
					t.Errorf("%s wants %d findings", side, len(want))
				}
				if g, w := strings.Join(got, "\n"), strings.Join(want, "\n"); g != w {
					t.Errorf("%s: got\n%s\nwant\n%s", side, g, w)
				}
			}
		})
	}
}

// proofread returns what the comments of a side of an archive want of a point,
// and what the point found there, as "file:line: message".
func proofread(t *testing.T, archive *txtar.Archive, side string, point *Point) (want, got []string) {
	t.Helper()
	fsys := fstest.MapFS{}
	for _, f := range archive.Files {
		if !strings.HasPrefix(f.Name, side) {
			continue
		}
		for i, line := range strings.Split(string(f.Data), "\n") {
			for _, m := range wantComment.FindAllStringSubmatch(line, -1) {
				n := i + 1
				if m[1] != "" {
					n = 0
				}
				message, err := strconv.Unquote(m[2])
				if err != nil {
					t.Fatalf("%s:%d: %v", f.Name, i+1, err)
				}
				want = append(want, fmt.Sprintf("%s:%d: %s", f.Name, n, message))
			}
		}
		fsys[f.Name] = &fstest.MapFile{Data: wantComment.ReplaceAll(f.Data, nil)}
	}
	var r Report
	if text := fsys[side+".txt"]; text != nil {
		r = CheckText(source.NewFile(side+".txt", string(text.Data)), stitch.US)
	} else {
		p, found := pattern.Load(fsys, side+"/pattern.toml")
		if p == nil {
			t.Fatalf("%s: %v", side, found)
		}
		for _, f := range found {
			if pointOf(f.Code) == nil {
				t.Errorf("%s: %v", side, f)
			}
		}
		r = Check(p, found)
	}
	for _, f := range r.Findings {
		if f.Code == point.Code {
			got = append(got, fmt.Sprintf("%s:%d: %s", f.Pos().File, f.Pos().Line, f.Message))
			if f.Hint == "" && point.Run != nil {
				t.Errorf("no hint: %s", f)
			}
		}
	}
	slices.Sort(want)
	slices.Sort(got)
	return want, got
}

// TestChecklist checks that each point says what it is for.
func TestChecklist(t *testing.T) {
	seen := map[string]bool{}
	for _, p := range Checklist {
		title, why, _ := strings.Cut(p.Doc, "\n\n")
		switch {
		case !regexp.MustCompile(`^[a-z]+(-[a-z]+)*$`).MatchString(p.Code):
			t.Errorf("%q is no code", p.Code)
		case seen[p.Code]:
			t.Errorf("there are two points %s", p.Code)
		case title != p.Title() || title == "" || strings.HasSuffix(title, ".") || why == "":
			t.Errorf("%s does not say, in a line and a paragraph, what it is for", p.Code)
		}
		seen[p.Code] = true
	}
	files, err := os.ReadDir("testdata/points")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		if code := strings.TrimSuffix(f.Name(), ".txtar"); !seen[code] {
			t.Errorf("testdata/points/%s is about no point", f.Name())
		}
	}
}
