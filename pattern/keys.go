package pattern

import (
	"slices"
	"strconv"
	"strings"

	"roundelay/pattern/shape"
)

// A Key is one key of a file: how it is checked, and what the reference says
// about it.
type Key struct {
	Path     string // "piece.step.after"; a table has a line of its own
	Kind     Kind
	Required bool     // in the table where it stands, if that is there
	Words    []string // of a Word: all that it may be
	Min, Max float64  // of a Whole or a Number; of Lines and Tables, Max is how many there may be
	Default  string   // what holds if it is left out, in words; "" if then nothing is said
	Example  string   // a value as it stands in a file, where that of the kind says too little
	Doc      string
}

// Name returns the last part of the path.
func (k *Key) Name() string { return k.Path[strings.LastIndexByte(k.Path, '.')+1:] }

// example returns how the key is written, with a value.
func (k *Key) example() string {
	value := k.Example
	switch {
	case value != "":
	case k.Kind == Table, k.Kind == Numbers:
		return "[" + k.Path + "] on a line of its own, and what belongs to it below"
	case k.Kind == Tables:
		return "[[" + k.Path + "]] on a line of its own, once for each, and what belongs to it below"
	case k.Kind == Word:
		value = strconv.Quote(k.Words[0])
	default:
		value = kindExamples[k.Kind]
	}
	return k.Name() + " = " + value
}

var kindExamples = [...]string{
	Line: `"..."`, Lines: `["...", "..."]`, Text: `"..."`, Whole: "1", Number: "1", Sum: "1", Flag: "true",
	Date: "2026-05-04", Colour: `"#c9563c"`, Length: `"10 cm"`,
}

// A Kind is a kind of value.
type Kind uint8

// The kinds of values.
const (
	Line    Kind = iota // text in one line
	Lines               // a list of texts in one line each
	Text                // text of any number of lines
	Word                // one of a few words
	Whole               // a whole number
	Number              // a number
	Sum                 // a whole number, or text with a sum of the pattern's numbers in braces
	Flag                // true or false
	Date                // a day, without quotes
	Colour              // "#rrggbb"
	Length              // "10 cm"
	Numbers             // a table of whole numbers under names of the maker's choice
	Table               // one table
	Tables              // tables of one kind, each headed [[name]]
)

// Bounds of a pattern file.
const (
	maxLine    = 300    // characters of a Line
	maxText    = 100000 // characters of a Text
	maxNumber  = 100000 // of a number under [numbers], and of what a sum comes to
	maxStepped = 10000  // round numbers
)

var levels = []string{"basic", "easy", "intermediate", "complex"}

// The keys of gaugeKeys, hookKeys, weighedKeys, shapeKeys and stepKeys stand in
// more than one table.
func gaugeKeys(path string) []Key {
	return []Key{
		{Path: path, Kind: Table, Doc: "the gauge that the finished size goes by"},
		{Path: path + ".stitch", Kind: Line, Default: "single crochet", Example: `"sc"`, Doc: "the stitch it was measured in, in the terms of the pattern"},
		{Path: path + ".stitches", Kind: Number, Min: 0.1, Max: 500, Default: "an estimate from the rounds", Example: `22`, Doc: "how many stitches go over the length"},
		{Path: path + ".rounds", Kind: Number, Min: 0.1, Max: 500, Default: "an estimate from the stitches", Example: `24`, Doc: "how many rounds go over the length"},
		{Path: path + ".over", Kind: Length, Required: true, Doc: "the length"},
	}
}

func hookKeys(path string) []Key {
	return []Key{
		{Path: path, Kind: Table, Doc: "the hook"},
		{Path: path + ".size", Kind: Line, Required: true, Example: `"3.25 mm (US D-3)"`, Doc: "its diameter in millimetres, and its US name in brackets if you like"},
	}
}

func weighedKeys(path string) []Key {
	return []Key{
		{Path: path + ".weighed_before", Kind: Number, Min: 0.1, Max: 100000, Example: `50`, Doc: "grams of the ball before the thing was made; estimates then go by what it took"},
		{Path: path + ".weighed_after", Kind: Number, Min: 0, Max: 100000, Example: `38.5`, Doc: "grams of what was left of it"},
	}
}

