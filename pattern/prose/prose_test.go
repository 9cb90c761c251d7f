package prose

import (
	"fmt"
	"html/template"
	"os"
	"strings"
	"testing"

	"roundelay/pattern/source"
	"roundelay/pattern/stitch"
)

// put shows a directive as its values.
func put(d *Directive) template.HTML {
	return template.HTML(fmt.Sprintf("<b>%s</b>\n", template.HTMLEscapeString(fmt.Sprintf("%s piece=%s size=%s from=%d to=%d view=%s hand=%s caption=%s",
		d.Kind, d.Piece, d.Size, d.From, d.To, d.View, d.Hand, d.Caption))))
}

func TestHTML(t *testing.T) {
	for _, test := range []struct{ name, text, want string }{
		{"directives in their places", "Before.\n\n```rounds piece=Ball from=2 to=6\nThe lower\nhalf.\n```\n\nBetween.\n\n```chart piece=\"Lamp room\" view=whole hand=left\n```\n```gauge\n```\nAfter.\n",
			"<p>Before.</p>\n<b>rounds piece=Ball size= from=2 to=6 view= hand= caption=The lower half.</b>\n<p>Between.</p>\n<b>chart piece=Lamp room size= from=0 to=0 view=whole hand=left caption=</b>\n<b>gauge piece= size= from=0 to=0 view= hand= caption=</b>\n<p>After.</p>\n"},
		{"in a list", "- one\n\n  ```steps\n  ```\n- two\n",
			"<ul>\n<li>\n<p>one</p>\n<b>steps piece= size= from=0 to=0 view= hand= caption=</b>\n</li>\n<li>\n<p>two</p>\n</li>\n</ul>\n"},
		{"tabs between arguments", "```rounds\tfrom=2\tto=3\n```\n", "<b>rounds piece= size= from=2 to=3 view= hand= caption=</b>\n"},
		{"plain blocks stay", "```text\nRnd 1: 6 sc\n```\n\n```\na < b\n```\n",
			"<pre><code class=\"language-text\">Rnd 1: 6 sc\n</code></pre>\n<pre><code>a &lt; b\n</code></pre>\n"},
		{"headings go below the page's own", "# The *buoy*\n\n### Rope & ring\n\n# The buoy\n",
			"<h3 id=\"prose-the-buoy\">The <em>buoy</em></h3>\n<h5 id=\"prose-rope-ring\">Rope &amp; ring</h5>\n<h3 id=\"prose-the-buoy-2\">The buoy</h3>\n"},
		{"a deep topmost heading comes up", "#### Rope\n", "<h3 id=\"prose-rope\">Rope</h3>\n"},
		{"raw HTML is left out", "a <script>alert(1)</script> b\n\n<div onclick=x>\n", "<p>a <!-- raw HTML omitted -->alert(1)<!-- raw HTML omitted --> b</p>\n<!-- raw HTML omitted -->\n"},
		{"a link that would run is left empty", "[x](javascript:alert(1))\n", "<p><a href=\"\">x</a></p>\n"},
		{"pictures of the folder", "![The buoy, *held* in a hand](photos/buoy.jpg)\n", "<p><img src=\"photos/buoy.jpg\" alt=\"The buoy, held in a hand\"></p>\n"},
		{"pictures from elsewhere leave their words", "a ![x < *b*](https://example.org/x.jpg) c\n", "<p>a x &lt; b c</p>\n"},
		{"tables", "| Round | sts |\n|:-|-:|\n| 1 | 6 |\n",
			"<table>\n<thead>\n<tr>\n<th style=\"text-align:left\">Round</th>\n<th style=\"text-align:right\">sts</th>\n</tr>\n</thead>\n<tbody>\n<tr>\n<td style=\"text-align:left\">1</td>\n<td style=\"text-align:right\">6</td>\n</tr>\n</tbody>\n</table>\n"},
		{"nothing", "", ""},
	} {
		t.Run(test.name, func(t *testing.T) {
			got, err := Parse(source.NewFile("prose.md", test.text)).HTML(3, put)
			if err != nil {
				t.Fatal(err)
			}
			if string(got) != test.want {
				t.Errorf("got  %q\nwant %q", got, test.want)
			}
		})
	}
}

