package source

import (
	"fmt"
	"os"
	"strings"
	"testing"
	"unicode/utf8"
)

func TestSpan(t *testing.T) {
	for _, test := range []struct{ a, b, want Span }{
		{Span{}, Span{}, Span{}},
		{Span{3, 5}, Span{}, Span{3, 5}},
		{Span{}, Span{3, 5}, Span{3, 5}},
		{Span{3, 5}, Span{8, 9}, Span{3, 9}},
		{Span{8, 9}, Span{3, 5}, Span{3, 9}},
		{Span{3, 9}, Span{4, 5}, Span{3, 9}},
	} {
		if got := test.a.Join(test.b); got != test.want {
			t.Errorf("%v.Join(%v) = %v, want %v", test.a, test.b, got, test.want)
		}
	}
}

func TestPos(t *testing.T) {
	for _, test := range []struct {
		name, text string
		offset     int
		line, col  int
	}{
		{"start", "sc 3\ninc", 0, 1, 1},
		{"in the first line", "sc 3\ninc", 3, 1, 4},
		{"a line end belongs to its line", "sc 3\ninc", 4, 1, 5},
		{"start of the second line", "sc 3\ninc", 5, 2, 1},
		{"end", "sc 3\ninc", 8, 2, 4},
		{"past the end", "sc 3\ninc", 99, 2, 4},
		{"before the start", "sc 3\ninc", -1, 1, 1},
		{"after a last line end", "sc 3\n", 5, 2, 1},
		{"empty", "", 0, 1, 1},
		{"two bytes are one column", "Größe 3", len("Größe "), 1, 7},
		{"so are four", "🧶 sc", len("🧶 "), 1, 3},
		{"a byte inside a character is that character's end", "ß", 1, 1, 2},
		{"CRLF", "sc 3\r\ninc", 6, 2, 1},
		{"the CR is at the end of its line", "sc 3\r\ninc", 4, 1, 5},
		{"a CR alone ends no line", "sc 3\rinc", 5, 1, 6},
		{"a byte that is not text is a column", "\xff\xffsc", 2, 1, 3},
	} {
		p := NewFile("ball.toml", test.text).Pos(test.offset)
		if p.Line != test.line || p.Column != test.col {
			t.Errorf("%s: offset %d of %q is %d:%d, want %d:%d", test.name, test.offset, test.text, p.Line, p.Column, test.line, test.col)
		}
		if p.File != "ball.toml" || !p.IsValid() {
			t.Errorf("%s: not a place in the file: %+v", test.name, p)
		}
	}
}

func TestLine(t *testing.T) {
	f := NewFile("", "one\r\n\ntwo\nthree")
	for n, want := range []string{0: "", 1: "one", 2: "", 3: "two", 4: "three", 5: ""} {
		if got := f.Line(n); got != want {
			t.Errorf("line %d is %q, want %q", n, got, want)
		}
	}
	if got := f.Line(-1); got != "" {
		t.Errorf("line -1 is %q", got)
	}
}

// find returns the place of what in text.
func find(t *testing.T, text, what string) Span {
	t.Helper()
	i := strings.Index(text, what)
	if i < 0 || strings.Count(text, what) > 1 {
		t.Fatalf("%q is not in %q, or more than once", what, text)
	}
	return Span{i, i + len(what)}
}

func TestSection(t *testing.T) {
	const text = "title = 'Größe'\nrounds = '''\nRnd 3: sc {side}, inc ({6*side}) end\n'''\n"
	f := NewFile("ball.toml", text)
	part := f.Section(find(t, text, "Rnd 3: sc {side}, inc ({6*side}) end"),
		Edit{find(t, text, "{side}"), "12"}, Edit{find(t, text, "{6*side}"), "72"})
	if want := "Rnd 3: sc 12, inc (72) end"; part.Text != want {
		t.Fatalf("the section is %q, want %q", part.Text, want)
	}
	for _, test := range []struct{ in, out string }{ // a text in the section, and where it was written
		{"Rnd", "Rnd"},
		{"sc", "sc"},
		{"12", "{side}"},
		{", inc", ", inc"},
		{"72", "{6*side}"},
		{") end", ") end"},
	} {
		got := part.Pos(find(t, part.Text, test.in).From)
		if want := f.Pos(find(t, text, test.out).From); got != want {
			t.Errorf("%q is at %+v, want %+v", test.in, got, want)
		}
	}
	if got, want := part.Pos(strings.Index(part.Text, "12")+1), f.Pos(find(t, text, "{side}").From); got != want {
		t.Errorf("a place inside new text is %+v, want the start of what it replaced, %+v", got, want)
	}
	if got, want := part.Pos(len(part.Text)), f.Pos(find(t, text, " end").To); got != want {
		t.Errorf("the end is %+v, want %+v", got, want)
	}

	// A section of a section tells its places as those of the whole file.
	inner := part.Section(find(t, part.Text, "inc (72)"), Edit{find(t, part.Text, "inc"), "2 sc in next st"})
	if want := "2 sc in next st (72)"; inner.Text != want {
		t.Fatalf("the inner section is %q, want %q", inner.Text, want)
	}
	for in, out := range map[string]string{"2 sc": "inc", "(": "({6", "72": "{6*"} {
		got := inner.Pos(find(t, inner.Text, in).From)
		if want := f.Pos(find(t, text, out).From); got != want {
			t.Errorf("%q in the inner section is at %+v, want %+v", in, got, want)
		}
	}
	if root, at := inner.Root(0); root != f || at != find(t, text, "inc").From {
		t.Errorf("the root of the inner section is %q, %d", root.Name, at)
	}
}

