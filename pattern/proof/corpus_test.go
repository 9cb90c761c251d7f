package proof

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"roundelay/pattern/source"
	"roundelay/pattern/stitch"
)

// A truth is what a round line of the corpus uses and makes, worked out by hand.
type truth struct {
	line, used, made, declared int // -1 where unknown
	slip, form                 string
}

// corpus reads the texts of a corpus folder with their truth.
func corpus(t testing.TB, dir string, each func(f *source.File, rows []truth)) {
	files, err := filepath.Glob(filepath.Join(dir, "*.truth.tsv"))
	if err != nil || len(files) == 0 {
		t.Fatalf("no truth in %s: %v", dir, err)
	}
	for _, file := range files {
		text, err := os.ReadFile(strings.TrimSuffix(file, ".truth.tsv") + ".txt")
		if err != nil {
			if text, err = os.ReadFile(strings.TrimSuffix(file, ".truth.tsv") + ".md"); err != nil {
				t.Fatal(err)
			}
		}
		table, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		r := csv.NewReader(bytes.NewReader(table))
		r.Comma, r.FieldsPerRecord, r.LazyQuotes = '\t', -1, true
		records, err := r.ReadAll()
		if err != nil {
			t.Fatalf("%s: %v", file, err)
		}
		var rows []truth
		for _, rec := range records[1:] {
			rec = append(rec, "", "", "")
			number := func(s string) int {
				if n, err := strconv.Atoi(s); err == nil {
					return n
				}
				return -1
			}
			rows = append(rows, truth{number(rec[0]), number(rec[4]), number(rec[5]), number(rec[6]), rec[7], rec[8]})
		}
		each(source.NewFile(filepath.Base(file), string(text)), rows)
	}
}

// A score counts round lines.
type score struct {
	lines, right, alarms, wrongOK int
	slips, caught                 int
}

func (s *score) String() string {
	return fmt.Sprintf("%4d lines, %5.1f %% right, %d false alarms, %d wrong ok, %d of %d slips caught",
		s.lines, 100*float64(s.right)/float64(max(s.lines, 1)), s.alarms, s.wrongOK, s.caught, s.slips)
}

// TestCorpus measures how well written patterns are read: the figures for each
// form are logged, and they may not fall below what was reached.
func TestCorpus(t *testing.T) {
	for _, c := range []struct {
		dir                           string
		right, caught, alarm, wrongOK float64 // bounds, in per cent
	}{
		{"../../testdata/corpus", 95.5, 94, 1.5, 0.7},
	} {
		total, forms := &score{}, map[string]*score{}
		corpus(t, c.dir, func(f *source.File, rows []truth) {
			report := CheckText(f, stitch.US)
			wrong := map[int]bool{} // lines with an error
			for _, found := range report.Findings {
				if found.Severity == source.Error {
					wrong[found.Pos().Line] = true
				}
			}
			byLine := map[int][]Row{}
			for _, r := range report.Rounds {
				byLine[r.Line] = append(byLine[r.Line], r)
			}
			for _, want := range rows {
				var row *Row // of several rounds on one line, the next
				if rest := byLine[want.line]; len(rest) > 0 {
					row, byLine[want.line] = &rest[0], rest[1:]
				}
				form := forms[want.form]
				if form == nil {
					form = &score{}
					forms[want.form] = form
				}
				for _, s := range []*score{total, form} {
					s.count(row, want, wrong[want.line])
				}
			}
		})
		var names []string
		for name := range forms {
			names = append(names, name)
		}
		slices.Sort(names)
		for _, name := range names {
			t.Logf("%-20s %v", name, forms[name])
		}
		t.Logf("%-20s %v", filepath.Base(c.dir), total)
		sound := float64(total.lines - total.slips)
		for _, b := range []struct {
			what       string
			got, bound float64
			least      bool
		}{
			{"lines read right", 100 * float64(total.right) / float64(total.lines), c.right, true},
			{"slips caught", 100 * float64(total.caught) / float64(total.slips), c.caught, true},
			{"false alarms", 100 * float64(total.alarms) / sound, c.alarm, false},
			{"lines read wrong and called ok", 100 * float64(total.wrongOK) / float64(total.lines), c.wrongOK, false},
		} {
			if b.least && b.got < b.bound || !b.least && b.got > b.bound {
				t.Errorf("%s: %s %.2f %%, bound %.2f %%", c.dir, b.what, b.got, b.bound)
			}
		}
	}
}

func (s *score) count(row *Row, want truth, wrong bool) {
	s.lines++
	right := row != nil && (want.used < 0 || row.Used == want.used) && (want.made < 0 || row.Made == want.made)
	alarm := wrong || row != nil && (row.Verdict == "mismatch" || row.Verdict == "indivisible")
	if right {
		s.right++
	}
	switch {
	case want.slip != "":
		s.slips++
		if alarm {
			s.caught++
		}
	case alarm:
		s.alarms++
	}
	if row != nil && !right && (row.Verdict == "ok" || row.Verdict == "uncounted") {
		s.wrongOK++
	}
}
