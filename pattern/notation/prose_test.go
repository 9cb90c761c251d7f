package notation

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"roundelay/pattern/source"
)

// TestProse reads rounds that are told in sentences, over a piece that is told
// so too: with the count that they say, or by firm words alone.
func TestProse(t *testing.T) {
	for _, c := range []struct {
		below      int
		line       string
		used, made int
		rounds     int
		word       Word
	}{
		{5, "In the next round put two in every stitch, that gives you 10.", 5, 10, 1, OK},
		{10, "Then go once around plain.", 10, 10, 1, Uncounted},
		{10, "Then one sc in the first stitch and two in the second, and go on so all the way, and you should have 15 stitches.", 10, 15, 1, OK},
		{15, "Now plain again for two rounds.", 15, 15, 2, Uncounted},
		{15, "After that increase in every third stitch, for 20 stitches in all, and that is as wide as she gets.", 15, 20, 1, OK},
		{20, "Make 5 rounds without increasing.", 20, 20, 5, Uncounted},
		{20, "Now the blunt end, which is quick: work two sc and then two together all around, 15 left.", 20, 15, 1, OK},
		{10, "Two together all around until 5 are left, and pull them shut with the needle.", 10, 5, 1, OK},
		{5, "After that it's two in every stitch, ten all together.", 5, 10, 1, OK},
		{10, "Then one plain and one double one, I mean two in one, all the way, and that's fifteen.", 10, 15, 1, OK},
		{20, "Then I do two rounds straight and have a biscuit.", 20, 20, 2, Uncounted},
		{20, "Then for the dimple I work two together all the way round, ten left.", 20, 10, 1, OK},
		{6, "For the second round you increase in every stitch, so you have twelve.", 6, 12, 1, OK},
		{24, "Now just go round and round for four rounds without increasing.", 24, 24, 4, Uncounted},
		{24, "Then two single crochets and a decrease, six times, and you're back at 18.", 24, 18, 1, OK},
		{12, "Decrease all the way round.", 12, 6, 1, Uncounted},
		{10, "Then continue in a tube on 10 stitches for 22 rounds.", 10, 10, 22, OK},
		{10, "Close the end by working two together 5 times.", 10, 5, 1, Uncounted},
		{24, "In the next round decrease by skipping every fourth stitch, which leaves 18.", 24, 18, 1, OK},
		{24, "Work 4 rounds even, 24 stitches in each.", 24, 24, 4, OK},
		{24, "Keep going, 1 sc in each sc, until the wall stands 2 inches.", 24, 24, 1, Uncounted},
		{16, "Now one stitch in the first, two in the second, and so on, which will make twenty-four.", 16, 24, 1, OK},
		{32, "Then work 1 dc and 1 chain in every stitch.", 32, 32, 1, Uncounted},
		{5, "In the next round put two in every stitch, that gives you 12.", 5, 10, 1, Mismatch},
		{12, "Go on increasing six in every round until there are 36.", -1, -1, 1, Unread},
		{7, "Now double up: two in every stitch. Fourteen.", 7, 14, 1, OK},
		{28, "To close it, two plain, two together, all the way round. That leaves 21.", 28, 21, 1, OK},
	} {
		text := fmt.Sprintf("Put %d sc into a magic ring.\n%s\n", c.below, c.line)
		lines := Read(source.NewFile("told", text), ReadOptions{}).Lines()
		got := Expand(lines, Options{AnyYarn: true}).Verdicts
		if len(got) != 2 {
			t.Errorf("%d rounds, want 2: %s", len(got), c.line)
			continue
		}
		v := got[1]
		if v.Used != c.used || v.Made != c.made || v.Last-v.First+1 != c.rounds || v.Word != c.word {
			t.Errorf("used %d made %d in %d rounds, %s; want %d, %d, %d, %s: %s", v.Used, v.Made, v.Last-v.First+1, v.Word, c.used, c.made, c.rounds, c.word, c.line)
		}
	}
}

// TestProseBegins reads the ways in which a sentence begins a piece.
func TestProseBegins(t *testing.T) {
	for line, want := range map[string]int{
		"You take a small hook and leftover sock yarn, and you make a slip ring and put 5 sc into it.":                        5,
		"Well, you take the orange and you make a loop with 5 single crochets in it.":                                         5,
		"For the body take the sand-colored yarn and chain 2. Put 5 single crochets in the first chain.":                      5,
		"Make a chain of three; in the first stitch of it put eight single crochets.":                                         8,
		"With the black, make a chain of four and join the ends; into this ring work eight stitches of single crochet.":       8,
		"Begin with a magic ring and work six single crochets into it, then pull it tight. Mark the place with a safety pin.": 6,
	} {
		lines := Read(source.NewFile("told", line+"\n"), ReadOptions{}).Lines()
		got := Expand(lines, Options{AnyYarn: true}).Verdicts
		if len(got) != 1 || got[0].Made != want || got[0].Word != Uncounted {
			t.Errorf("want one round of %d: %s: %+v", want, line, got)
		}
	}
}