func TestFindings(t *testing.T) {
	for _, test := range []struct{ name, text, want string }{
		{"unknown directive", "Text.\n\n```ronds piece=Ball\n```\n", `prose.md:3:4: error: unknown directive ronds (did you mean rounds?) [prose]`},
		{"unknown argument", "```rounds peice=Ball\n```\n", `prose.md:1:11: error: rounds takes no argument peice (did you mean piece?) [prose]`},
		{"argument of another directive", "```rounds view=whole\n```\n", `prose.md:1:11: error: rounds takes no argument view [prose]`},
		{"argument of none", "```gauge piece=Ball\n```\n", `prose.md:1:10: error: gauge takes no argument piece [prose]`},
		{"not a number", "```rounds from=two\n```\n", `prose.md:1:11: error: from needs the number of a round, not "two" [prose]`},
		{"no value", "```rounds from\n```\n", `prose.md:1:11: error: from needs the number of a round, not nothing [prose]`},
		{"unknown view", "```chart view=hole\n```\n", `prose.md:1:10: error: "hole" is no value of view (did you mean whole?) [prose]`},
		{"twice", "```rounds from=1 from=2\n```\n", `prose.md:1:18: error: argument from stands twice [prose]`},
		{"backwards", "> ```rounds from=7 to=3\n> ```\n", `prose.md:1:6: error: round 3 comes before round 7 [prose]`},
		{"picture elsewhere", "See\n![buoy](https://example.org/x.jpg)\n", `prose.md:2:3: error: the picture lies elsewhere, and a page must need no network [prose]`},
		{"picture outside", "![buoy](../x.jpg)\n", `prose.md:1:3: error: the picture lies outside the folder of the pattern [prose]`},
		{"picture outside, without words", "See\n![](photos/../../x.jpg)\n", `prose.md:1:1: error: the picture lies outside the folder of the pattern [prose]`},
		{"too deep", strings.Repeat(">", 65) + "a\n", `prose.md:1:1: error: lists and quotations stand more than 64 deep in each other [prose]`},
		{"too deep lists", "a\n" + strings.Repeat("- ", 65) + "a\n", `prose.md:2:1: error: lists and quotations stand more than 64 deep in each other [prose]`},
		{"too many marks", strings.Repeat("**a_ ", 700), `prose.md:1:1: error: more than 2000 asterisks, underscores and brackets without a blank line between [prose]`},
		{"too many cells", strings.Repeat("|", 1000) + "\n" + strings.Repeat("|\n", 200), `prose.md:101:1: error: the tables have more than 100000 cells [prose]`},
		{"too long", strings.Repeat("long story ", 30000), `prose.md: error: the text is 322 kB long, more than 256 [prose]`},
		{"sound", "# A\n\n- [ ] one\n* * *\n\n```rounds\n```\n" + strings.Repeat("-", 100) + "\n", ""},
	} {
		t.Run(test.name, func(t *testing.T) {
			d := Parse(source.NewFile("prose.md", test.text))
			if got := d.Findings.Error(); got != test.want {
				t.Errorf("got  %s\nwant %s", got, test.want)
			}
			for _, f := range d.Findings {
				if f.Hint == "" {
					t.Errorf("no hint: %s", f)
				}
			}
		})
	}
}

// TestKinds checks that each directive is complete, and can be written with
// each of its arguments.
func TestKinds(t *testing.T) {
	values := map[string]string{"piece": "Ball", "size": "small", "from": "2", "to": "6", "view": "whole", "hand": "left"}
	for _, k := range Kinds() {
		if k.String() == "" || k.Doc() == "" {
			t.Errorf("directive %d has no name or says nothing", k)
		}
		text := "```" + k.String()
		for _, name := range k.Arguments() {
			if values[name] == "" {
				t.Fatalf("no value to try for %s", name)
			}
			text += " " + name + "=" + values[name]
		}
		d := Parse(source.NewFile("prose.md", text+"\n```\n"))
		if len(d.Findings) > 0 || len(d.Directives) != 1 || d.Directives[0].Kind != k {
			t.Errorf("%s is read as %v with %v", text, d.Directives, d.Findings)
		}
	}
	for name := range argumentTable {
		if values[name] == "" {
			t.Errorf("argument %s is not tried", name)
		}
	}
}

