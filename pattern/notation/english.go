package notation

import (
	"slices"
	"strings"

	"roundelay/pattern/stitch"
)

// english has the words of US and UK patterns. Stitch names are those of the
// Craft Yarn Council master list and US/UK term table (see package stitch); the
// words round them are common practice, gathered from published patterns.
var english = (&language{
	code:   "en",
	source: "CYC master list 2018; words round the stitches: common practice",
	entries: slices.Concat(numberWords(), []entry{
		{"sc|single crochet|single crochets|ksc|knit single crochet|knit sc|waistcoat stitch|waistcoat st|waistcoat stitches|waistcoat sts|s c|singles|single", sStitch, st(stitch.SC), 0},
		{"dc|double crochet|double crochets|d c|doubles|double", sStitch, usuk(stitch.DC, stitch.SC), 0},
		{"hdc|half double crochet|half double crochets|half double|half doubles|h d c", sStitch, st(stitch.HDC), 0},
		{"htr|half treble crochet|half treble|half trebles|half treble crochets|h tr", sStitch, st(stitch.HDC), 0},
		{"tr|treble crochet|treble|trebles|triple crochet|triple|tc|trc", sStitch, usuk(stitch.TR, stitch.DC), 0},
		{"dtr|double treble crochet|double treble|double trebles|d tr|double triple|dbl tr|dbl treble|dble tr|dble treble", sStitch, usuk(stitch.DTR, stitch.TR), 0},
		{"trtr|ttr|triple treble crochet|triple treble|tr tr", sStitch, usuk(stitch.Stitch{Base: stitch.TripleTreble}, stitch.DTR), 0},
		{"qtr|quad tr|quadruple treble crochet|quadruple treble", sStitch, st(stitch.Stitch{Base: stitch.TripleTreble}), 0},
		{"esc|extended single crochet|exsc", sStitch, st(stitch.Stitch{Base: stitch.ExtendedSingle}), 0},
		{"ehdc|extended half double crochet|exhdc|ehtr|extended half treble crochet", sStitch, st(stitch.Stitch{Base: stitch.ExtendedHalf}), 0},
		{"edc|extended double crochet|exdc", sStitch, usuk(stitch.Stitch{Base: stitch.ExtendedDouble}, stitch.Stitch{Base: stitch.ExtendedSingle}), 0},
		{"etr|extended treble crochet", sStitch, usuk(stitch.Stitch{Base: stitch.ExtendedTreble}, stitch.Stitch{Base: stitch.ExtendedDouble}), 0},
		{"edtr|extended double treble crochet", sStitch, st(stitch.Stitch{Base: stitch.ExtendedTreble}), 0},
		{"rev sc|revsc|reverse single crochet|crab stitch|crab stitches|crab st|crab sts|reverse sc|rev dc|reverse double crochet", sStitch, st(stitch.Stitch{Base: stitch.ReverseSingle}), 0},
		{"long sc|long single crochet|spike sc|spike single crochet|spike|spikes|spike stitch|spike stitches|spike st|spike sts|long single", sStitch, st(stitch.SC), 0}, // common practice: plain stitches, into an earlier round
		{"long dc|long double crochet|spike dc|spike double crochet", sStitch, usuk(stitch.DC, stitch.SC), 0},
		{"long hdc|long half double crochet|long htr|long half treble", sStitch, st(stitch.HDC), 0},
		{"long tr|long treble|long trebles|long treble crochet", sStitch, usuk(stitch.DTR, stitch.TR), 0}, // of old books, from memory
		{"sl st|slst|sl|ss|slip stitch|slip stitches|sl sts|slip st|slip|slipstitch|sl stitch|s s|sl stich", sStitch, st(stitch.SlSt), 0},
		{"ch|chain|chains|chs|ch st|chain stitch|chain stitches|ch sts|chn", sStitch, st(stitch.Ch), 0},
		{"fpsc|front post single crochet|fp sc", sStitch, st(stitch.Stitch{Base: stitch.Single, Post: stitch.Front}), 0},
		{"bpsc|back post single crochet|bp sc", sStitch, st(stitch.Stitch{Base: stitch.Single, Post: stitch.Back}), 0},
		{"fphdc|front post half double crochet|fp hdc|fphtr|front post half treble crochet|fp htr", sStitch, st(stitch.Stitch{Base: stitch.Half, Post: stitch.Front}), 0},
		{"bphdc|back post half double crochet|bp hdc|bphtr|back post half treble crochet|bp htr", sStitch, st(stitch.Stitch{Base: stitch.Half, Post: stitch.Back}), 0},
		{"fpdc|front post double crochet|fp dc", sStitch, usuk(stitch.Stitch{Base: stitch.Double, Post: stitch.Front}, stitch.Stitch{Base: stitch.Single, Post: stitch.Front}), 0},
		{"bpdc|back post double crochet|bp dc", sStitch, usuk(stitch.Stitch{Base: stitch.Double, Post: stitch.Back}, stitch.Stitch{Base: stitch.Single, Post: stitch.Back}), 0},
		{"fptr|front post treble crochet|fp tr|front post treble", sStitch, usuk(stitch.Stitch{Base: stitch.Treble, Post: stitch.Front}, stitch.Stitch{Base: stitch.Double, Post: stitch.Front}), 0},
		{"bptr|back post treble crochet|bp tr|back post treble", sStitch, usuk(stitch.Stitch{Base: stitch.Treble, Post: stitch.Back}, stitch.Stitch{Base: stitch.Double, Post: stitch.Back}), 0},
		{"fpdtr|front post double treble crochet|fp dtr", sStitch, usuk(stitch.Stitch{Base: stitch.DoubleTreble, Post: stitch.Front}, stitch.Stitch{Base: stitch.Treble, Post: stitch.Front}), 0},
		{"bpdtr|back post double treble crochet|bp dtr", sStitch, usuk(stitch.Stitch{Base: stitch.DoubleTreble, Post: stitch.Back}, stitch.Stitch{Base: stitch.Treble, Post: stitch.Back}), 0},
		{"fptrtr|front post triple treble crochet", sStitch, st(stitch.Stitch{Base: stitch.DoubleTreble, Post: stitch.Front}), 0},
		{"bptrtr|back post triple treble crochet", sStitch, st(stitch.Stitch{Base: stitch.DoubleTreble, Post: stitch.Back}), 0},

		{"loop stitch|loop stitches|loop st|loop sts|fur stitch|fur st|fur sts", sStitch, st(stitch.SC), 0}, // pulled long, one in each stitch

		{"cl|cluster|clusters", sForm, value{form: stitch.Cluster}, 0},
		{"pc|popcorn|popcorns|popcorn stitch|popcorn stitches|popcorn st|pop", sForm, value{form: stitch.Popcorn}, 0},
		{"puff|puffs|puff stitch|puff st|puff stitches|ps", sForm, value{form: stitch.Puff}, 0},
		{"bob|bobs|bbl|bobble|bobbles|bobble stitch|bo|bobble st|bobble stitches", sForm, value{form: stitch.Bobble}, 0},
		{"picot|picots", sForm, value{form: stitch.Picot}, 0},
		{"shell|shells|sh|fan|fans|scallop|scallops", sForm, value{form: stitch.Shell}, 0},

		{"widen|widening|widened|inc|increase|increases|incs|increasing|incr|increased|incease|increasings|incr's|inc's|add", sInc, value{}, 0},
		{"combine|combining|narrow|narrowing|narrowed|dec|decrease|decreases|decs|decreasing|decr|decreased|decreasings|dec's", sDec, value{}, 0},
		{"inv|invdec|inv dec|invisible decrease|invisible decreases|invisible dec|invisibly decrease|idec|inv decrease", sDec, st(stitch.InvDec), 0},
		{"tog|together", sTog, value{}, 0},
		{"st|sts|stitch|stitches|stich|stiches|stitched|stithes|stt", sSt, value{}, 0},
		{"sp|sps|space|spaces|gap|gaps|arch|arches|opening|openings|holes|handle|handles|chain space|chain spaces", sSpace, value{}, 0},
		{"ring|circle|centre ring|center ring|adjustable loop|hole", sRing, value{}, 0},
		{"magic ring|magic circle|mr|magic loop|adjustable ring|sliding loop|slip ring|mc ring|magic cirle|magic rng|loop ring|sliding ring|amr|adjustable circle|yarn ring|thread ring|double ring", sMagic, value{}, 0},
		{"in|into|on|onto|upon|inside|within|in to|down into|down in|down through", sIn, value{}, 0},
		{"under|beneath|underneath", sIn, value{}, under}, // chains are worked under, not in: round them
		{"each|every|ea|each and every", sEach, value{}, 0},
		{"every other|every second|every alternate|each alternate", sEach, value{}, 2},
		{"next|nxt|following|foll|subsequent", sNext, value{}, 0},
		{"same|previous same", sSame, value{}, 0},
		{"stitch at base of|st at base of|stitch at the base of|st at the base of|base of|at base of|at the base of|foot of|at foot of|at the foot of|same stitch as joining|same st as joining|same place as", sSame, value{}, base},
		{"first|1st|beginning|beg", sFirst, value{}, 1},
		{"last|final|end stitch", sLast, value{}, 0},
		{"and|then", sAnd, value{}, 0},
		{"of", sOf, value{}, 0},
		{"to|till|til", sTo, value{}, 0},
		{"from", sFrom, value{}, 0},
		{"around|all around|round about|all the way around|all way around|across|all round|right round|continue around|to end of round|to end of rnd|to end of row|to end|to the end of the round|to the end of the rnd|to the end of the row|to the end|to eor|eor|to end of the round|to end of the row|until end|until end of round|until the end|until the end of the round|till end|till the end|until end of row|all along|to beg of round|entire round|the whole round|whole round|throughout|to the end of round|to the end of row|till end of round|until the round is complete|all the way round|all the way to the end|around entire round|until the end of round|until end of rnd|for the entire round|to end of circle|to end of the rnd|around circle|around the circle|around the ring once|and so around|and so all around|and so on to the end|and so on around|and so on all round|and so on round|and so on all the way|and so on all around|and so all round|and so to the end|all the round|right round the work|all the way|so around|and so repeat|and so continue", sAround, value{}, 0},
		{"end", sEnd, value{}, 0},
		{"repeat|rep|repeating|repeats|repeated|reps|continue|cont|continue to repeat|keep repeating", sRep, value{}, 0},
		{"times|time|tiems", sTimes, value{}, 0},
		{"x", sX, value{}, 0},
		{"once", sOnce, value{}, 1},
		{"twice", sOnce, value{}, 2},
		{"thrice", sOnce, value{}, 3},
		{"more|additional|again|extra", sMore, value{}, 0},
		{"join|joined|joining|close|unite|united|uniting|form a round|form into a round|form it into a round|make it round|sl st to join|slip stitch to join|ss to join|join round|join with", sJoin, value{}, 0},
		{"turn|turning|turn work|turn the work|ch and turn", sTurn, value{}, 0},
		{"decrease by skipping|decreasing by skipping|decrease by missing", sSkip, value{}, 0},
		{"skip|sk|miss|skipping|skp|missing|leave unworked|unworked", sSkip, value{}, 0},
		{"loop|loops|lp|lps", sLoop, value{}, 0},
		{"blo|back loop only|back loops only|bl|back loop|back loops|through back loop|tbl|through back loops|back loops of|back lp only|back lps only|back lp|back lps|through back loops only|back loop of|back loop only of|back loops only of|backloops|backloop|back stitch loop|through back loop only|through the back loop|through the back loops|through the back loops only|through the back loop only", sBLO, value{}, 0},
		{"flo|front loop only|front loops only|fl|front loop|front loops|front lp only|front lp|front lps|through front loops|front loop of|front loops of|through the front loops|through the front loop|through front loop|through front loops only|through the front loops only|frontloop|frontloops", sFLO, value{}, 0},
		{"back|behind", sBack, value{}, 0},
		{"front", sFront, value{}, 0},
		{"only", sOnly, value{}, 0},
		{"post|posts", sPost, value{}, 0},
		{"with|using|w|change to|changing to|switch to|change colour to|change color to|in color|in colour|change yarn to|switch to color|switch to colour", sWith, value{}, 0},
		{"mc|cc|main color|main colour|contrast color|contrast colour|contrasting color|contrasting colour|white|black|red|blue|green|yellow|orange|purple|pink|brown|grey|gray|cream|coral|navy|teal|color|colour|beige|ivory|turquoise|ca|cb|colors|colours|c1|c2", sColour, value{}, 0},
		{"rnd|rnds|round|rounds|rd|rds|rnd's|rounf|rouns|rn", sRound, value{}, 0},
		{"row|rows", sRow, value{}, 0},
		{"total|in total|in all|altogether|in the round|in the whole|in the whole round|on the round|made|stitches total|total of|sts total|all together|completed|remaining|remain|left|rem|counted|worked", sTotal, value{}, 0},
		{"you should have|you will have|you'll have|should have|you now have|you have|there are|now have|there will be|there should be|should now have|gives you|for a total of|total stitches|stitch count|you should now have|making|giving|having|have|makes|that makes|which makes|which leaves|leaves|leaving|that leaves|so you have|so that|you should end up with|end up with|ends with|ending with|to make|total st count|st count|count|number of stitches|total sts|sts count|will make|which will make|there should now be|when there should be|when there will be|when there are|and that's|that's|which is|you get|you're back at|you are back at|you're back to|brings you back to|which brings you back to|you're left with|left with|which brings you to|brings you to|which gives|which gives you|that gives|that gives you|gives|so there are|which should leave|which should give|should leave|should give|it should have|it will have|until you have|until there are|till you have|till there are|until you've got|till you've got|you've got|so you've got|you have got|that gets you|gets you|takes you down to|which takes you down to|brings you down to|which brings you down to|takes you up to|which takes you up to|brings you up to|which brings you up to|you are down to|you're down to|that leaves you with|leaves you with|which leaves you with|you should be at|comes to|which comes to|that comes to|which come to|count them|you are at|you're at|you end with", sHave, value{}, 0},
		{"even|evenly around even|work even|even round|straight|plain|unchanged|do not increase|don't increase|do not decrease|do not inc|do not increase or decrease|without increasing|without increase|no increase|no increases|without decreasing|no changes|no change|no inc|as is|without inc|work straight|without shaping|without widening|without narrowing|no shaping|without increasing or decreasing|without any increase|without any increases|without any increase at all|with no increase|with no increases|with no increasing|with no changes|with no change|without adding|without adding any|without any shaping|with no shaping|work plain", sEven, value{}, 0},
		{"evenly|evenly spaced|evenly around|spaced evenly|equally spaced|evenly across|evenly spaced around|evenly distributed|spread evenly|at even distances|at equal distances|at regular intervals|at equal intervals|as evenly as possible|at even intervals", sEvenly, value{}, 0},
		{"hook|needle", sHook, value{}, 0},
		{"over|across next|across the next", sOver, value{}, 0},
		{"between|bet|btw|in between", sBetween, value{}, 0},
		{"top", sTop, value{}, 0},
		{"all", sAll, value{}, 0},
		{"other side|opposite side|bottom|other edge|underside|other side of the chain|other side of chain|remaining loops|free loops|rotate|opposite side of the chain|opposite side of chain", sOther, value{}, 0},
		{"side|rs|ws|right side|wrong side|right side facing|wrong side facing", sSide, value{}, 0},
		{"corner|corners|corner space|corner spaces|corner sp|corner sps|corner stitch", sCorner, value{}, 0},
		{"long end|long tail|long ends|long tails|long length|long strand|leave a tail|leaving a tail|leave tail|leaving tail|leave a long tail|leaving a long tail|leave long tail|leaving long tail|leaving a long end|leave a long end|leaving long end|leave long end|fasten off|fo|finish off|f o|break off|break yarn|cut yarn|end off|bind off|fasten", sFasten, value{}, 0},
		{"counts|count as|counts as|counting as|counts as a|standing for|counting for|count for|to count as|for first|counted as|counting|this counts as|equals|serves as|as first|for the first|to stand for|stands for|stand for|to represent|representing|takes the place of|in place of|to serve as|in lieu of", sCounts, value{}, 0},
		{"does not count|does not count as|doesn't count|doesn't count as|do not count|do not count as|don't count|don't count as|not counted|not counted as|not counting|never counts|never counts as", sCounts, value{}, -1},
		{"not|does not|doesn't|don't|do not|never|without", sNot, value{}, 0},
		{"until", sUntil, value{}, 0},
		{"beginning of|start of|start|starting|begin|begins", sBegin, value{}, 0},
		{"as given for|as given|work as given for|worked as given for|as instructed for|as described for|as directed for|exactly as|exactly as for|work exactly as for|exactly like|just like|as|same as|like|as for|as in|same as for|alike|repeat of|work as|as per|as on", sAs, value{}, 0},
		{"new color|new colour|next color|next colour|keeping|making sure|make sure|be sure|taking care|being sure|remembering|be careful|bead|beads|marker|markers|place marker|pm|mark|move marker|sm|move marker up", sMark, value{}, 0},
		{"omit|omitting|ending last|ending last rep|ending last repeat|end last rep|end last repeat", sOmit, value{}, 0},
		{"foundation|setup|set up|starting chain|foundation round|foundation rnd|foundation row|base chain", sFound, value{}, 0},
		{"step", sStep, value{}, 0},
		{"mm|cm|inch|inches|yards|yard|yd|yds|grams|gram|g|oz|metres|meters|m|ounces|ounce|ft|ply|ml|skein|skeins|ball|balls|pair|pairs|size|minutes|hours|pm|am|years|year|months|days|page|pages|am", sMeasure, value{}, 0},
		{"stuff|stuffing|eyes|insert|attach|sew|weave|embroider|pin|safety", sStuff, value{}, 0},
		{"center|centre|middle", sCentre, value{}, 0},
		{"rest|the rest|everything else|everywhere else|all others|the others|all the others|in all the others|in all others|in the others|all the rest|in all the rest|all other sts|all other stitches|all the other sts|all the other stitches|in all other sts|in all other stitches|in all the other stitches|in all the other sts|the other stitches|the other sts|in the other stitches|in the other sts|the remainder|the rest of the way|rest of the way|the rest of the round|the rest of the rnd|in the rest|in rest|in remaining|in remaining sts|in remaining stitches|in the remaining|in the remaining stitches|in the remaining sts|in all remaining sts|in all remaining stitches|rest of round|rest of the round|remaining sts|remaining stitches|in rem sts|in rem st|in the rem sts|rem sts|in rest of sts", sRest, value{}, 0},
		{"magic", sMagic, value{}, 0},
		{"work off|working off|crochet off", sWorkOff, value{}, 0},
		{"rtrf|raised treble front|raised tr front|raised treble crochet front|raised front treble|raised front tr|rtf|rftr", sStitch, st(stitch.Stitch{Base: stitch.Double, Post: stitch.Front}), 0},
		{"rtrb|raised treble back|raised tr back|raised treble crochet back|raised back treble|raised back tr|rtb|rbtr", sStitch, st(stitch.Stitch{Base: stitch.Double, Post: stitch.Back}), 0},
		{"rdcf", sStitch, st(stitch.Stitch{Base: stitch.Single, Post: stitch.Front}), 0},
		{"rdcb", sStitch, st(stitch.Stitch{Base: stitch.Single, Post: stitch.Back}), 0},
		{"long|longs", sStitch, st(stitch.DC), 0},
		{"yarn|thread|wool|cotton|incl|inclusive|colour work", sFill, value{}, 0},
		{"stitch below|post of|so that it pops forward|so that it pops out|so it pops out|so it pops forward", sFill, value{}, 0},
		{"finish with|finishing with|finish by|finish off with|edge with", sFill, value{}, 0},
		{"work|working|works|take|taking|worked as follows|work as follows|as follows|make|the|a|an|your|crochet|now|slip off|slip it off|this|that|these|those|it|do|place|put|just|simply|use|complete|next to|so|will|also|finally|alternate|alternately|alternating|standing|for|one time each|by|through|thru|each time|respectively|stitches of|be|is|you|we|i|regular|normal|usual|usually|basic|individual|separate|piece|previous|prev|preceding|round below|old|standard|consecutive|simple|onward|onwards|loosely|tightly|firmly|snugly|carefully|gently|ending|ending with|end with|ending round with|yarn over|along|up|way|start with|begin with|starting with|beginning with|commence with|commence|get|repeat pattern|sequence|pattern|off|doing|them|itself|both|entire|whole|end with|follow|follows|set|group|groups|sets|here|there|thus|always|still|any|being careful|whole way|total of each|it's|its|if|made into|single stitch|perform|performing|proceed|rounds below|going|go|keep|manner|fashion|metal|are", sFill, value{}, 0},
	}),
}).index()

