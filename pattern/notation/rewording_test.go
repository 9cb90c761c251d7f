package notation

import (
	"fmt"
	"testing"

	"roundelay/pattern/source"
)

// rewordedReadings has turns of phrase that English has not, as a second round on
// so many stitches; see [rewordings].
var rewordedReadings = map[string][]reading{
	"de": {
		{24, "2. Rd: alle M zu zweit zusammenhäkeln (12)", 24, 12},
		{27, "2. Tour: * 1 f. M. auf jedes der nächsten 7 Stb., die 2 folgenden Stb. mit 1 f. M. zusammenfassen; von * an wiederholen. Es sind nun 24 M.", 27, 24},
		{24, "2. Rd: *2 fM, die nächsten 2 M zusammenhäkeln* rundum (18)", 24, 18},
		{12, "2. Rd: nur Zunahmen (24)", 12, 24},
		{12, "2. Rd: Nur Abnahmen. (6 M)", 12, 6},
		{24, "Kreis 2: in jede M 1 fM", 24, 24},
		{24, "Rd. 2/3 ohne Zun. [24]", 24, 24},
		{24, "2. u. 3. Tour: 1 f. M. auf jede f. M.", 24, 24},
	},
	"fr": {
		{24, "2e tour. — 1 m. double sur chaque m. double.", 24, 24},
		{24, "2e tour : toutes les mailles ensemble deux par deux (12 m)", 24, 12},
		{12, "Tour 2 : uniquement des augmentations (24)", 12, 24},
		{24, "2e tour : *1 bride, 1 bride, 2 brides dans la maille suivante*, et ainsi de suite jusqu'à la fin du tour (32 brides).", 24, 32},
		{24, "2e tour : * 1 ms, 3 ml, passer 1 m ; répéter depuis *, et terminer par 3 ml et 1 mc (12 arceaux).", 24, 12},
		{12, "2e tour : 1 aug dans ch. maille (24)", 12, 24},
	},
	"es": {
		{24, "2.ª vuelta.-- 1 p. b. en el primer p. a., * 5 cad., saltar 2 p. a., 1 p. b. en el siguiente; repetir desde * toda la vuelta, terminando con 5 cad. y 1 p. e. en el primer p. b. (8 arcos)", 24, 8},
		{36, "2° vuelta: *2 varetas, 2 varetas juntas en el punto siguiente*, repetir toda la vuelta (48 varetas)", 36, 48},
		{12, "Vuelta 2: 2 pb juntos en un mismo punto, repetir toda la vuelta (24)", 12, 24},
		{24, "2ª v. todo a p.b.", 24, 24},
		{24, "2ª v: todo en punto bajo (24)", 24, 24},
		{14, "VUELTA 2. Solo disminuciones. (7 puntos)", 14, 7},
		{14, "Vuelta 2: solo aumentos (28 p)", 14, 28},
		{24, "Vuelta 2: todos los puntos juntos de 2 en 2 (12)", 24, 12},
		{64, "2ª vuelta: *1 pb, saltar 3 puntos, 7 pa en el siguiente punto formando un abanico, saltar 3 puntos*, repetir hasta el final.", 64, 64},
	},
	"pt": {
		{64, "2ª carreira: *1 pb, pule 3 pontos, 7 pa no próximo ponto formando um leque, pule 3 pontos*, repita até o final e arremate. Dá 8 leques certinho!", 64, 64},
		{14, "Carr 2: só diminuições (7)", 14, 7},
		{36, "2ª carr: *2 pa, 2 pa juntos no próximo ponto*, repete toda a carreira (48)", 36, 48},
		{24, "2ª volta: tudo em ponto baixo (24)", 24, 24},
	},
	"it": {
		{10, "2.o giro: due punti bassi in ogni punto (20 p.).", 10, 20},
		{24, "2.o giro: a punto alto, un punto in ogni punto della base.", 24, 24},
		{24, "Dal 2.o al 3.o giro: a punto basso, senza aumenti.", 24, 24},
		{24, "G2 lavorare a maglia bassa;", 24, 24},
		{24, "Giro 2: tutto a maglia bassa (24)", 24, 24},
		{14, "Giro 2: solo diminuzioni (7)", 14, 7},
		{24, "Giro 2: tutte le maglie insieme a due a due (12)", 24, 12},
	},
	"ru": {
		{24, "2-й круг: *столбик без накида, 4 возд. петли, пропустить 3 столбика*, повторять от * до *.", 24, 6},
		{24, "Круг 2: 24 сбн (24)", 24, 24},
		{24, "2-3 круг: сбн по кругу", 24, 24},
		{12, "2-й ряд. Все столбики провязать вместе по 2 (6 ст.).", 12, 6},
		{24, "2 ряд — обвязываем ст. б/н.", 24, 24},
		{24, "2 ряд: *2 ст. б/н, 2 ст. б/н в следующую петлю* 8 раз (32)", 24, 32},
	},
	"nl": {
		{24, "Toer 2: alle steken twee aan twee samenhaken (12)", 24, 12},
		{12, "Toer 2: alleen meerderingen (24)", 12, 24},
		{24, "Toer 2: *1 v, 3 l, 1 st overslaan; herhaal vanaf * rondom, eindigen met 3 l en 1 hv (12 boogjes)", 24, 12},
	},
	"sv": {
		{24, "Varv 2: virka ihop alla m två och två (12)", 24, 12},
		{12, "Varv 2: bara ökningar (24)", 12, 24},
		{24, "Varv 2: *1 fm, 3 lm, hoppa över 1 m; upprepa från * varvet runt, avsluta med 3 lm och 1 sm (12 bågar)", 24, 12},
	},
}