func TestSectionEdits(t *testing.T) {
	for _, test := range []struct {
		name  string
		edits []Edit
		text  string
		roots []int // the offset in "abcdef" of each offset in the section, and of its end
	}{
		{"none", nil, "bcde", []int{1, 2, 3, 4, 5}},
		{"at the start", []Edit{{Span{1, 2}, "XY"}}, "XYcde", []int{1, 1, 2, 3, 4, 5}},
		{"at the end", []Edit{{Span{4, 5}, "XY"}}, "bcdXY", []int{1, 2, 3, 4, 4, 5}},
		{"side by side", []Edit{{Span{2, 3}, "X"}, {Span{3, 4}, "YZ"}}, "bXYZe", []int{1, 2, 3, 3, 4, 5}},
		{"taken out", []Edit{{Span{2, 4}, ""}}, "be", []int{1, 4, 5}},
		{"put in", []Edit{{Span{3, 3}, "XY"}}, "bcXYde", []int{1, 2, 3, 3, 3, 4, 5}},
		{"all of it", []Edit{{Span{1, 5}, "X"}}, "X", []int{1, 5}},
	} {
		f := NewFile("f", "abcdef")
		part := f.Section(Span{1, 5}, test.edits...)
		if part.Text != test.text {
			t.Errorf("%s: text is %q, want %q", test.name, part.Text, test.text)
			continue
		}
		for at, want := range test.roots {
			if _, got := part.Root(at); got != want {
				t.Errorf("%s: offset %d of %q is %d of the file, want %d", test.name, at, part.Text, got, want)
			}
		}
	}
}

func TestPrint(t *testing.T) {
	f := NewFile("ball.toml", "title = \"Größe\"\n\tmake = 0\nbad = \"\x1b[31m\x07\u0085\"\n"+strings.Repeat("x", 300)+"!"+strings.Repeat("y", 300)+"\n\n")
	at := func(what string) Span { return find(t, f.Text, what) }
	rounds := f.Section(at("make = 0"), Edit{at("0"), "many"})
	findings := Findings{
		{File: f, At: at("öße"), Severity: Warning, Code: "a-check", Message: "a vowel", Hint: "write oe"},
		{File: f, At: at("make"), Severity: Error, Code: "b-check", Message: "after a tab"},
		{File: rounds, At: find(t, rounds.Text, "many"), Severity: Error, Code: "c-check", Message: "in a section"},
		{File: f, At: at("\x07"), Severity: Error, Code: "d-check", Message: "a bell \x07 and \xff"},
		{File: f, At: at("!"), Code: "e-check", Message: "in a long line"},
		{File: f, Severity: Note, Code: "f-check", Message: "the whole file"},
		{Severity: Note, Code: "g-check", Message: "no file"},
		{File: f, At: Span{len(f.Text) - 1, len(f.Text)}, Code: "h-check", Message: "an empty line"},
	}
	var b strings.Builder
	if err := findings.Print(&b); err != nil {
		t.Fatal(err)
	}
	want := `ball.toml:1:12: warning: a vowel [a-check]
    title = "Größe"
               ^
    write oe
ball.toml:2:2: error: after a tab [b-check]
     make = 0
     ^
ball.toml:2:9: error: in a section [c-check]
     make = 0
            ^
ball.toml:3:13: error: a bell � and � [d-check]
    bad = "�[31m��"
                ^
ball.toml:4:301: note: in a long line [e-check]
    ` + strings.Repeat("x", 60) + "!" + strings.Repeat("y", 59) + `
    ` + strings.Repeat(" ", 60) + `^
ball.toml: note: the whole file [f-check]
note: no file [g-check]
ball.toml:5:1: note: an empty line [h-check]
`
	if got := b.String(); got != want {
		t.Errorf("got:\n%s\nwant:\n%s", got, want)
	}
}

