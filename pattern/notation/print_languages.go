package notation

import (
	"cmp"
	"maps"
	"slices"
	"strconv"

	"roundelay/pattern/stitch"
)

// A tongue is a language other than English. It has the Short style only.
type tongue struct {
	phrases
	posts       map[stitch.Base]post
	together    string                 // {n} {st} closed together
	front, back string                 // {st} round the post, from the front and from the back
	forms       map[stitch.Form]string // {n} {st}
}

// A post is the name of a plain stitch, with what it is known from: "seen" in
// patterns of the language, "disputed" where those differ, or "memory".
type post struct{ abbr, term, basis string }

// abbr returns the short name of s, or the US one where the language has none
// in the table.
func (t *tongue) abbr(s stitch.Stitch) string {
	return t.name(s, func(p post) string {
		if p.abbr == "" {
			return p.term
		}
		return p.abbr
	}, s.Abbr(stitch.US))
}

// term returns the name of s in full, or the US one.
func (t *tongue) term(s stitch.Stitch) string {
	return t.name(s, func(p post) string { return p.term }, s.Term(stitch.US))
}

func (t *tongue) name(s stitch.Stitch, of func(post) string, english string) string {
	p, ok := t.posts[s.Base]
	if !ok {
		return english
	}
	st := of(p)
	switch s.Post {
	case stitch.Front:
		st = fill(t.front, "st", st)
	case stitch.Back:
		st = fill(t.back, "st", st)
	}
	form := t.forms[s.Form]
	switch {
	case s.Form == stitch.Plain:
		return st
	case s.Form == stitch.Together:
		form = t.together
	case form == "":
		return english
	}
	return fill(form, "n", strconv.Itoa(int(s.N)), "st", st)
}