// coveredReadings has what is worked over 12 loops of chains, 8 stitches on each.
var coveredReadings = map[string][]string{
	"de": {"in jeden Bogen 8 fM. 96 fM.", "jeden Bogen mit 8 fM behäkeln (96 fM)", "In jeden Lm-Bogen: 8 fM."},
	"fr": {"Couvrir chaque arceau de 8 m. serrées. 96 m. serrées.", "recouvrir chaque arceau de 8 ms", "garnir chaque arceau avec 8 ms (96)"},
	"es": {"cubrir cada arco con 8 pb (96)", "En cada arco de 3 cad.: 8 p. b. Cerrar.", "rellenar cada arco con 8 p.b."},
	"pt": {"cobrir cada arco com 8 pb (96)", "preencher cada espaço com 8 pb"},
	"it": {"coprire ogni archetto con 8 mb (96)", "riempire ogni archetto con 8 maglie basse"},
	"nl": {"elk boogje vullen met 8 v (96)", "vul elk boogje met 8 v"},
	"sv": {"fyll varje båge med 8 fm (96)"},
	"ru": {"каждую арку обвязать 8 сбн (96)", "обвязать каждую арку 8 сбн"},
}

// loopRounds has the rounds before, of 24 stitches and of 12 loops, and what the
// third is called.
var loopRounds = map[string][3]string{
	"de": {"1. Rd: 24 fM in einen Fadenring", "2. Rd: *1 fM, 3 Lm, 1 M überspringen, ab * wdh (12 Bögen)", "3. Rd: "},
	"fr": {"1er tour : 24 ms dans un cercle magique", "2e tour : *1 ms, 3 ml, passer 1 m, répéter depuis * (12 arceaux)", "3e tour : "},
	"es": {"Vuelta 1: 24 pb en un anillo mágico", "Vuelta 2: *1 pb, 3 cad, saltar 1 punto*, repetir toda la vuelta (12 arcos)", "Vuelta 3: "},
	"pt": {"Carr 1: 24 pb no anel mágico", "Carr 2: *1 pb, 3 corr, pula 1 ponto*, repete até o final (12 arcos)", "Carr 3: "},
	"it": {"Giro 1: 24 mb nell'anello magico", "Giro 2: *1 mb, 3 cat, saltare 1 m*, ripetere da * a * per tutto il giro (12 archetti)", "Giro 3: "},
	"nl": {"Toer 1: 24 v in een magische ring", "Toer 2: *1 v, 3 l, 1 steek overslaan*, herhaal rondom (12 boogjes)", "Toer 3: "},
	"sv": {"Varv 1: 24 fm i en magisk ring", "Varv 2: *1 fm, 3 lm, hoppa över 1 m*, upprepa varvet runt (12 bågar)", "Varv 3: "},
	"ru": {"1 ряд: 24 сбн в кольцо амигуруми", "2 ряд: *1 сбн, 3 вп, пропустить 1 столбик*, повторять до конца ряда (12 арок)", "3 ряд: "},
}

func TestCoveredSpaces(t *testing.T) {
	for code, list := range coveredReadings {
		for _, said := range list {
			rounds := loopRounds[code]
			text := Read(source.NewFile(code+".txt", fmt.Sprintf("%s\n%s\n%s%s\n", rounds[0], rounds[1], rounds[2], said)), ReadOptions{})
			got := Expand(text.Lines(), Options{AnyYarn: true}).Verdicts
			if len(got) != 3 {
				t.Errorf("%s: %q: %d rounds", code, said, len(got))
				continue
			}
			if v := got[2]; v.Made != 96 || v.Word != OK && v.Word != Uncounted {
				t.Errorf("%s: %q: %s, made %d of 96 (before: %s %d)", code, said, v.Word, v.Made, got[1].Word, got[1].Made)
			}
		}
	}
}