// TestProseParagraph reads several rounds out of one paragraph, labels in words
// among them, and the lines of a sentence that is broken.
func TestProseParagraph(t *testing.T) {
	for _, c := range []struct {
		text string
		made []int
	}{
		{"With black make a chain of four and join the ends; into this ring work eight stitches of single crochet. " +
			"Second round, two stitches into every loop, which will make 16. Third round, one stitch in the first loop, two in the next, " +
			"and so repeat, making 24. Fourth round, without increase. Now take the red, and work 1 double crochet and 1 chain in every loop. " +
			"Last round, 1 single crochet under every chain, and fasten off neatly.\n", []int{8, 16, 24, 24, 24, 24}},
		{"Make a magic ring with 10 single crochets. Then one sc and\ntwo in the next all around, 15, and then two rounds plain. Stuff it well. Then one sc and two together all around, 10 left,\n" +
			"then two together, all the way, five left, which you do not draw up yet.\n", []int{10, 15, 15, 10, 5}},
		{"SMALL MAT.\n\nPut 10 sc into a magic ring. 2nd round: 2 sc in every s.c. 3rd round: 6 ch., miss 1, 1 sc in the next; repeat all round. 4th round: 7 sc under every 6 ch.\n\n" +
			"LARGE MAT.\n\nWork as the Small Mat to the end of the 2nd round, and then as follows:—3rd round: 1 sc in each of 3, 2 sc in the next; repeat, making 25.\n", []int{10, 20, 10, 70, 25}},
		{"HEAD\n\nRnd 1: 6 sc in magic ring\nRnd 2: inc x 6\nRnd 3: (sc 1, inc) x 6\n\nBODY\n\nWork as for the head up to round 2.\nRnd 3: sc in each st around\n", []int{6, 12, 18, 12}},
		{"Put 5 sc into a magic ring.\nTwo in every stitch, ten in all, and then two rounds plain, and then two together all around until 5 are left.\n", []int{5, 10, 10, 5}},
	} {
		got := Expand(Read(source.NewFile("told", c.text), ReadOptions{}).Lines(), Options{AnyYarn: true}).Verdicts
		var made []int
		for _, v := range got {
			made = append(made, v.Made)
		}
		if fmt.Sprint(made) != fmt.Sprint(c.made) {
			t.Errorf("made %v, want %v: %s", made, c.made, c.text)
		}
	}
}

// TestProseTexts reads whole patterns that are told, in several voices: the number
// of the last round of each sentence, and what it uses and makes, are those
// worked out by hand (-1 where the words are beyond us).
func TestProseTexts(t *testing.T) {
	files, err := filepath.Glob("testdata/told/*.txt")
	if err != nil || len(files) < 7 {
		t.Fatalf("%d texts, %v", len(files), err)
	}
	for _, name := range files {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		want, err := os.ReadFile(strings.TrimSuffix(name, ".txt") + ".tsv")
		if err != nil {
			t.Fatal(err)
		}
		got := "last\tused\tmade\n"
		for _, part := range Read(source.NewFile(name, string(text)), ReadOptions{}).Parts() {
			for _, v := range Expand(part.Lines, Options{AnyYarn: true}).Verdicts {
				got += fmt.Sprintf("%d\t%d\t%d\n", v.Last, v.Used, v.Made)
			}
		}
		if got != string(want) {
			t.Errorf("%s: got\n%swant\n%s", name, got, want)
		}
	}
}

// TestProseNotes keeps talk of rounds for what it is, between rounds with labels
// and between rounds that are told.
func TestProseNotes(t *testing.T) {
	for _, note := range []string{
		"If you work two in every stitch you should have 24.",
		"The first 4 rounds make the crown.",
		"I always increase in every stitch of the second round, it is the only way.",
		"Increase in every stitch means 2 sc in each.",
		"You could make 5 rounds without increasing instead.",
		"Count the stitches: there should be 12.",
		"Stuff it with wool, and sew it up all the way round.",
		"The second one wants six stitches more.",
		"My aunt did 24 stitches for her bigger ones, two in each.",
	} {
		for _, text := range []string{
			"Rnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (12)\n" + note + "\nRnd 3: (sc 1, inc) x 6 (18)\n",
			"Put 6 sc into a magic ring.\nThen two in each stitch, twelve in all.\n" + note + "\nThen one sc and two in the next all around, 18 stitches.\n",
		} {
			read := Read(source.NewFile("told", text), ReadOptions{})
			for _, v := range Expand(read.Lines(), Options{AnyYarn: true}).Verdicts {
				if strings.Contains(note, text[v.Line.At.From:v.Line.At.To]) {
					t.Errorf("taken for a round: %s", note)
				}
			}
		}
	}
}