func shapeKeys(path string, required bool) []Key {
	return []Key{
		{Path: path, Kind: Table, Doc: "what its rounds are planned for, in place of rounds; a size says only what differs"},
		{Path: path + ".form", Kind: Word, Words: Forms, Required: required, Doc: "the form of the finished piece"},
		{Path: path + ".across", Kind: Length, Doc: "how wide it is at the widest place"},
		{Path: path + ".height", Kind: Length, Doc: "how high it is"},
		{Path: path + ".base", Kind: Length, Doc: "how wide the base of a cup or basket is"},
		{Path: path + ".points", Kind: Lines, Max: 200, Example: `["0 at 0", "60 mm at 25 mm", "0 at 50 mm"]`, Doc: "of the form points: widths at heights above the start"},
		{Path: path + ".start", Kind: Word, Words: endWords, Default: "what is usual for the form", Doc: "how it begins"},
		{Path: path + ".end", Kind: Word, Words: endWords, Default: "what is usual for the form", Doc: "how it ends"},
		{Path: path + ".first", Kind: Whole, Min: 1, Max: shape.MaxPlanCount, Default: "what lies flat", Example: `6`, Doc: "stitches of the first round"},
		{Path: path + ".multiple", Kind: Whole, Min: 1, Max: shape.MaxPlanCount, Default: "6, or 3 where that fits better", Example: `6`, Doc: "what every count is a multiple of"},
		{Path: path + ".widest", Kind: Whole, Min: 1, Max: shape.MaxPlanCount, Default: "what fits", Example: `48`, Doc: "stitches of the widest round"},
		{Path: path + ".rounds", Kind: Whole, Min: 1, Max: shape.MaxRounds, Default: "what fits", Example: `26`, Doc: "how many rounds"},
		{Path: path + ".symmetric", Kind: Flag, Default: "false", Doc: "whether the counts have to be the same backwards"},
	}
}

func stepKeys(path string) []Key {
	return []Key{
		{Path: path, Kind: Tables, Max: 200, Doc: "something to do between rounds"},
		{Path: path + ".after", Kind: Sum, Required: true, Min: 0, Max: maxStepped, Doc: "the number of the round after which it is done; 0 is before the first"},
		{Path: path + ".do", Kind: Word, Words: stepWords, Default: "note", Doc: "what is done"},
		{Path: path + ".say", Kind: Text, Doc: "the words for it; needed for a note"},
	}
}

var stepWords = []string{"stuff", "close", "eyes", "yarn", "turn", "mark", "fasten off", "note"}

// outlineWords say what outline a chart has.
var outlineWords = []string{"round", cornered}

const cornered = "shape"