func TestSort(t *testing.T) {
	a, b := NewFile("a.toml", "12345\n12345\n"), NewFile("b.toml", "12345\n")
	findings := Findings{
		{File: b, At: Span{1, 2}, Code: "x", Message: "in b"},
		{File: a, At: Span{7, 8}, Severity: Note, Code: "x", Message: "line 2, a note"},
		{File: a, At: Span{7, 8}, Severity: Error, Code: "x", Message: "line 2, an error"},
		{File: a, At: Span{3, 4}, Code: "y", Message: "line 1, code y"},
		{File: a, At: Span{3, 4}, Code: "x", Message: "line 1, code x"},
		{File: a, At: Span{1, 2}, Code: "z", Message: "first column"},
		{File: a, Code: "z", Message: "all of a"},
		{File: a, At: Span{3, 4}, Code: "x", Message: "line 1, code x"},
	}
	findings.Sort()
	want := `a.toml: note: all of a [z]
a.toml:1:2: note: first column [z]
a.toml:1:4: note: line 1, code x [x]
a.toml:1:4: note: line 1, code y [y]
a.toml:2:2: error: line 2, an error [x]
a.toml:2:2: note: line 2, a note [x]
b.toml:1:2: note: in b [x]`
	if got := findings.Error(); got != want {
		t.Errorf("got:\n%s\nwant:\n%s", got, want)
	}
}

func TestErr(t *testing.T) {
	for _, test := range []struct {
		findings Findings
		isError  bool
	}{
		{nil, false},
		{Findings{{Severity: Note}, {Severity: Warning}}, false},
		{Findings{{Severity: Note}, {Severity: Error}}, true},
	} {
		if err := test.findings.Err(); (err != nil) != test.isError {
			t.Errorf("%v: Err is %v", test.findings, err)
		}
	}
	if n := (Findings{{Severity: Note}, {Severity: Error}, {Severity: Note}}).Count(Note); n != 2 {
		t.Errorf("counted %d notes, want 2", n)
	}
	for s, want := range map[Severity]string{Note: "note", Warning: "warning", Error: "error"} {
		if got, _ := s.MarshalText(); string(got) != want {
			t.Errorf("severity %d is written %q, want %q", s, got, want)
		}
	}
}

// FuzzSection checks that a section's places are inside what it is a section
// of, go on in order, and are exact where the text is as it was written.
func FuzzSection(f *testing.F) {
	f.Add("Rnd 3: sc {side}, inc", 2, 20, 10, 16, "12")
	f.Add("ß\r\nö", 0, 6, 2, 4, "")
	f.Fuzz(func(t *testing.T, text string, from, to, editFrom, editTo int, with string) {
		if !(0 <= from && from <= editFrom && editFrom <= editTo && editTo <= to && to <= len(text)) {
			t.Skip()
		}
		file := NewFile("f", text)
		part := file.Section(Span{from, to}, Edit{Span{editFrom, editTo}, with})
		last := from
		for at := 0; at <= len(part.Text); at++ {
			root, offset := part.Root(at)
			if root != file || offset < last || offset > to {
				t.Fatalf("offset %d of the section is %d, after %d, outside %d to %d", at, offset, last, from, to)
			}
			last = offset
			new := at >= editFrom-from && at < editFrom-from+len(with)
			if !new && at < len(part.Text) && part.Text[at] != text[offset] {
				t.Fatalf("offset %d of the section, %q, is told as %q", at, part.Text[at], text[offset])
			}
			p := part.Pos(at)
			before := text[:offset]
			if line := strings.Count(before, "\n") + 1; p.Line != line {
				t.Fatalf("offset %d is told as line %d, %d line ends stand before it", at, p.Line, line-1)
			}
			if col := utf8.RuneCountInString(before[strings.LastIndexByte(before, '\n')+1:]) + 1; p.Column != col {
				t.Fatalf("offset %d is told as column %d, %d characters stand before it", at, p.Column, col-1)
			}
		}
	})
}

func ExampleFile_Section() {
	file := NewFile("ball.toml", "rounds = '''\nRnd 3: sc {side}, incc\n'''\n")
	at := strings.Index(file.Text, "{side}")
	rounds := file.Section(Span{13, 35}, Edit{Span{at, at + len("{side}")}, "4"})
	fmt.Println(rounds.Text)
	Findings{{
		File: rounds, At: Span{13, 17}, Severity: Error, Code: "unread",
		Message: "incc is not understood", Hint: "did you mean inc?",
	}}.Print(os.Stdout)
	// Output:
	// Rnd 3: sc 4, incc
	// ball.toml:2:19: error: incc is not understood [unread]
	//     Rnd 3: sc {side}, incc
	//                       ^
	//     did you mean inc?
}