// numberWords are the words of the numbers from 1 to 100 and of the places in an
// order, "first" excepted, which has a meaning of its own.
func numberWords() []entry {
	units := strings.Fields("one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen")
	places := strings.Fields("first second third fourth fifth sixth seventh eighth ninth tenth eleventh twelfth thirteenth fourteenth fifteenth sixteenth seventeenth eighteenth nineteenth")
	tens := strings.Fields("twenty thirty forty fifty sixty seventy eighty ninety")
	es := []entry{{"hundred|one hundred|a hundred", sNumber, value{}, 100}, {"hundredth|one hundredth", sOrdinal, value{}, 100}}
	for i, w := range units {
		es = append(es, entry{w, sNumber, value{}, i + 1})
		if i > 0 {
			es = append(es, entry{places[i], sOrdinal, value{}, i + 1})
		}
	}
	for i, ten := range tens {
		n := 20 + 10*i
		es = append(es, entry{ten, sNumber, value{}, n}, entry{strings.TrimSuffix(ten, "y") + "ieth", sOrdinal, value{}, n})
		for j := range 9 {
			es = append(es, entry{ten + " " + units[j], sNumber, value{}, n + j + 1}, entry{ten + " " + places[j], sOrdinal, value{}, n + j + 1})
		}
	}
	return es
}
