package proof

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
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
		{"../../testdata/corpus", 97.5, 98, 0.6, 0.3},
		{"../../testdata/corpus-second", 97.5, 96, 1.3, 0.3},
		{"../../testdata/corpus-third", 95, 96, 1.6, 0.6},
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

// plantings make a sound round line wrong in the ways that authors do. Each
// returns the line changed, or "" if it does not apply.
var plantings = []struct {
	name  string
	bound float64 // the least share that has to be caught, in per cent
	plant func(line string, declared int) string
}{
	{"count off by one", 95, func(line string, declared int) string {
		return replaceLast(line, declared, declared+1)
	}},
	{"count with its digits swapped", 95, func(line string, declared int) string {
		if declared < 12 || declared > 99 || declared%10 == declared/10 || declared%10 == 0 {
			return ""
		}
		return replaceLast(line, declared, declared%10*10+declared/10)
	}},
	{"one repeat too many", 95, func(line string, _ int) string {
		return repeats.ReplaceAllStringFunc(line, func(s string) string {
			return figures.ReplaceAllStringFunc(s, func(n string) string {
				i, _ := strconv.Atoi(n)
				return strconv.Itoa(i + 1)
			})
		})
	}},
	{"one stitch more in the group", 90, func(line string, _ int) string {
		at := group.FindStringSubmatchIndex(line)
		if at == nil {
			return ""
		}
		i, _ := strconv.Atoi(line[at[2]:at[3]])
		return line[:at[2]] + strconv.Itoa(i+1) + line[at[3]:]
	}},
}

var (
	repeats = regexp.MustCompile(`(?:\)|\]|\*) ?[x×*] ?\d+|(?:\)|\]) ?\d+ times`)
	figures = regexp.MustCompile(`\d+`)
	group   = regexp.MustCompile(`[(\[*](?:sc |hdc |dc )?(\d+)[ ,](?:sc|hdc|dc|tr)?,? ?(?:inc|dec)`)
)

func replaceLast(line string, was, is int) string {
	at := strings.LastIndex(line, strconv.Itoa(was))
	if at < 0 {
		return ""
	}
	end := at + len(strconv.Itoa(was))
	if at > 0 && line[at-1] >= '0' && line[at-1] <= '9' || end < len(line) && line[end] >= '0' && line[end] <= '9' {
		return ""
	}
	return line[:at] + strconv.Itoa(is) + line[end:]
}

// TestPlanted plants one mistake at a time in the sound lines of the corpus and
// measures what share is reported on its line.
func TestPlanted(t *testing.T) {
	planted, caught := make([]int, len(plantings)), make([]int, len(plantings))
	texts := 0
	corpus(t, "../../testdata/corpus", func(f *source.File, rows []truth) {
		if texts++; testing.Short() && texts%8 != 0 {
			return
		}
		lines := strings.SplitAfter(f.Text, "\n")
		sound := map[int]bool{} // lines that are read, and have one round with a count
		seen := map[int]int{}
		for _, r := range CheckText(f, stitch.US).Rounds {
			seen[r.Line]++
			sound[r.Line] = seen[r.Line] == 1 && r.Verdict == "ok" && r.Declared >= 0
		}
		for k, want := range rows {
			if !sound[want.line] || want.slip != "" || want.declared < 0 || want.made != want.declared {
				continue
			}
			i := (want.line + k) % len(plantings)
			p := plantings[i]
			line := lines[want.line-1]
			wrong := p.plant(line, want.declared)
			if wrong == "" || wrong == line {
				continue
			}
			planted[i]++
			text := strings.Join(lines[:want.line-1], "") + wrong + strings.Join(lines[want.line:], "")
			report := CheckText(source.NewFile(f.Name, text), stitch.US)
			for _, found := range report.Findings {
				if found.Severity == source.Error && found.Pos().Line == want.line {
					caught[i]++
					break
				}
			}
		}
	})
	for i, p := range plantings {
		share := 100 * float64(caught[i]) / float64(max(planted[i], 1))
		t.Logf("%-32s %4d planted, %5.1f %% caught", p.name, planted[i], share)
		if planted[i] == 0 || share < p.bound {
			t.Errorf("%s: %.1f %% of %d caught, bound %.0f %%", p.name, share, planted[i], p.bound)
		}
	}
}