// tongues are the languages. Names of stitches, rounds, increases, decreases
// and of the magic ring come from published patterns and lists of terms; how far
// each is to be trusted is told beside it (testdata/languages.tsv has the rows
// they are tested against, with their sources). All other words are from memory.
// A stitch that a language has no name for keeps its US name.
var tongues = map[string]*tongue{
	"de": {
		posts: map[stitch.Base]post{
			stitch.Chain:  {"Lm", "Luftmasche", "seen"},
			stitch.Slip:   {"Km", "Kettmasche", "seen"},
			stitch.Single: {"fM", "feste Masche", "seen"},
			stitch.Half:   {"hStb", "halbes Stäbchen", "seen"},
			stitch.Double: {"Stb", "Stäbchen", "seen"},
			stitch.Treble: {"DStb", "Doppelstäbchen", "seen"},
		},
		together: "{n} {st} zus", front: "{st} v. vorne", back: "{st} v. hinten",
		forms: map[stitch.Form]string{
			stitch.Invisible: "unsichtbare Abn", stitch.Bobble: "Noppe aus {n} {st}", stitch.Popcorn: "Popcornmasche aus {n} {st}",
			stitch.Cluster: "Büschelmasche aus {n} {st}", stitch.Picot: "Picot aus {n} {st}",
		},
		phrases: phrases{
			round: "Rd {a}", rounds: "Rd {a}-{b} ({n} Runden)",
			sts: placeForms{one: "1 M", many: "{n} M"}, sps: placeForms{one: "1 Lm-Bogen", many: "{n} Lm-Bögen"},
			inc: "zun", dec: "Abn", chain: "{n} Lm", with: "mit {yarn}", turn: "wenden",
			magicRing: "FR", inMagicRing: "in FR", chainRing: "{n} Lm, mit 1 Km zum Ring schließen",
			join: "mit 1 Km in die 1. M schließen", joinTop: "mit 1 Km in die {n}. Lm schließen",
			countsAs: " (zählt als 1 {st})", countsOver: " (zählt als 1 {st} und {n} Lm)", notCounted: " (zählt nicht als M)",
			otherSide: "auf der anderen Seite der Lm-Kette weiter",
			in:        "in {place}",
			next:      placeForms{"die nächste M", "jede der nächsten {n} M", "jede M der Rd"},
			nextChain: placeForms{"die nächste Lm", "jede der nächsten {n} Lm", "jede Lm"},
			space:     placeForms{"den nächsten {ch}-Lm-Bogen", "jeden der nächsten {n} {ch}-Lm-Bögen", "jeden {ch}-Lm-Bogen der Rd"},
			gap:       placeForms{one: "zwischen die nächsten 2 M", all: "zwischen alle M der Rd"},
			same:      "dieselbe M", sameSpace: "denselben Lm-Bogen", sameChain: "dieselbe Lm", ring: "den Ring",
			fromHook: "die {nth} Lm ab der Nadel", ordinal: "{n}.", lastChain: "die letzte Lm",
			skip:      placeForms{one: "1 M überspringen", many: "{n} M überspringen"},
			skipChain: placeForms{one: "1 Lm überspringen", many: "{n} Lm überspringen"},
			skipSpace: placeForms{one: "1 Lm-Bogen überspringen", many: "{n} Lm-Bögen überspringen"},
			loops:     [3]string{BackLoop: "hMg", FrontLoop: "vMg"},
			loopMode:  "nur {loop}", loopOf: "in {place} (nur {loop})", inLoops: "{work} in {loop}",
			words: vocabulary{
				round: term{"Rd", "Runde(n)", "", "seen"}, stitch: term{"M", "Masche(n)", "", "seen"}, space: term{"Lm-Bogen", "Bogen aus Luftmaschen", "", "memory"},
				back: term{"hMg", "hinteres Maschenglied", "", "memory"}, front: term{"vMg", "vorderes Maschenglied", "", "memory"},
				increase: term{"zun", "Masche verdoppeln", "2 {sc} in 1 M", "seen; abbreviation from memory"},
				decrease: term{"Abn", "zwei Maschen zusammenhäkeln", "2 {sc} zusammen abmaschen", "seen"},
				magic:    term{"FR", "Fadenring", "", "seen"},
			},
		},
	},
	"fr": {
		posts: map[stitch.Base]post{
			stitch.Chain:  {"ml", "maille en l'air", "seen"},
			stitch.Slip:   {"mc", "maille coulée", "seen"},
			stitch.Single: {"ms", "maille serrée", "seen"},
			stitch.Half:   {"demi-br", "demi-bride", "disputed"}, // db is also double bride
			stitch.Double: {"br", "bride", "seen"},
			stitch.Treble: {"dbr", "double bride", "disputed"},
		},
		together: "{n} {st} ens", front: "{st} en relief avant", back: "{st} en relief arrière",
		forms: map[stitch.Form]string{stitch.Invisible: "dim invisible", stitch.Popcorn: "popcorn de {n} {st}", stitch.Picot: "picot de {n} {st}"},
		phrases: phrases{
			round: "Tour {a}", rounds: "Tours {a}-{b} ({n} tours)", afterLabel: " : ",
			sts: placeForms{one: "1 m", many: "{n} m"}, sps: placeForms{one: "1 arceau", many: "{n} arceaux"},
			inc: "aug", dec: "dim", chain: "{n} ml", with: "avec {yarn}", turn: "tourner",
			magicRing: "cercle magique", inMagicRing: "dans un cercle magique", chainRing: "{n} ml, fermer en anneau par 1 mc",
			join: "fermer par 1 mc dans la 1re m", joinTop: "fermer par 1 mc dans la {n}e ml",
			countsAs: " (compte pour 1 {st})", countsOver: " (compte pour 1 {st} et {n} ml)", notCounted: " (ne compte pas pour 1 m)",
			otherSide: "continuer de l'autre côté de la chaînette",
			in:        "dans {place}",
			next:      placeForms{"la m suivante", "chacune des {n} m suivantes", "chaque m du tour"},
			nextChain: placeForms{"la ml suivante", "chacune des {n} ml suivantes", "chaque ml"},
			space:     placeForms{"l'arceau de {ch} ml suivant", "chacun des {n} arceaux de {ch} ml suivants", "chaque arceau de {ch} ml du tour"},
			gap:       placeForms{one: "entre les 2 m suivantes", all: "entre toutes les m du tour"},
			same:      "la même m", sameSpace: "le même arceau", sameChain: "la même ml", ring: "l'anneau",
			fromHook: "la {nth} ml à partir du crochet", ordinal: "{n}e", lastChain: "la dernière ml",
			skip:      placeForms{one: "sauter 1 m", many: "sauter {n} m"},
			skipChain: placeForms{one: "sauter 1 ml", many: "sauter {n} ml"},
			skipSpace: placeForms{one: "sauter 1 arceau", many: "sauter {n} arceaux"},
			loops:     [3]string{BackLoop: "brin arrière", FrontLoop: "brin avant"},
			loopMode:  "dans le {loop} seulement", loopOf: "dans le {loop} de {place}", inLoops: "{work} dans le {loop}",
			words: vocabulary{
				round: term{"", "tour", "", "seen"}, stitch: term{"m", "maille", "", "seen; abbreviation from memory"}, space: term{"", "arceau", "boucle de mailles en l'air", "memory"},
				back: term{"", "brin arrière", "", "memory"}, front: term{"", "brin avant", "", "memory"},
				increase: term{"aug", "augmentation", "2 {sc} dans 1 m", "seen"},
				decrease: term{"dim", "diminution", "2 {sc} rabattues ensemble", "seen"},
				magic:    term{"", "cercle magique", "", "seen"},
			},
		},
	},
	"es": {
		posts: map[stitch.Base]post{
			stitch.Chain:  {"cad", "cadeneta", "seen"},
			stitch.Slip:   {"pr", "punto raso", "seen"},
			stitch.Single: {"pb", "punto bajo", "disputed"}, // of Spain; elsewhere medio punto
			stitch.Half:   {"pma", "punto medio alto", "disputed"},
			stitch.Double: {"pa", "punto alto", "disputed"},
			stitch.Treble: {"pad", "punto alto doble", "seen"},
		},
		together: "{n} {st} juntos", front: "{st} en relieve por delante", back: "{st} en relieve por detrás",
		forms: map[stitch.Form]string{stitch.Invisible: "dism invisible", stitch.Popcorn: "punto popcorn de {n} {st}", stitch.Picot: "picot de {n} {st}"},
		phrases: phrases{
			round: "Vuelta {a}", rounds: "Vueltas {a}-{b} ({n} vueltas)",
			sts: placeForms{one: "1 p", many: "{n} p"}, sps: placeForms{one: "1 arco", many: "{n} arcos"},
			inc: "aum", dec: "dism", chain: "{n} cad", with: "con {yarn}", turn: "girar",
			magicRing: "AM", inMagicRing: "en AM", chainRing: "{n} cad, cerrar en anillo con 1 pr",
			join: "cerrar con 1 pr en el 1.er p", joinTop: "cerrar con 1 pr en la {n}.ª cad",
			countsAs: " (cuenta como 1 {st})", countsOver: " (cuenta como 1 {st} y {n} cad)", notCounted: " (no cuenta como p)",
			otherSide: "seguir por el otro lado de la cadeneta",
			in:        "en {place}",
			next:      placeForms{"el siguiente p", "cada uno de los siguientes {n} p", "cada p de la vuelta"},
			nextChain: placeForms{"la siguiente cad", "cada una de las siguientes {n} cad", "cada cad"},
			space:     placeForms{"el siguiente arco de {ch} cad", "cada uno de los siguientes {n} arcos de {ch} cad", "cada arco de {ch} cad de la vuelta"},
			gap:       placeForms{one: "entre los siguientes 2 p", all: "entre todos los p de la vuelta"},
			same:      "el mismo p", sameSpace: "el mismo arco", sameChain: "la misma cad", ring: "el anillo",
			fromHook: "la {nth} cad desde el ganchillo", ordinal: "{n}.ª", lastChain: "la última cad",
			skip:      placeForms{one: "saltar 1 p", many: "saltar {n} p"},
			skipChain: placeForms{one: "saltar 1 cad", many: "saltar {n} cad"},
			skipSpace: placeForms{one: "saltar 1 arco", many: "saltar {n} arcos"},
			loops:     [3]string{BackLoop: "hebra trasera", FrontLoop: "hebra delantera"},
			loopMode:  "solo {loop}", loopOf: "en {place} (solo {loop})", inLoops: "{work} en la {loop}",
			words: vocabulary{
				round: term{"", "vuelta", "", "seen"}, stitch: term{"p", "punto", "", "seen; abbreviation from memory"}, space: term{"", "arco", "espacio de cadenetas", "memory"},
				back: term{"", "hebra trasera", "", "memory"}, front: term{"", "hebra delantera", "", "memory"},
				increase: term{"aum", "aumento", "2 {sc} en 1 p", "seen"},
				decrease: term{"dism", "disminución", "2 {sc} cerrados juntos", "seen"},
				magic:    term{"AM", "anillo mágico", "", "seen"},
			},
		},
	},
	"nl": {
		posts: map[stitch.Base]post{
			stitch.Chain:  {"l", "losse", "seen"},
			stitch.Slip:   {"hv", "halve vaste", "seen"},
			stitch.Single: {"v", "vaste", "seen"},
			stitch.Half:   {"hstk", "half stokje", "seen"},
			stitch.Double: {"stk", "stokje", "seen"},
			stitch.Treble: {"dstk", "dubbel stokje", "seen"},
		},
		together: "{n} {st} samen", front: "reliëf-{st} voor", back: "reliëf-{st} achter",
		forms: map[stitch.Form]string{stitch.Invisible: "onzichtbare mindering", stitch.Popcorn: "popcornsteek van {n} {st}", stitch.Picot: "picot van {n} {st}"},
		phrases: phrases{
			round: "Toer {a}", rounds: "Toer {a}-{b} ({n} toeren)",
			sts: placeForms{one: "1 steek", many: "{n} steken"}, sps: placeForms{one: "1 boog", many: "{n} bogen"},
			inc: "meerd", dec: "mind", chain: "{n} l", with: "met {yarn}", turn: "keer het werk",
			magicRing: "magische ring", inMagicRing: "in magische ring", chainRing: "{n} l, sluit met 1 hv tot een ring",
			join: "sluit met 1 hv in de 1e steek", joinTop: "sluit met 1 hv in de {n}e l",
			countsAs: " (telt als 1 {st})", countsOver: " (telt als 1 {st} en {n} l)", notCounted: " (telt niet als steek)",
			otherSide: "ga verder langs de andere kant van de lossenketting",
			in:        "in {place}",
			next:      placeForms{"de volgende steek", "elk van de volgende {n} steken", "elke steek van de toer"},
			nextChain: placeForms{"de volgende l", "elk van de volgende {n} l", "elke l"},
			space:     placeForms{"de volgende boog van {ch} l", "elk van de volgende {n} bogen van {ch} l", "elke boog van {ch} l van de toer"},
			gap:       placeForms{one: "tussen de volgende 2 steken", all: "tussen alle steken van de toer"},
			same:      "dezelfde steek", sameSpace: "dezelfde boog", sameChain: "dezelfde l", ring: "de ring",
			fromHook: "de {nth} l vanaf de naald", ordinal: "{n}e", lastChain: "de laatste l",
			skip:      placeForms{one: "sla 1 steek over", many: "sla {n} steken over"},
			skipChain: placeForms{one: "sla 1 l over", many: "sla {n} l over"},
			skipSpace: placeForms{one: "sla 1 boog over", many: "sla {n} bogen over"},
			loops:     [3]string{BackLoop: "achterste lus", FrontLoop: "voorste lus"},
			loopMode:  "alleen in de {loop}", loopOf: "in de {loop} van {place}", inLoops: "{work} in de {loop}",
			words: vocabulary{
				round: term{"", "toer", "", "seen"}, stitch: term{"", "steek", "", "seen"}, space: term{"", "boog", "boog van lossen", "memory"},
				back: term{"", "achterste lus", "", "memory"}, front: term{"", "voorste lus", "", "memory"},
				increase: term{"meerd", "meerderen", "2 {sc} in 1 steek", "seen; abbreviation from memory"},
				decrease: term{"mind", "minderen", "2 {sc} samenhaken", "seen; abbreviation from memory"},
				magic:    term{"", "magische ring", "", "seen"},
			},
		},
	},
	"it": {
		posts: map[stitch.Base]post{
			stitch.Chain:  {"cat", "catenella", "seen"},
			stitch.Slip:   {"mbss", "maglia bassissima", "seen"},
			stitch.Single: {"mb", "maglia bassa", "seen"},
			stitch.Half:   {"mma", "mezza maglia alta", "seen"},
			stitch.Double: {"ma", "maglia alta", "seen"},
			stitch.Treble: {"", "maglia altissima", "disputed"},
		},
		together: "{n} {st} insieme", front: "{st} in rilievo davanti", back: "{st} in rilievo dietro",
		forms: map[stitch.Form]string{stitch.Invisible: "dim invisibile", stitch.Popcorn: "punto popcorn di {n} {st}", stitch.Picot: "picot di {n} {st}"},
		phrases: phrases{
			round: "Giro {a}", rounds: "Giri {a}-{b} ({n} giri)",
			sts: placeForms{one: "1 maglia", many: "{n} maglie"}, sps: placeForms{one: "1 archetto", many: "{n} archetti"},
			inc: "aum", dec: "dim", chain: "{n} cat", with: "con {yarn}", turn: "girare",
			magicRing: "anello magico", inMagicRing: "nell'anello magico", chainRing: "{n} cat, chiudere ad anello con 1 mbss",
			join: "chiudere con 1 mbss nella 1ª maglia", joinTop: "chiudere con 1 mbss nella {n}ª cat",
			countsAs: " (vale 1 {st})", countsOver: " (vale 1 {st} e {n} cat)", notCounted: " (non vale come maglia)",
			otherSide: "proseguire sull'altro lato della catenella",
			in:        "{place}",
			next:      placeForms{"nella maglia successiva", "in ognuna delle {n} maglie successive", "in ogni maglia del giro"},
			nextChain: placeForms{"nella cat successiva", "in ognuna delle {n} cat successive", "in ogni cat"},
			space:     placeForms{"nell'archetto di {ch} cat successivo", "in ognuno dei {n} archetti di {ch} cat successivi", "in ogni archetto di {ch} cat del giro"},
			gap:       placeForms{one: "tra le 2 maglie successive", all: "tra tutte le maglie del giro"},
			same:      "nella stessa maglia", sameSpace: "nello stesso archetto", sameChain: "nella stessa cat", ring: "nell'anello",
			fromHook: "nella {nth} cat dall'uncinetto", ordinal: "{n}ª", lastChain: "nell'ultima cat",
			skip:      placeForms{one: "saltare 1 maglia", many: "saltare {n} maglie"},
			skipChain: placeForms{one: "saltare 1 cat", many: "saltare {n} cat"},
			skipSpace: placeForms{one: "saltare 1 archetto", many: "saltare {n} archetti"},
			loops:     [3]string{BackLoop: "asola posteriore", FrontLoop: "asola anteriore"},
			loopMode:  "solo nell'{loop}", loopOf: "{place} (solo {loop})", inLoops: "{work} nell'{loop}",
			words: vocabulary{
				round: term{"", "giro", "", "seen"}, stitch: term{"", "maglia", "", "disputed"}, space: term{"", "archetto", "archetto di catenelle", "memory"},
				back: term{"", "asola posteriore", "", "memory"}, front: term{"", "asola anteriore", "", "memory"},
				increase: term{"aum", "aumento", "2 {sc} in 1 maglia", "seen"},
				decrease: term{"dim", "diminuzione", "2 {sc} chiuse insieme", "seen"},
				magic:    term{"", "anello magico", "", "seen"},
			},
		},
	},
	"pt": { // of Brazil
		posts: map[stitch.Base]post{
			stitch.Chain:  {"corr", "correntinha", "seen"},
			stitch.Slip:   {"pbx", "ponto baixíssimo", "disputed"},
			stitch.Single: {"pb", "ponto baixo", "seen"},
			stitch.Half:   {"mpa", "meio ponto alto", "seen"},
			stitch.Double: {"pa", "ponto alto", "seen"},
			stitch.Treble: {"pad", "ponto alto duplo", "seen"},
		},
		together: "{n} {st} juntos", front: "{st} em relevo pela frente", back: "{st} em relevo por trás",
		forms: map[stitch.Form]string{stitch.Invisible: "dim invisível", stitch.Popcorn: "ponto pipoca de {n} {st}", stitch.Picot: "picô de {n} {st}"},
		phrases: phrases{
			round: "Carr {a}", rounds: "Carr {a}-{b} ({n} carreiras)",
			sts: placeForms{one: "1 pt", many: "{n} pts"}, sps: placeForms{one: "1 arco", many: "{n} arcos"},
			inc: "aum", dec: "dim", chain: "{n} corr", with: "com {yarn}", turn: "virar",
			magicRing: "círculo mágico", inMagicRing: "no círculo mágico", chainRing: "{n} corr, fechar em anel com 1 pbx",
			join: "fechar com 1 pbx no 1º pt", joinTop: "fechar com 1 pbx na {n}ª corr",
			countsAs: " (conta como 1 {st})", countsOver: " (conta como 1 {st} e {n} corr)", notCounted: " (não conta como pt)",
			otherSide: "continuar pelo outro lado da correntinha",
			in:        "{place}",
			next:      placeForms{"no próximo pt", "em cada um dos próximos {n} pts", "em cada pt da carr"},
			nextChain: placeForms{"na próxima corr", "em cada uma das próximas {n} corr", "em cada corr"},
			space:     placeForms{"no próximo arco de {ch} corr", "em cada um dos próximos {n} arcos de {ch} corr", "em cada arco de {ch} corr da carr"},
			gap:       placeForms{one: "entre os próximos 2 pts", all: "entre todos os pts da carr"},
			same:      "no mesmo pt", sameSpace: "no mesmo arco", sameChain: "na mesma corr", ring: "no anel",
			fromHook: "na {nth} corr a partir da agulha", ordinal: "{n}ª", lastChain: "na última corr",
			skip:      placeForms{one: "pular 1 pt", many: "pular {n} pts"},
			skipChain: placeForms{one: "pular 1 corr", many: "pular {n} corr"},
			skipSpace: placeForms{one: "pular 1 arco", many: "pular {n} arcos"},
			loops:     [3]string{BackLoop: "alça de trás", FrontLoop: "alça da frente"},
			loopMode:  "só na {loop}", loopOf: "{place} (só {loop})", inLoops: "{work} na {loop}",
			words: vocabulary{
				round: term{"carr", "carreira", "", "seen"}, stitch: term{"pt(s)", "ponto(s)", "", "seen"}, space: term{"", "arco", "arco de correntinhas", "memory"},
				back: term{"", "alça de trás", "", "memory"}, front: term{"", "alça da frente", "", "memory"},
				increase: term{"aum", "aumento", "2 {sc} em 1 pt", "seen"},
				decrease: term{"dim", "diminuição", "2 {sc} fechados juntos", "seen"},
				magic:    term{"", "círculo mágico", "", "seen"},
			},
		},
	},
	"sv": {
		posts: map[stitch.Base]post{
			stitch.Chain:  {"lm", "luftmaska", "disputed"}, // in Finland kedjemaska
			stitch.Slip:   {"sm", "smygmaska", "seen"},
			stitch.Single: {"fm", "fast maska", "seen"},
			stitch.Half:   {"hst", "halvstolpe", "seen"},
			stitch.Double: {"st", "stolpe", "seen"},
			stitch.Treble: {"dst", "dubbelstolpe", "seen"},
		},
		together: "{n} {st} ihop", front: "relief-{st} fram", back: "relief-{st} bak",
		forms: map[stitch.Form]string{stitch.Invisible: "osynlig minsk", stitch.Popcorn: "popcornmaska av {n} {st}", stitch.Picot: "picot av {n} {st}"},
		phrases: phrases{
			round: "Varv {a}", rounds: "Varv {a}-{b} ({n} varv)",
			sts: placeForms{one: "1 m", many: "{n} m"}, sps: placeForms{one: "1 båge", many: "{n} bågar"},
			inc: "ök", dec: "minsk", chain: "{n} lm", with: "med {yarn}", turn: "vänd",
			magicRing: "magisk ring", inMagicRing: "i magisk ring", chainRing: "{n} lm, slut till en ring med 1 sm",
			join: "slut med 1 sm i 1:a m", joinTop: "slut med 1 sm i {n}:e lm",
			countsAs: " (räknas som 1 {st})", countsOver: " (räknas som 1 {st} och {n} lm)", notCounted: " (räknas inte som m)",
			otherSide: "fortsätt längs andra sidan av luftmaskorna",
			in:        "i {place}",
			next:      placeForms{"nästa m", "var och en av nästa {n} m", "varje m varvet runt"},
			nextChain: placeForms{"nästa lm", "var och en av nästa {n} lm", "varje lm"},
			space:     placeForms{"nästa båge av {ch} lm", "var och en av nästa {n} bågar av {ch} lm", "varje båge av {ch} lm varvet runt"},
			gap:       placeForms{one: "mellan nästa 2 m", all: "mellan alla m varvet runt"},
			same:      "samma m", sameSpace: "samma båge", sameChain: "samma lm", ring: "ringen",
			fromHook: "lm nr {nth} från virknålen", ordinal: "{n}", lastChain: "sista lm",
			skip:      placeForms{one: "hoppa över 1 m", many: "hoppa över {n} m"},
			skipChain: placeForms{one: "hoppa över 1 lm", many: "hoppa över {n} lm"},
			skipSpace: placeForms{one: "hoppa över 1 båge", many: "hoppa över {n} bågar"},
			loops:     [3]string{BackLoop: "bakre maskbågen", FrontLoop: "främre maskbågen"},
			loopMode:  "endast {loop}", loopOf: "i {place} (endast {loop})", inLoops: "{work} i {loop}",
			words: vocabulary{
				round: term{"", "varv", "", "seen"}, stitch: term{"m", "maska", "", "seen"}, space: term{"", "båge", "båge av luftmaskor", "memory"},
				back: term{"", "bakre maskbågen", "", "memory"}, front: term{"", "främre maskbågen", "", "memory"},
				increase: term{"ök", "ökning", "2 {sc} i 1 m", "seen"},
				decrease: term{"minsk", "minskning", "2 {sc} ihop", "seen"},
				magic:    term{"", "magisk ring", "", "seen"},
			},
		},
	},
	"da": {
		posts: map[stitch.Base]post{
			stitch.Chain:  {"lm", "luftmaske", "seen"},
			stitch.Slip:   {"km", "kædemaske", "seen"},
			stitch.Single: {"fm", "fastmaske", "seen"},
			stitch.Half:   {"hstm", "halv stangmaske", "seen"},
			stitch.Double: {"stm", "stangmaske", "seen"},
			stitch.Treble: {"dstgm", "dobbelt stangmaske", "seen"},
		},
		together: "{n} {st} sammen", front: "relief-{st} foran", back: "relief-{st} bagpå",
		forms: map[stitch.Form]string{stitch.Invisible: "usynlig indt", stitch.Popcorn: "popcornmaske af {n} {st}", stitch.Picot: "picot af {n} {st}"},
		phrases: phrases{
			round: "Omg {a}", rounds: "Omg {a}-{b} ({n} omgange)",
			sts: placeForms{one: "1 m", many: "{n} m"}, sps: placeForms{one: "1 bue", many: "{n} buer"},
			inc: "udt", dec: "indt", chain: "{n} lm", with: "med {yarn}", turn: "vend",
			magicRing: "MR", inMagicRing: "i MR", chainRing: "{n} lm, saml til en ring med 1 km",
			join: "luk med 1 km i 1. m", joinTop: "luk med 1 km i {n}. lm",
			countsAs: " (tæller som 1 {st})", countsOver: " (tæller som 1 {st} og {n} lm)", notCounted: " (tæller ikke som m)",
			otherSide: "fortsæt langs den anden side af luftmaskerne",
			in:        "i {place}",
			next:      placeForms{"næste m", "hver af de næste {n} m", "hver m omgangen rundt"},
			nextChain: placeForms{"næste lm", "hver af de næste {n} lm", "hver lm"},
			space:     placeForms{"næste bue af {ch} lm", "hver af de næste {n} buer af {ch} lm", "hver bue af {ch} lm omgangen rundt"},
			gap:       placeForms{one: "mellem de næste 2 m", all: "mellem alle m omgangen rundt"},
			same:      "samme m", sameSpace: "samme bue", sameChain: "samme lm", ring: "ringen",
			fromHook: "{nth} lm fra nålen", ordinal: "{n}.", lastChain: "sidste lm",
			skip:      placeForms{one: "spring 1 m over", many: "spring {n} m over"},
			skipChain: placeForms{one: "spring 1 lm over", many: "spring {n} lm over"},
			skipSpace: placeForms{one: "spring 1 bue over", many: "spring {n} buer over"},
			loops:     [3]string{BackLoop: "bagerste maskeled", FrontLoop: "forreste maskeled"},
			loopMode:  "i {loop}", loopOf: "i {place} (kun {loop})", inLoops: "{work} i {loop}",
			words: vocabulary{
				round: term{"omg", "omgang", "", "seen"}, stitch: term{"m", "maske", "", "seen"}, space: term{"", "bue", "bue af luftmasker", "memory"},
				back: term{"", "bagerste maskeled", "", "memory"}, front: term{"", "forreste maskeled", "", "memory"},
				increase: term{"udt", "udtagning", "2 {sc} i 1 m", "seen"},
				decrease: term{"indt", "indtagning", "2 {sc} sammen", "seen"},
				magic:    term{"MR", "magisk ring", "", "seen"},
			},
		},
	},
	"nb": {
		posts: map[stitch.Base]post{
			stitch.Chain:  {"lm", "luftmaske", "seen"},
			stitch.Slip:   {"kjm", "kjedemaske", "seen"},
			stitch.Single: {"fm", "fastmaske", "seen"},
			stitch.Half:   {"hst", "halvstav", "seen"},
			stitch.Double: {"st", "stav", "seen"},
			stitch.Treble: {"dst", "dobbelstav", "seen"},
		},
		together: "{n} {st} sammen", front: "relieff-{st} foran", back: "relieff-{st} bak",
		forms: map[stitch.Form]string{stitch.Invisible: "usynlig felling", stitch.Popcorn: "popcornmaske av {n} {st}", stitch.Picot: "picot av {n} {st}"},
		phrases: phrases{
			round: "Omg {a}", rounds: "Omg {a}-{b} ({n} omganger)",
			sts: placeForms{one: "1 m", many: "{n} m"}, sps: placeForms{one: "1 bue", many: "{n} buer"},
			inc: "øk", dec: "felling", chain: "{n} lm", with: "med {yarn}", turn: "snu",
			magicRing: "magisk ring", inMagicRing: "i magisk ring", chainRing: "{n} lm, lukk til en ring med 1 kjm",
			join: "lukk med 1 kjm i 1. m", joinTop: "lukk med 1 kjm i {n}. lm",
			countsAs: " (teller som 1 {st})", countsOver: " (teller som 1 {st} og {n} lm)", notCounted: " (teller ikke som m)",
			otherSide: "fortsett langs den andre siden av luftmaskene",
			in:        "i {place}",
			next:      placeForms{"neste m", "hver av de neste {n} m", "hver m omgangen rundt"},
			nextChain: placeForms{"neste lm", "hver av de neste {n} lm", "hver lm"},
			space:     placeForms{"neste bue av {ch} lm", "hver av de neste {n} buer av {ch} lm", "hver bue av {ch} lm omgangen rundt"},
			gap:       placeForms{one: "mellom de neste 2 m", all: "mellom alle m omgangen rundt"},
			same:      "samme m", sameSpace: "samme bue", sameChain: "samme lm", ring: "ringen",
			fromHook: "{nth} lm fra nålen", ordinal: "{n}.", lastChain: "siste lm",
			skip:      placeForms{one: "hopp over 1 m", many: "hopp over {n} m"},
			skipChain: placeForms{one: "hopp over 1 lm", many: "hopp over {n} lm"},
			skipSpace: placeForms{one: "hopp over 1 bue", many: "hopp over {n} buer"},
			loops:     [3]string{BackLoop: "bakre maskebue", FrontLoop: "fremre maskebue"},
			loopMode:  "i {loop}", loopOf: "i {place} (bare {loop})", inLoops: "{work} i {loop}",
			words: vocabulary{
				round: term{"omg", "omgang", "", "seen; abbreviation from memory"}, stitch: term{"m", "maske", "", "seen"}, space: term{"", "bue", "bue av luftmasker", "memory"},
				back: term{"", "bakre maskebue", "", "memory"}, front: term{"", "fremre maskebue", "", "memory"},
				increase: term{"øk", "økning", "2 {sc} i 1 m", "seen; abbreviation from memory"},
				decrease: term{"", "felling", "2 {sc} sammen", "seen"},
				magic:    term{"", "magisk ring", "", "memory"},
			},
		},
	},
}

// Languages returns the codes of the languages that rounds can be written in,
// English first.
func Languages() []string {
	return append([]string{"en"}, slices.Sorted(maps.Keys(tongues))...)
}

// marked returns p with the forms that are the same in all languages.
func (p phrases) marked() *phrases {
	p.afterLabel = cmp.Or(p.afterLabel, ": ")
	p.count, p.countLace = "({n})", "({sts}, {sps})"
	p.then, p.groupThen = ", ", ", "
	p.repeat, p.group = "({body}) x {n}", "({body}) {place}"
	p.one, p.many, p.workPlain = "1 {st}", "{n} {st}", "{n} {st}"
	p.work1, p.workOne, p.workN = "1 {st} {place}", "1 {st} {place}", "{n} {st} {place}"
	p.decrease, p.noun = "{st}", "{st}"
	return &p
}