func TestWords(t *testing.T) {
	text := "# The *buoy*\n\nSee [round 7](#r7) & `sc 3`,\n**36** increases.\n\n| a | b |\n|---|---|\n| c | d |\n\n```rounds\nnot this\n```\n<b>nor</b>\n"
	d := Parse(source.NewFile("prose.md", text))
	if len(d.Words()) != len(text) {
		t.Fatalf("the words are %d bytes, the text %d", len(d.Words()), len(text))
	}
	var blocks []string
	for block := range strings.SplitSeq(d.Words(), "\n") {
		if words := strings.Join(strings.Fields(block), " "); words != "" {
			blocks = append(blocks, words)
		}
	}
	want := "The buoy/See round 7 & sc 3 , 36 increases./a/b/c/d/nor"
	if got := strings.Join(blocks, "/"); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	for i, c := range []byte(d.Words()) {
		if c != ' ' && c != '\n' && c != text[i] {
			t.Errorf("byte %d is %q, in the file %q", i, c, text[i])
		}
	}
	if got := d.Heading(strings.Index(text, "36")); got != "The buoy" {
		t.Errorf("36 stands under %q", got)
	}
}

func FuzzParse(f *testing.F) {
	for _, name := range []string{"../../testdata/corpus/us-gull.md", "../../testdata/corpus/us-lighthouse.md"} {
		text, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(string(text))
	}
	f.Add("```rounds piece=\"Ball\" from=2\ncaption\n```\n![a](b.jpg)\n> - # x\n")
	f.Fuzz(func(t *testing.T, text string) {
		d := Parse(source.NewFile("prose.md", text))
		if len(d.Words()) != len(text) {
			t.Fatalf("the words are %d bytes, the text %d", len(d.Words()), len(text))
		}
		shown := 0
		html, err := d.HTML(2, func(dir *Directive) template.HTML { shown++; return "" })
		if err != nil {
			t.Fatal(err)
		}
		if shown != len(d.Directives) {
			t.Errorf("%d of %d directives are shown", shown, len(d.Directives))
		}
		if strings.Contains(strings.ToLower(string(html)), "<script") {
			t.Errorf("a script came through: %s", html)
		}
		for _, at := range spans(d) {
			if at.From < 0 || at.To > len(text) || at.To < at.From {
				t.Errorf("%v lies outside the %d bytes of the file", at, len(text))
			}
		}
	})
}

// spans returns every place that a document names.
func spans(d *Document) []source.Span {
	var all []source.Span
	for _, f := range d.Findings {
		all = append(all, f.At)
	}
	for _, dir := range d.Directives {
		all = append(all, dir.At)
	}
	for _, i := range d.Images {
		all = append(all, i.At)
	}
	for _, c := range Claims(d.Words()) {
		all = append(all, c.At)
	}
	return all
}

func TestRounds(t *testing.T) {
	text := `# Buoy

Look at round 4: it begins with one plain stitch before the first increase.

## Ball

Rnd 1: 6 sc in magic ring (6)
Rnd 2: inc in each st around (12)

- **Rnd 3:** (sc 1, inc) x 6 (18)

` + "```rounds piece=Ball from=4\nRnd 4: sc in each st around (18)\n```" + `

**Rope** is worked flat.

| Round | | sts |
|---|---|---|
| Rnd 1 | 4 sc in magic ring | 4 |

Rnd 2: sc in each st around (4)
Rnd 1: 5 sc in magic ring (5)
`
	d := Parse(source.NewFile("prose.md", text))
	passages, _ := d.Rounds(stitch.US)
	var got []string
	for _, p := range passages {
		var lines []string
		for _, l := range p.Lines {
			lines = append(lines, fmt.Sprintf("%s at %d", l.Label, d.File.Pos(l.At.From).Line))
		}
		got = append(got, p.Heading+": "+strings.Join(lines, ", "))
	}
	want := []string{
		"Ball: Rnd 1 at 7, Rnd 2 at 8, Rnd 3 at 10",
		"Rope: Rnd 1 at 20, Rnd 2 at 22",
		"Rope: Rnd 1 at 23",
	}
	if g, w := strings.Join(got, "\n"), strings.Join(want, "\n"); g != w {
		t.Errorf("got\n%s\nwant\n%s", g, w)
	}
	for _, c := range d.Claims(passages) {
		if at := text[c.At.From:c.At.To]; at != "round 4" {
			t.Errorf("a claim at %q", at)
		}
	}
}