// patternKeys is every key of a pattern file. What is not here is refused; what
// is here is checked as it says, and explained by it in the reference.
var patternKeys = slices.Concat(
	[]Key{
		{Path: "title", Kind: Line, Required: true, Example: `"Mooring buoy"`, Doc: "the name of the pattern"},
		{Path: "summary", Kind: Line, Doc: "one sentence for the index, the feed and search engines"},
		{Path: "author", Kind: Line, Default: "the author of the book", Doc: "who made the pattern"},
		{Path: "version", Kind: Line, Example: `"1.0"`, Doc: "the version, in quotes"},
		{Path: "date", Kind: Date, Doc: "the day of this version"},
		{Path: "terms", Kind: Word, Required: true, Words: []string{"US", "UK"}, Doc: "the terms that the rounds are written in"},
		{Path: "level", Kind: Word, Words: levels, Doc: "how much skill the project asks for"},
		{Path: "for", Kind: Line, Example: `"3 years and over"`, Doc: "who the finished thing is for"},
		{Path: "licence", Kind: Line, Default: "the licence of the book", Example: `"CC BY 4.0"`, Doc: "the licence of the pattern"},
		{Path: "finished_items", Kind: Line, Doc: "what may be done with things made from the pattern"},
		{Path: "finished_size", Kind: Line, Example: `"75 mm across"`, Doc: "the size of the finished thing as you measured it"},
		{Path: "contact", Kind: Line, Doc: "where a reader can ask"},
		{Path: "care", Kind: Text, Doc: "how to wash and keep it"},
		{Path: "prose", Kind: Line, Default: "prose.md, if there is one", Example: `"prose.md"`, Doc: "the file with your own words, in the pattern's folder"},
		{Path: "materials", Kind: Lines, Max: 100, Example: `["stuffing", "stitch marker"]`, Doc: "what is needed besides yarn and hook"},
		{Path: "notes", Kind: Lines, Max: 100, Doc: "what to know before beginning"},
		{Path: "finishing", Kind: Lines, Max: 100, Doc: "what to do when the pieces are made"},
		{Path: "numbers", Kind: Numbers, Min: 0, Max: maxNumber, Doc: "numbers that the rounds name in braces, as in (sc {side}, inc) x 6, and that a size may set anew"},
	},
	gaugeKeys("gauge"),
	hookKeys("hook"),
	[]Key{
		{Path: "swatch", Kind: Table, Doc: "a piece of fabric that was weighed, or whose yarn was measured; estimates of yarn then go by it"},
		{Path: "swatch.stitch", Kind: Line, Default: "that of the gauge", Example: `"sc"`, Doc: "the stitch it is worked in, in the terms of the pattern"},
		{Path: "swatch.width", Kind: Length, Required: true, Doc: "its width"},
		{Path: "swatch.height", Kind: Length, Required: true, Doc: "its height"},
		{Path: "swatch.grams", Kind: Number, Min: 0.01, Max: 100000, Example: `12`, Doc: "what it weighs"},
		{Path: "swatch.metres", Kind: Number, Min: 0.01, Max: 1000000, Example: `32`, Doc: "how much yarn is in it, by length"},

		{Path: "yarn", Kind: Tables, Max: 50, Doc: "a yarn or colour; pieces begin with the first unless they say otherwise"},
		{Path: "yarn.key", Kind: Line, Required: true, Example: `"MC"`, Doc: "the short name that the rounds use"},
		{Path: "yarn.colour", Kind: Line, Example: `"coral"`, Doc: "its colour in words"},
		{Path: "yarn.hex", Kind: Colour, Doc: "its colour for the chart"},
		{Path: "yarn.weight", Kind: Whole, Min: 0, Max: 7, Example: `3`, Doc: "its weight class, 0 (lace) to 7 (jumbo)"},
		{Path: "yarn.fibre", Kind: Line, Doc: "what it is made of"},
		{Path: "yarn.metres_per_100g", Kind: Number, Min: 1, Max: 5000, Example: `270`, Doc: "its run length"},
		{Path: "yarn.grams", Kind: Number, Min: 0, Max: 100000, Example: `18`, Doc: "how much of it you used, by weight"},
		{Path: "yarn.metres", Kind: Number, Min: 0, Max: 1000000, Doc: "how much of it you used, by length"},
		{Path: "yarn.wraps_per_inch", Kind: Number, Min: 1, Max: 100, Default: "about what its weight class has", Example: `12`, Doc: "how often it goes round an inch of a ruler, for estimates"},
	},
	weighedKeys("yarn"),
	[]Key{
		{Path: "photo", Kind: Tables, Max: 100, Doc: "a picture"},
		{Path: "photo.file", Kind: Line, Required: true, Example: `"photos/buoy.jpg"`, Doc: "its file, in the pattern's folder"},
		{Path: "photo.alt", Kind: Line, Required: true, Example: `"A striped ball on a window sill"`, Doc: "what it shows, in words"},

		{Path: "change", Kind: Tables, Max: 200, Doc: "a correction or revision"},
		{Path: "change.version", Kind: Line, Example: `"1.1"`, Doc: "the version that has it"},
		{Path: "change.date", Kind: Date, Required: true, Doc: "its day"},
		{Path: "change.say", Kind: Text, Required: true, Example: `"Round 9: the count is 30."`, Doc: "what was changed, with the rounds it touches"},

		{Path: "allow", Kind: Tables, Max: 100, Doc: "a finding of the proof that is meant to be as it is"},
		{Path: "allow.code", Kind: Line, Required: true, Doc: "the name of the check, as the finding has it in square brackets"},
		{Path: "allow.reason", Kind: Line, Required: true, Doc: "why it is meant"},
		{Path: "allow.round", Kind: Whole, Min: 1, Max: maxStepped, Default: "every round", Doc: "the number of the round it is about"},

		{Path: "piece", Kind: Tables, Required: true, Max: 50, Doc: "a piece, worked without a break"},
		{Path: "piece.name", Kind: Line, Required: true, Example: `"Ball"`, Doc: "its name"},
		{Path: "piece.style", Kind: Word, Words: []string{"spiral", "joined"}, Default: "spiral", Doc: "whether rounds run on or are joined"},
		{Path: "piece.chain", Kind: Word, Words: []string{"counts", "does not count"}, Default: "by convention: not for sc and hdc, for dc and taller", Doc: "whether a chain at the start of a round counts as a stitch"},
		{Path: "piece.make", Kind: Whole, Min: 1, Max: 100, Default: "1", Doc: "how many to make"},
		{Path: "piece.stuffed", Kind: Flag, Default: "true if a step says stuff; its size is also that of a filled piece if it is narrow at both ends", Doc: "whether it is stuffed"},
		{Path: "piece.firmness", Kind: Word, Words: firmnessWords, Default: "normal", Doc: "how hard it is stuffed"},
		{Path: "piece.filling_grams", Kind: Number, Min: 0.01, Max: 100000, Example: `4.5`, Default: "an estimate", Doc: "what its filling weighs"},
		{Path: "piece.flat", Kind: Flag, Default: "true if its rounds grow fast enough for it", Doc: "whether it lies flat when it is finished"},
		{Path: "piece.outline", Kind: Word, Words: outlineWords, Default: "\"round\"", Example: `"shape"`, Doc: "the outline of its chart: round, or with the corners that its increases make, so that a square is drawn square"},
		{Path: "piece.closed", Kind: Flag, Default: "true if a step says close", Doc: "whether its last round is gathered"},
		{Path: "piece.yarn", Kind: Line, Default: "the first yarn", Example: `"MC"`, Doc: "the key of the yarn it begins with"},
		{Path: "piece.rounds", Kind: Text, Example: `''' and the rounds, one a line, and ''' at the end`, Doc: "the rounds, one a line, between three single quotes"},
	},
	shapeKeys("piece.shape", true),
	stepKeys("piece.step"),
	[]Key{
		{Path: "size", Kind: Tables, Max: 20, Doc: "a size; what it leaves out is as in the pattern"},
		{Path: "size.name", Kind: Line, Required: true, Example: `"Small"`, Doc: "its name"},
		{Path: "size.finished_size", Kind: Line, Default: "as in the pattern", Doc: "the size of the finished thing"},
		{Path: "size.numbers", Kind: Numbers, Min: 0, Max: maxNumber, Doc: "numbers that differ from those of the pattern"},
	},
	gaugeKeys("size.gauge"),
	hookKeys("size.hook"),
	[]Key{
		{Path: "size.yarn", Kind: Tables, Max: 50, Doc: "how much of a yarn this size takes"},
		{Path: "size.yarn.key", Kind: Line, Required: true, Example: `"MC"`, Doc: "the key of the yarn"},
		{Path: "size.yarn.grams", Kind: Number, Min: 0, Max: 100000, Example: `12`, Doc: "how much of it, by weight"},
		{Path: "size.yarn.metres", Kind: Number, Min: 0, Max: 1000000, Doc: "how much of it, by length"},
	},
	weighedKeys("size.yarn"),
	[]Key{
		{Path: "size.piece", Kind: Tables, Max: 50, Doc: "a piece that this size works otherwise"},
		{Path: "size.piece.name", Kind: Line, Required: true, Example: `"Ball"`, Doc: "the name of the piece"},
		{Path: "size.piece.make", Kind: Whole, Min: 1, Max: 100, Default: "as in the pattern", Doc: "how many to make"},
		{Path: "size.piece.rounds", Kind: Text, Default: "as in the pattern", Example: `''' and the rounds, one a line, and ''' at the end`, Doc: "its rounds in this size"},
	},
	shapeKeys("size.piece.shape", false),
	stepKeys("size.piece.step"),
)

// bookKeys is every key of a book file.
var bookKeys = []Key{
	{Path: "title", Kind: Line, Required: true, Example: `"Story-time shelf"`, Doc: "the name of the book"},
	{Path: "summary", Kind: Line, Doc: "one sentence about it"},
	{Path: "author", Kind: Line, Doc: "who made its patterns, where they don't say"},
	{Path: "address", Kind: Line, Example: `"https://example.org/shelf/"`, Doc: "where it will be published"},
	{Path: "language", Kind: Line, Default: "\"en\"", Example: `"en-GB"`, Doc: "the language of its words, as a tag"},
	{Path: "licence", Kind: Line, Example: `"CC BY 4.0"`, Doc: "the licence of its patterns, where they don't say"},
	{Path: "patterns", Kind: Lines, Max: 500, Default: "every folder with a pattern.toml, by name", Example: `["mooring-buoy", "limpet"]`, Doc: "the folders of its patterns, in order"},
}

// PatternKeys returns every key of a pattern file, in the order of the
// reference.
func PatternKeys() []Key { return slices.Clone(patternKeys) }

// BookKeys returns every key of a book file, in the order of the reference.
func BookKeys() []Key { return slices.Clone(bookKeys) }
