package notation

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"roundelay/pattern/source"
	"roundelay/pattern/stitch"
)

// TestTermsOfLanguages reads every row of the term table in its own language.
func TestTermsOfLanguages(t *testing.T) {
	b, err := os.ReadFile("testdata/languages.tsv")
	if err != nil {
		t.Fatal(err)
	}
	byCode := map[string]*language{}
	for _, l := range languages {
		byCode[l.code] = l
	}
	stitches := map[string]stitch.Stitch{
		"chain": stitch.Ch, "slip stitch": stitch.SlSt, "sc": stitch.SC, "hdc": stitch.HDC, "dc": stitch.DC, "tr": stitch.TR,
	}
	syms := map[string][]sym{
		"increase": {sInc, sDouble}, "decrease": {sDec, sTog}, "magic ring": {sMagic}, "round": {sRound}, "stitch": {sSt},
		"repeat": {sRep}, "fasten off": {sFasten},
	}
	rows := 0
	for line := range strings.Lines(string(b)) {
		c := strings.Split(strings.TrimRight(line, "\n"), "\t")
		l := byCode[c[0]]
		if strings.HasPrefix(line, "#") || l == nil {
			continue
		}
		rows++
		for _, word := range c[2:4] {
			if word == "" {
				continue
			}
			toks := understand(scan(word), stitch.US, []*language{l})
			if want, ok := stitches[c[1]]; ok {
				if len(toks) != 1 || toks[0].sym != sStitch || toks[0].val.stitch != want {
					t.Errorf("%s %s: %q is not %v: %v", c[0], c[1], word, want.ID(), toks)
				}
				continue
			}
			found := false
			for _, tok := range toks {
				for _, s := range syms[c[1]] {
					found = found || tok.sym == s
				}
			}
			if !found {
				t.Errorf("%s: %q is not understood as %s", c[0], word, c[1])
			}
		}
	}
	if rows < 9*13 {
		t.Errorf("only %d rows", rows)
	}
}

// A reading is a written round over so many stitches, and what it uses and
// makes; used is -1 where that is not to be known.
type reading struct {
	below      int
	line       string
	used, made int
}

// begin is the first round in each language, over which the readings stand.
var begin = map[string]string{
	"de": "Rd 1: %d fM in den Fadenring (%[1]d)\n",
	"fr": "Tour 1 : %d ms dans le cercle magique (%[1]d)\n",
	"es": "Vuelta 1: %d pb en el anillo mágico (%[1]d)\n",
	"pt": "Carr. 1: %d pb no anel mágico (%[1]d)\n",
	"nl": "Toer 1: %d vasten in een magische ring (%[1]d)\n",
	"it": "Giro 1: %d mb nell'anello magico (%[1]d)\n",
	"sv": "Varv 1: %d fm i en magisk ring (%[1]d)\n",
	"da": "Omgang 1: %d fastmasker i en magisk ring (%[1]d)\n",
	"nb": "Omg 1: hekle %d fastmasker i en magisk ring (%[1]d)\n",
	"ru": "1 ряд: %d сбн в кольцо амигуруми (%[1]d)\n",
}

var readings = map[string][]reading{
	"de": {
		{6, "2. Rd: jede Masche verdoppeln = 12", 6, 12},
		{6, "Rd 2: In jede Masche 2 fM häkeln. (12 M)", 6, 12},
		{12, "Rd. 2: *1 fM, 2 fM in eine M*, 6x wiederholen (18)", 12, 18},
		{12, "2. Runde: jede zweite Masche verdoppeln (18 M)", 12, 18},
		{18, "R2: (2fM, 1zun)x6 [24]", 18, 24},
		{18, "Rd 2: 2 fM, 1 M verdoppeln – 6 x wiederholen = 24 M", 18, 24},
		{24, "2. Rd.: * 3 fM, zun; ab * wdh = 30 fM", 24, 30},
		{24, "2. Rd: *3 feste Maschen, nächste Masche verdoppeln, ab * bis zum Ende wiederholen (30)", 24, 30},
		{24, "2.-5. Rd: je 1 fM in jede M (24)", 24, 24},
		{24, "2. bis 5. Runde: fM ohne Zunahme (24 M)", 24, 24},
		{24, "Rd 2-5: 24 fM", 24, 24},
		{24, "Rd 2 - 5: in jede Masche eine feste Masche häkeln (24 M)", 24, 24},
		{24, "Runde 2: (2 fM, 2 M zusammen abmaschen) 6 mal (18)", 24, 18},
		{24, "Rd 2: jede 3. und 4. M zusammenhäkeln (18)", 24, 18},
		{18, "Rd 2: *1 fM, 2 fM zus. abm.* 6x (12)", 18, 12},
		{18, "2. Rd: 1 fM, 1 Abn. x 6 = 12 M", 18, 12},
		{12, "2. Rd: 6x 2 M zusammenhäkeln (6)", 12, 6},
		{12, "Rd 2: 6x abn (6)", 12, 6},
		{12, "2. Rd: immer 2 M zusammenhäkeln (6 M)", 12, 6},
		{30, "Rd 2: 5 fM, 5 Zun, 10 fM, 5 Zun, 5 fM (40)", 30, 40},
		{20, "2. Runde: nur in das hintere Maschenglied häkeln, 20 fM (20)", 20, 20},
		{20, "Rd 2: 1 fM in jede M, nur hMG (20)", 20, 20},
		{12, "Rd 2: 3 Lm (zählen als 1. Stb), 1 Stb in dieselbe M, 2 Stb in jede M, mit 1 Km schließen (24 Stb)", 12, 24},
		{12, "Rd 2: 2 hStb in jede M, Km in die 1. M (24)", 12, 24},
		{24, "Rd 2: *1 Stb, 1 Lm, 1 M übergehen*, 12 x, mit Km schließen (12 Stb)", 24, 12},
		{12, "Rd 2: 1 Lm, *fM in die nächste M, 2 fM in die nächste M; ab * noch 5 x wiederholen, mit einer Km schließen. (18)", 12, 18},
		{12, "Rd 2: eine feste Masche, eine Zunahme, sechsmal (18)", 12, 18},
		{18, "Rd 2: 1 fM, * zun, 2 fM *, 5x wiederholen, zun, 1 fM (24)", 18, 24},
		{36, "2. Rd: jede 6. M zun. (42)", 36, 42},
		{36, "2. Rd: jede 5. + 6. M zus. häkeln (30)", 36, 30},
		{30, "Rd 2: 6 M gleichmäßig verteilt zunehmen (36)", 30, 36},
		{18, "Rd 2: in jede 3. M 2 fM, in alle anderen 1 fM häkeln (24)", 18, 24},
		{6, "Rd 2: 6 Zunahmen (insgesamt 12 Maschen)", 6, 12},
		{6, "Rd 2: in jede M 2 fM [12 M]", 6, 12},
		{12, "Rd 2: 1 fM in die nächste M, 2 fM in die folgende M, bis zum Ende der Runde wiederholen (18)", 12, 18},
	},
	"fr": {
		{6, "Tour 2 : 2 ms dans chaque maille (12)", 6, 12},
		{6, "T2 : 6 augm. (12)", 6, 12},
		{6, "2ème tour : faire 2 mailles serrées dans chaque maille = 12 m", 6, 12},
		{6, "Rang 2 : aug dans chaque m (12)", 6, 12},
		{12, "Tour 2 : (1 ms, 1 aug) x 6 = 18 ms", 12, 18},
		{12, "R2: *1 ms, 2 ms dans la m suivante*, répéter 6 fois (18 ms)", 12, 18},
		{12, "2e tour : *1 ms, 1 aug*, répéter de * à * jusqu'à la fin du tour (18)", 12, 18},
		{12, "T2 – [1ms, 1aug]*6 (18)", 12, 18},
		{18, "Tour 2: * 2 ms dans les 2 m suivantes, 2 ms dans la m suivante *, répéter tout autour (24 mailles)", 18, 24},
		{18, "2) 2ms, 1aug, 6 fois (24)", 18, 24},
		{24, "Tours 2 à 6 : 1 ms dans chaque maille (24)", 24, 24},
		{24, "T2-T5 : ms tout autour (24)", 24, 24},
		{24, "Tour 2 à 5 : 24 ms", 24, 24},
		{24, "Rgs 2 à 5 : 1 ms ds chq m (24 ms)", 24, 24},
		{24, "Tour 2 : sans augmentation (24)", 24, 24},
		{24, "Tour 2 : (2 ms, 1 dim) 6 fois (18)", 24, 18},
		{24, "Tour 2 : *2 ms, 2 ms ensemble* x6 (18)", 24, 18},
		{18, "Tour 2 : (1 ms, diminution) répéter 6 fois (12)", 18, 12},
		{12, "Tour 2 : 6 diminutions (6 m)", 12, 6},
		{12, "Tour 2 : dim x 6 (6)", 12, 6},
		{12, "Rang 2 : 3 ml (compte pour 1 br), 1 br dans la même m, 2 br dans chaque m, fermer avec 1 mc. (24 br)", 12, 24},
		{12, "Rang 2 : 2 demi-brides dans chaque m (24 db)", 12, 24},
		{12, "Tour 2 : 1 ml, 1 ms dans chaque m, mc dans la 1ère ms. (12)", 12, 12},
		{24, "Tour 2 : *1 br, 1 ml, sauter 1 m*, répéter de * à * 12 fois, fermer par 1 mc (12 br)", 24, 12},
		{20, "Tour 2 : en piquant dans le brin arrière uniquement, 20 ms (20)", 20, 20},
		{20, "Tour 2 : BLO 1 ms dans chaque m (20)", 20, 20},
		{30, "T2 : 5 ms, 5 aug, 10 ms, 5 aug, 5 ms (40)", 30, 40},
		{36, "Tour 2 : 1 aug toutes les 6 m (42)", 36, 42},
		{12, "Tour 2 : une maille serrée, une augmentation, à répéter six fois (18)", 12, 18},
		{12, "Tour 2 : 1 aug, 1 ms, ... x6 (18)", 12, 18},
		{24, "Tour 2 : 6 augmentations réparties régulièrement (30)", 24, 30},
		{6, "Rang 2 : 2 ms ds ch. m. (12)", 6, 12},
		{18, "Tour 2 : 1 ms, *1 aug, 2 ms*, répéter 5 fois, 1 aug, 1 ms (24)", 18, 24},
		{18, "Tour 2 : 2 ms, 1 aug ; répéter encore 5 fois (24)", 18, 24},
		{12, "Tour 2 : 1/2 bride dans chaque maille (12)", 12, 12},
	},
	"es": {
		{6, "V2: 2 pb en cada punto (12)", 6, 12},
		{6, "Vuelta 2: aum en cada punto = 12 pb", 6, 12},
		{6, "2ª vuelta: 6 aumentos (12 puntos)", 6, 12},
		{6, "R2: aum x 6 (12)", 6, 12},
		{6, "Ronda 2: 2 medios puntos en cada punto. (12)", 6, 12},
		{12, "Vuelta 2: *1pb, 1aum* (repetir 6 veces) [18]", 12, 18},
		{12, "V2: (1 pb, 2 pb en el mismo punto) x 6 (18)", 12, 18},
		{12, "2° vuelta: 1 mp, 1 aum, repetir toda la vuelta. (18)", 12, 18},
		{12, "V.2: [1 p.b., 1 aum.] x6 (18)", 12, 18},
		{12, "Vuelta 2: 1 punto bajo, 1 aumento, repetir hasta el final (18)", 12, 18},
		{12, "Vuelta 2: *1 pb en el siguiente punto, 2 pb en el siguiente*, rep. de * a * (18)", 12, 18},
		{18, "Vuelta 2: *pb en los siguientes 2 p, aum* 6 veces (24 p)", 18, 24},
		{18, "vta 2: 2 pb, 1 aum * 6 (24)", 18, 24},
		{24, "Vueltas 2-5: 1 pb en cada p (24)", 24, 24},
		{24, "Vuelta 2 a la 5: pb en toda la vuelta (24)", 24, 24},
		{24, "De la vuelta 2 a la 5: 24 pb", 24, 24},
		{24, "V2 – V5: 24pb (24)", 24, 24},
		{24, "Vuelta 2: sin aumentos (24)", 24, 24},
		{24, "Vuelta 2: (2 pb, dism) x6 (18)", 24, 18},
		{24, "Vuelta 2: *2 pb, 2 pb juntos* 6 veces (18)", 24, 18},
		{18, "Vuelta 2: 1 pb, 1 disminución, todo alrededor (12)", 18, 12},
		{12, "Vuelta 2: 6 dis (6)", 12, 6},
		{12, "Vuelta 2: dism alrededor (6)", 12, 6},
		{12, "Vuelta 2: 3 cad (cuenta como 1 pa), 1 pa en el mismo punto, 2 pa en cada punto, cerrar con pr. (24 pa)", 12, 24},
		{12, "Vuelta 2: 2 varetas en cada punto, unir con punto deslizado (24)", 12, 24},
		{12, "Vuelta 2: 1 cad, 1 pb en cada pb, punto raso en el primer pb (12)", 12, 12},
		{24, "Vuelta 2: *1 pa, 1 cad, saltar 1 p*, repetir 12 veces, pr (12 pa)", 24, 12},
		{20, "Vuelta 2: tomando solo la hebra de atrás, 20 pb (20)", 20, 20},
		{20, "Vuelta 2: BLO 20 pb", 20, 20},
		{30, "V2: 5 pb, 5 aum, 10 pb, 5 aum, 5 pb (40)", 30, 40},
		{36, "V2: 1 aum cada 6 p (42)", 36, 42},
		{12, "V2: un punto bajo, un aumento, seis veces (18)", 12, 18},
		{24, "V2: 6 aumentos repartidos en la vuelta (30)", 24, 30},
		{18, "V2: 1 pb, *1 aum, 2 pb*, repetir 5 veces, 1 aum, 1 pb (24)", 18, 24},
		{24, "Vuelta 2: tejer 1 mp en cada mp de la vuelta anterior (24)", 24, 24},
		{18, "Vuelta 2: 2 pb, 1 aum; repetir 5 veces más (24)", 18, 24},
	},
	"pt": {
		{6, "Carr. 2: 2 pb em cada ponto (12)", 6, 12},
		{6, "2ª carreira: 6 aum (12)", 6, 12},
		{6, "2ª volta: 2 pontos baixos em cada ponto = 12 pontos", 6, 12},
		{6, "R2: aum x6 [12]", 6, 12},
		{6, "Volta 2: aumento em todos os pontos (12)", 6, 12},
		{12, "Carr 2: (1pb, 1aum) x 6 (18)", 12, 18},
		{12, "V. 2: (1 pb, aum) repete 6x (18 pts)", 12, 18},
		{12, "2ª carr: *1 pb, 2 pb no mesmo ponto*, repetir de * a * até o final (18)", 12, 18},
		{12, "2 carr: 1 pb, 1 aum, repita até o fim da carreira (18)", 12, 18},
		{12, "Carreira 2: 1 ponto baixo, 1 aumento, 6 vezes (18 pontos)", 12, 18},
		{18, "2ª volta: *2 pb, 2 pb no próximo ponto*, repetir 6 vezes = 24 pb", 18, 24},
		{18, "Carr. 2 - 1 pb nos próximos 2 pts, 1 aum. Repetir 6 vezes (24)", 18, 24},
		{24, "Carr. 2 a 5: 1 pb em cada ponto (24)", 24, 24},
		{24, "2ª à 5ª carr.: 24 pb (24 pts)", 24, 24},
		{24, "Da 2ª a 5ª carreira: 24 pb", 24, 24},
		{24, "Carreiras 2-5: pb em toda a volta (24)", 24, 24},
		{24, "Carr. 2: sem aumentos (24)", 24, 24},
		{24, "Carr. 2: (2 pb, 1 dim) x6 (18)", 24, 18},
		{24, "Carr. 2: *2 pb, 2 pb juntos* 6x (18)", 24, 18},
		{18, "Carr. 2: 1 pb, 1 diminuição, em volta (12)", 18, 12},
		{12, "Carr. 2: 6 diminuições (6)", 12, 6},
		{12, "Carr. 2: dim 6x (6)", 12, 6},
		{12, "Carr. 2: 3 corr (conta como 1 pa), 1 pa no mesmo ponto, 2 pa em cada ponto, fechar com pbx. (24 pa)", 12, 24},
		{12, "Carr. 2: 2 mpa em cada ponto, fechar com ponto baixíssimo (24)", 12, 24},
		{12, "Carr. 2: 1 corr, 1 pb em cada pb, pbx no 1º pb (12)", 12, 12},
		{24, "Carr. 2: *1 pa, 1 corr, pular 1 ponto*, repetir 12 vezes, pbx (12 pa)", 24, 12},
		{20, "Carr. 2: pegando só na alça de trás, 20 pb (20)", 20, 20},
		{20, "Carr. 2: 20 pb na alça de trás", 20, 20},
		{30, "Carr. 2: 5 pb, 5 aum, 10 pb, 5 aum, 5 pb (40)", 30, 40},
		{36, "Carr. 2: 1 aum a cada 6 pts (42)", 36, 42},
		{12, "Carr. 2: um ponto baixo, um aumento, seis vezes (18)", 12, 18},
		{24, "Carr. 2: 6 aumentos distribuídos na carreira (30)", 24, 30},
		{18, "Carr. 2: 1 pb, *1 aum, 2 pb*, repetir 5 vezes, 1 aum, 1 pb (24)", 18, 24},
		{18, "2ª volta: 2 malhas baixas, 1 aumento, 6 vezes (24)", 18, 24},
		{18, "Carr. 2: 2 pb, 1 aum; repetir mais 5 vezes (24)", 18, 24},
	},
	"nl": {
		{6, "Toer 2: 2 v in elke v (12)", 6, 12},
		{6, "Toer 2: 6x meerderen (12)", 6, 12},
		{12, "T2: *1v, 2v in 1 steek*, herhaal 6x (18)", 12, 18},
		{12, "2e toer: 1 vaste, 2 vasten in de volgende steek, herhaal tot het einde (18)", 12, 18},
		{18, "Ronde 2: (2 v, meerd) x 6 [24]", 18, 24},
		{24, "Toer 2 t/m 5: 1 v in elke v (24)", 24, 24},
		{24, "Toer 2-5: 24 v", 24, 24},
		{24, "Toer 2: (2 v, 2 v samen) 6 keer (18)", 24, 18},
		{18, "Toer 2: *1 v, mind* herhaal * tot * 6x (12)", 18, 12},
		{12, "Toer 2: 6 minderingen (6)", 12, 6},
		{12, "Toer 2: 3 l (telt als 1e stk), 1 stk in dezelfde st, 2 stk in elke st, sluit met een hv (24 stk)", 12, 24},
		{24, "Toer 2: *1 stk, 1 l, 1 v overslaan*, 12 keer, hv (12 stk)", 24, 12},
		{20, "Toer 2: 20 v in de achterste lussen (20)", 20, 20},
		{24, "Toer 2: meerder 6 v gelijkmatig verdeeld (30)", 24, 30},
	},
	"it": {
		{6, "Giro 2: 2 mb in ogni maglia (12)", 6, 12},
		{6, "2° giro: 6 aumenti (12)", 6, 12},
		{12, "G2: *1 mb, 2 mb nella stessa maglia* x 6 (18)", 12, 18},
		{12, "Giro 2: 1 maglia bassa, 1 aumento, ripetere 6 volte (18)", 12, 18},
		{18, "Giro 2: (2 mb, aum) per 6 volte (24)", 18, 24},
		{24, "Giri 2-5: 1 mb in ogni mb (24)", 24, 24},
		{24, "Dal giro 2 al giro 5: 24 mb", 24, 24},
		{24, "Giro 2: (2 mb, 2 mb insieme) x6 (18)", 24, 18},
		{18, "Giro 2: *1 mb, dim*, ripetere da * a * fino alla fine (12)", 18, 12},
		{12, "Giro 2: 6 diminuzioni (6)", 12, 6},
		{12, "Giro 2: 3 cat (conta come 1 ma), 1 ma nella stessa m, 2 ma in ogni m, chiudere con mbss (24 ma)", 12, 24},
		{24, "Giro 2: *1 ma, 1 cat, saltare 1 m*, ripetere 12 volte, mbss (12 ma)", 24, 12},
		{20, "Giro 2: 20 mb in costa dietro (20)", 20, 20},
		{36, "Giro 2: 1 aum ogni 6 m (42)", 36, 42},
	},
	"sv": {
		{6, "Varv 2: 2 fm i varje m (12)", 6, 12},
		{6, "v. 2: öka i varje maska = 12 m", 6, 12},
		{12, "Varv 2: *1 fm, 2 fm i nästa m*, upprepa varvet runt (18)", 12, 18},
		{12, "Varv 2: (1 fm, 1 ökn) 6 ggr (18)", 12, 18},
		{12, "varv 2: 1 fm, 2 fm i samma m, upprepa 6 gånger (18)", 12, 18},
		{12, "Varv 2: öka i varannan m (18)", 12, 18},
		{24, "Varv 2-5: 1 fm i varje m (24)", 24, 24},
		{24, "Varv 2 till 5: fm runt om (24)", 24, 24},
		{24, "Varv 2: (2 fm, 2 fm tills) x 6 (18)", 24, 18},
		{18, "Varv 2: *1 fm, minska* upprepa från * till * 6 ggr (12)", 18, 12},
		{12, "Varv 2: 6 minskningar (6)", 12, 6},
		{12, "Varv 2: 3 lm (räknas som 1 st), 1 st i samma m, 2 st i varje m, 1 sm i tredje lm (24 st)", 12, 24},
		{24, "Varv 2: *1 st, 1 lm, hoppa över 1 m* x 12, sm (12 st)", 24, 12},
		{20, "Varv 2: 20 fm i bakre maskbågen (20)", 20, 20},
	},
	"da": {
		{6, "Omg 2: 2 fm i hver m (12)", 6, 12},
		{12, "2. omgang: *1 fm, 2 fm i næste m*, gentag omgangen rundt (18)", 12, 18},
		{12, "Omg 2: (1 fm, udt) x 6 (18)", 12, 18},
		{12, "Omg 2: tag ud i hver 2. m (18)", 12, 18},
		{24, "Omg 2-5: 1 fm i hver m (24)", 24, 24},
		{24, "2.-5. omg: fm rundt (24)", 24, 24},
		{24, "Omg 2: (2 fm, 2 fm sammen) 6 gange (18)", 24, 18},
		{12, "Omg 2: 6 indtagninger (6)", 12, 6},
		{12, "Omg 2: 3 lm (tæller som 1 stgm), 1 stgm i samme m, 2 stgm i hver m, luk med 1 km (24 stgm)", 12, 24},
		{20, "Omg 2: 20 fm i bagerste maskeled (20)", 20, 20},
		{24, "Omg 2: *1 stgm, 1 lm, spring 1 m over* x 12, km (12 stgm)", 24, 12},
	},
	"nb": {
		{6, "Omg 2: 2 fm i hver m (12)", 6, 12},
		{12, "2. omgang: *1 fm, 2 fm i neste m*, gjenta omgangen rundt (18)", 12, 18},
		{12, "Omg 2: (1 fm, øk) x 6 (18)", 12, 18},
		{12, "Omg 2: øk i hver 2. m (18)", 12, 18},
		{24, "Omg 2-5: 1 fm i hver m (24)", 24, 24},
		{24, "2.-5. omg: fm rundt (24)", 24, 24},
		{24, "Omg 2: (2 fm, 2 fm sammen) 6 ganger (18)", 24, 18},
		{12, "Omg 2: 6 fellinger (6)", 12, 6},
		{12, "Omg 2: 3 lm (teller som 1 st), 1 st i samme m, 2 st i hver m, avslutt med 1 kjm (24 st)", 12, 24},
		{20, "Omg 2: 20 fm i bakre maskeledd (20)", 20, 20},
		{24, "Omg 2: *1 st, 1 lm, hopp over 1 m* x 12, kjm (12 st)", 24, 12},
	},
	"ru": {
		{6, "2 ряд: 6 пр (12)", 6, 12},
		{6, "2р. (пр)*6 = 12", 6, 12},
		{6, "2 ряд - по 2 сбн в каждую петлю (12 петель)", 6, 12},
		{6, "2-й ряд: 6 прибавок [12]", 6, 12},
		{12, "2р: (1сбн, пр) х6 (18)", 12, 18},
		{12, "2 ряд: (1 сбн, прибавка) повторить 6 раз (18)", 12, 18},
		{12, "2 ряд: *1 сбн, 2 сбн в одну петлю*, повторить от * до * 6 раз (18 сбн)", 12, 18},
		{12, "2) сбн, пр - 6 раз (18)", 12, 18},
		{12, "2 ряд: сбн, пр по кругу (18)", 12, 18},
		{24, "2-5 ряд: 24 сбн (24)", 24, 24},
		{24, "2-5 р. сбн по кругу (24)", 24, 24},
		{24, "2-5 ряды: без изменений (24)", 24, 24},
		{24, "со 2 по 5 ряд: 24 сбн", 24, 24},
		{24, "2 ряд: (2 сбн, уб)*6 (18)", 24, 18},
		{24, "2 ряд: (2 сбн, 2 сбн вместе) 6 раз (18)", 24, 18},
		{12, "2 ряд: 6 уб (6)", 12, 6},
		{12, "2 ряд: убавки по кругу (6)", 12, 6},
		{20, "2 ряд: за заднюю стенку 20 сбн (20)", 20, 20},
		{20, "2 ряд: 20 сбн за задние полупетли (20)", 20, 20},
		{12, "2 ряд: 3 ВП, 2 ССН в каждую петлю, СС (24)", 12, 24},
		{24, "2 ряд: *1 ССН, 1 ВП, пропустить 1 петлю* 12 раз, соединительный столбик (12 ССН)", 24, 12},
		{30, "2 ряд: 5 сбн, 5 пр, 10 сбн, 5 пр, 5 сбн (40)", 30, 40},
		{12, "2 ряд: 2 ПССН в каждую п. (24)", 12, 24},
	},
}

// TestDetect tells the language of every text of the corpus; a corpus file is
// named by its language.
func TestDetect(t *testing.T) {
	files, err := filepath.Glob("../../testdata/corpus/*.truth.tsv")
	if err != nil || len(files) == 0 {
		t.Fatal("no corpus", err)
	}
	for _, truth := range files {
		name := strings.TrimSuffix(truth, ".truth.tsv")
		b, err := os.ReadFile(name + ".txt")
		if err != nil {
			if b, err = os.ReadFile(name + ".md"); err != nil {
				t.Fatal(err)
			}
		}
		want, _, _ := strings.Cut(filepath.Base(name), "-")
		switch want {
		case "us", "uk", "none":
			want = "en"
		}
		if got := detect(scan(string(b)))[0].code; got != want {
			t.Errorf("%s: taken for %s", filepath.Base(name), got)
		}
	}
}

// TestReadLanguages reads rounds as makers write them in each language.
func TestReadLanguages(t *testing.T) {
	for _, l := range languages[1:] {
		if len(readings[l.code]) == 0 {
			t.Errorf("%s: nothing to read", l.code)
		}
		for _, r := range slices.Concat(readings[l.code], moreReadings[l.code], rewordedReadings[l.code]) {
			text := fmt.Sprintf(begin[l.code], r.below) + r.line + "\n"
			f := source.NewFile(l.code+".txt", text)
			if got := detect(scan(text))[0]; got != l {
				t.Errorf("%s: taken for %s: %s", l.code, got.code, r.line)
			}
			lines := Read(f, ReadOptions{}).Lines()
			if len(lines) != 2 {
				t.Errorf("%s: %d rounds, want 2: %s", l.code, len(lines), r.line)
				continue
			}
			res := Expand(lines, Options{AnyYarn: true})
			v := res.Verdicts[1]
			if r.used >= 0 && v.Used != r.used || v.Made != r.made || v.Word != OK && v.Word != Uncounted {
				t.Errorf("%s: used %d made %d %s, want %d and %d: %s", l.code, v.Used, v.Made, v.Word, r.used, r.made, r.line)
			}
			if v.Declared < 0 {
				continue
			}
			// the same with a slip in the count
			count := lines[1].Declared.At
			slip := strings.Replace(text[count.From:], fmt.Sprint(r.made), fmt.Sprint(r.made+2), 1) // one more could be the starting chain
			lines = Read(source.NewFile(l.code+".txt", text[:count.From]+slip), ReadOptions{}).Lines()
			if v := Expand(lines, Options{AnyYarn: true}).Verdicts[1]; v.Word == OK || v.Word == Uncounted {
				t.Errorf("%s: %s for a count of %d in place of %d: %s", l.code, v.Word, r.made+2, r.made, r.line)
			}
		}
	}
}

// eighteen has ways to write the round that makes 18 stitches of 12 by six
// increases.
var eighteen = map[string][]string{
	"es": {
		`1 pb, 1 aum x6 = 18 p`,
		`(1pb, aum) 6 veces. Total: 18 puntos`,
		`(1pb, aum) 6 veces, 18 puntos en total`,
		`*1 pb, aum* (total 18 pb)`,
		`6x(1 pb, 1 aum) (18)`,
		`1 pb, aum... (18)`,
		`*1 pb en el sig p, 1 aum en el sig p; rep desde * hasta el final. (18 pb)`,
		`*pb en el primer punto, aum en el siguiente, repetir desde * toda la vuelta (18)`,
		`1 pb 1 aum (6 veces) (18 pts.)`,
		`[1 PB + 1 AUM] X 6 (18)`,
		`tejer 1 pb y 1 aumento seis veces (18)`,
		`un pb, dos pb en el mismo punto, todo alrededor (18)`,
		`1 pb en el primero, 2 pb en el segundo, y así toda la vuelta (18)`,
		`repetir 6 veces: 1 pb, 1 aum (18)`,
		`*1 pb, 2 pb en el sgte pto* repetir 5 veces más (18)`,
		`aumentar 1 punto cada 2 puntos (18)`,
		`1 p.b., 1 aum., x 6 vcs. (18)`,
		`pb, aum, pb, aum, pb, aum, pb, aum, pb, aum, pb, aum (18)`,
		`aumentar cada 2 puntos (18)`,
		`hacemos un aumento cada dos puntos (18)`,
		`1 pb, 1 aum y repetir. (18)`,
		`1 mp, 1 aum *6 (18)`,
		`1pb,1aum x6(18)`,
		`1 punto, 1 aumento, x 6 (18)`,
		`1 normal, 1 aumento, x 6 (18)`,
		`(1, aum) x 6 (18)`,
	},
	"de": {
		`1 fM, 1 zun x6 = 18 M`,
		`6x (1 fM, zun) (18)`,
		`6 x [1 fM, 1 Zun] = 18`,
		`*fM, zun* (18 fM insgesamt)`,
		`(1 fM, 1 M verd.) 6x {18}`,
		`1 fM, 1 Zun, ... (18)`,
		`* 1 fM, 2 fM in die nächste M, ab * wdh (18)`,
		`in jede 2. M 2 fM (18)`,
		`jede 2. M doppelt (18)`,
		`in jede zweite Masche 2 fM häkeln (18)`,
		`abwechselnd 1 fM und 1 Zunahme (18)`,
		`immer abwechselnd 1 fM, 1 zun (18)`,
		`6-mal: 1 fM, 1 zun (18)`,
		`sechsmal 1 fM, 1 zun (18)`,
		`1 feste M, dann 1 M verdoppeln, 6 x (18 feste M)`,
		`*1 fM, 2 fM in 1 Einstichstelle* stets wiederh. (18)`,
		`1fM,1zun*6 (18)`,
		`1 fM, Zunahme (6x wiederholen) [18]`,
		`jede zweite M zunehmen – 18 M`,
		`1 fM + zun, 6 x (18)`,
		`6 Zunahmen gleichmäßig verteilt (18)`,
		`gleichmäßig verteilt 6 M zunehmen (18)`,
		`6 M verteilt zunehmen (18)`,
		`wiederhole 6x: 1 fM, zun (18)`,
		`jede 2. M verd. (18)`,
		`(fM 1, zun 1) x 6 (18)`,
		`(1, zun) x6 (18)`,
		`1 M, 1 zun x6 (18)`,
		`1 fM, 2 fM in dieselbe M, von Anfang an wiederholen (18)`,
	},
	"fr": {
		`1 ms, 1 aug x6 = 18 m`,
		`6x (1 ms, aug) (18)`,
		`6 fois [1 ms, 1 aug] = 18`,
		`*ms, aug* (18 ms au total)`,
		`(1 ms, 1 aug) 6x {18}`,
		`1 ms, 1 aug, ... (18)`,
		`* 1 ms, 2 ms dans la m suivante, rép depuis * (18)`,
		`2 ms toutes les 2 m (18)`,
		`alterner 1 ms et 1 aug (18)`,
		`1 ms, 1 aug et ainsi de suite (18)`,
		`(1 ms, 1 aug) à répéter 6 fois (18)`,
		`(1 ms, 1 aug) tout le tour - 18 ms`,
		`1 ms, 2 ms dans la même m, répéter 6 fois (18)`,
		`1ms,1aug*6 (18)`,
		`1 m.s., 1 aug., x 6 (18 m.)`,
		`une aug toutes les deux mailles (18)`,
		`augmenter toutes les 2 mailles (18)`,
		`*1 ms ds la m suiv, 2 ms ds la m suiv* x6 (18 ms)`,
		`6 augmentations réparties (18)`,
		`répéter 6 fois : 1 ms, 1 aug (18)`,
		`*1 ms dans la 1ère m, 2 ms dans la suivante*, répéter (18)`,
		`(ms 1, aug 1) x 6 (18)`,
		`1 ms, aug ; répéter 6 fois au total (18)`,
		`1 MS + 1 AUG (6x) = 18`,
		`1 m, 1 aug x 6 (18)`,
		`[ms, 2 ms dans la même maille] x6 (18)`,
	},
	"pt": {
		`1 pb, 1 aum x6 = 18 p`,
		`(1pb, aum) 6 vezes. Total: 18 pontos`,
		`(1pb, aum) 6 vezes, 18 pontos no total`,
		`*1 pb, aum* (total 18 pb)`,
		`6x(1 pb, 1 aum) (18)`,
		`1 pb, aum... (18)`,
		`*1 pb no próx pt, 1 aum no próx pt; rep de * até o final. (18 pb)`,
		`1 pb 1 aum (6 vezes) (18 pts.)`,
		`[1 PB + 1 AUM] X 6 (18)`,
		`fazer 1 pb e 1 aumento seis vezes (18)`,
		`1 pb, 2 pb no mesmo ponto, até o fim (18)`,
		`1 pb no primeiro, 2 pb no segundo, e assim por toda a volta (18)`,
		`repetir 6 vezes: 1 pb, 1 aum (18)`,
		`*1 pb, 2 pb no ponto seguinte* repetir mais 5 vezes (18)`,
		`1 p.b., 1 aum., x 6 vz (18)`,
		`1 ponto, 1 aumento, x 6 (18)`,
		`(1, aum) x 6 (18)`,
		`aumentar a cada 2 pontos (18)`,
		`1 aum a cada dois pontos (18)`,
		`1pb e 1aum 6x(18)`,
		`1 pb, 1 aum (repete por 6x) (18)`,
		`(1pb+1aum)*6 18pts`,
	},
	"ru": {
		`(сбн, пр)*6 = 18`,
		`6 раз (1 сбн, пр) (18)`,
		`1 сбн, пр - 6 раз [18]`,
		`(1сбн, пр)х6=18`,
		`сбн, пр повторить 6 раз (18)`,
		`*сбн, пр* повторить 6 раз (18)`,
		`пр в каждую 2 петлю (18)`,
		`прибавка в каждую вторую петлю (18)`,
		`(сбн,пр) по кругу 18 петель`,
		`чередовать 1 сбн и пр (18)`,
		`(сбн1, пр1) 6 раз (18)`,
		`[1 сбн, 1 пр] х 6 (18)`,
		`(пр,1)*6=18`,
		`(1,пр)*6 (18)`,
		`*1 сбн, 2 сбн в одну п.* 6 раз - 18 п.`,
		`(1 сбн, 1 приб.) 6 раз = 18`,
		`1 сбн, 1 прибавка, и так до конца ряда (18 сбн)`,
		`(1 СБН, ПР) - повторяем 6 раз (18 петель)`,
	},
	"it": {
		`(1 mb, 1 aum) x6 = 18`,
		`6 volte (1 mb, aum) (18)`,
		`*1 mb, aum* ripetere 6 volte (18 maglie)`,
		`1 mb, 1 aum per tutto il giro (18)`,
		`1 mb, 2 mb nella stessa maglia, rip. 6 volte (18)`,
		`1 aum ogni 2 mb (18)`,
		`[1mb, 1aum]x6 (18 mb)`,
		`1 mb, aum, ripetere altre 5 volte (18)`,
		`1 m, 1 aum x6 (18)`,
		`*1 mb nella m seguente, 2 mb nella m seguente*, rip. da * a * (18)`,
	},
	"nl": {
		`(1 v, meerd) x6 = 18`,
		`6x (1 v, meerd) (18)`,
		`*1 v, 2 v in de volgende v* 6 keer (18)`,
		`1 v, 2 v in volgende v, herh. tot einde toer (18 v)`,
		`meerder in elke 2e v (18)`,
		`in elke tweede steek 2 v (18)`,
		`[1v, 2v in 1v] 6x (18)`,
		`1 v, meerd, herhaal 5 keer (18)`,
		`1v, 1 meerd (6x) [18]`,
		`*1 vaste, 2 vasten in volgende vaste. Vanaf * herhalen. (18)`,
		`6 meerderingen verdeeld over de toer (18)`,
	},
	"sv": {
		`(1 fm, 1 ökn) x6 = 18`,
		`6 ggr (1 fm, ök) (18)`,
		`*1 fm, 2 fm i nästa fm* 6 gånger (18)`,
		`1 fm, 2 fm i nästa m, upprepa varvet ut (18 m)`,
		`2 fm i varannan m (18)`,
		`öka i var 2:a m (18)`,
		`öka i varannan maska (18 m)`,
		`[1fm, 2i1] x 6 (18)`,
		`*1 fm, 2 fm i samma m* upprepa *-* varvet ut (18)`,
		`1 fm, ök. Upprepa 6 ggr. (18)`,
		`*1fm, ök*, uppr fr * till * (18)`,
		`öka 6 m jämnt fördelat (18)`,
		`dubbla varannan m (18)`,
		`1 fm, dubbla nästa m, x 6 (18)`,
	},
}

// labels has ways to write the label of the second round, each followed by six
// increases.
var labels = map[string]struct {
	increases string
	labels    []string
}{
	"es": {`6 aum (12)`, []string{
		`Vuelta n.º 2:`, `Vuelta Nº2:`, `Vuelta #2:`, `V-2:`, `V2)`, `(V2)`,
		`V2.-`, `2da vuelta:`, `2da. vuelta:`, `Segunda vuelta:`, `Vuelta dos:`, `VUELTA 2`,
		`v2`, `2v:`, `2ª V.`, `2-`, `2.-`, `R2 -`,
		`Ronda 2 ->`, `**Vuelta 2:**`, `* Vuelta 2:`, `Carrera 2:`, `Vta. 2:`, `Vuelta 2ª:`,
		`VUELTA 2.`, `2º)`, `Hilera 2:`,
	}},
	"de": {`6 zun (12)`, []string{
		`Rd. 2:`, `Rd.2:`, `2.Rd:`, `2.Rd.`, `2. Rd -`, `Runde 2 -`,
		`R2:`, `2. R:`, `Zweite Runde:`, `2.)`, `2)`, `2.`,
		`2:`, `Rnd 2:`, `**2. Runde:**`, `- Rd 2:`, `Rd 02:`, `Runde Nr. 2:`,
		`Rd 2 =`, `2 Rd:`, `2te Runde:`, `Rd2)`, `2.Runde:`, `RUNDE 2`,
		`2. Rd.: -`,
	}},
	"fr": {`6 aug (12)`, []string{
		`Tour 2 :`, `Tour n°2 :`, `Tour n° 2 :`, `T.2 :`, `T2-`, `T2 =`,
		`R.2 :`, `Rg 2 :`, `Rang n°2 :`, `2e tour :`, `2ème tour :`, `2è tour :`,
		`2eme rang :`, `2nd tour :`, `Deuxième tour :`, `Second tour :`, `2 -`, `2)`,
		`Tour 2:`, `TOUR 2`, `**Tour 2** :`, `2ème T :`, `2° tour :`, `rg2 :`,
		`Rd 2 :`,
	}},
	"pt": {`6 aum (12)`, []string{
		`Carr. 2:`, `Carreira nº 2:`, `Carr 2 -`, `2ª carreira:`, `2° carreira:`, `2a carreira:`,
		`2a. carreira:`, `Segunda carreira:`, `V2:`, `Volta 2:`, `2ª volta -`, `R2:`,
		`C2:`, `Car. 2:`, `2)`, `2-`, `2ª)`, `2ª:`,
		`2ªcarr:`, `Carr.2:`, `Linha 2:`, `2ª carr. -`, `CARREIRA 2`, `2.ª volta:`,
	}},
	"nl": {`6x meerd (12)`, []string{
		`Toer 2:`, `T2.`, `2e toer:`, `2de toer:`, `Tweede toer:`, `Rnd 2:`,
		`R2:`, `2:`, `Ronde 2 -`, `toer 2`, `2e t:`, `Toer nr. 2:`,
		`2e ronde:`,
	}},
	"it": {`6 aum (12)`, []string{
		`Giro 2:`, `G2)`, `2° giro:`, `2 giro:`, `Secondo giro:`, `2°:`,
		`2)`, `R2:`, `Giro n. 2:`, `Giro n° 2:`, `G. 2:`, `giro 2 -`,
		`Riga 2:`,
	}},
	"sv": {`6 ökn (12)`, []string{
		`Varv 2:`, `v2:`, `V 2.`, `2:a varvet:`, `Andra varvet:`, `2.`,
		`Varv nr 2:`, `varv 2)`, `V. 2:`, `R2:`,
	}},
	"ru": {`6 пр (12)`, []string{
		`2 ряд:`, `2р:`, `2р.`, `2 р -`, `2-й ряд:`, `2-ой ряд:`,
		`Ряд 2:`, `Второй ряд:`, `2)`, `2.`, `2 -`, `2:`,
		`Р2:`, `ряд №2:`, `2ряд:`, `R2:`, `2й ряд:`, `2 ряд —`,
	}},
	"da": {`6 udt (12)`, []string{
		`2. omg:`, `Omg. 2:`, `2. omgang:`, `Anden omgang:`, `O2:`, `2:`,
		`omg 2 -`, `Rk 2:`, `R2:`,
	}},
	"nb": {`6 økn (12)`, []string{
		`2. omg:`, `Omg. 2:`, `2. omgang:`, `Andre omgang:`, `2:`, `Runde 2:`,
		`R2:`, `2. runde -`,
	}},
}

// TestWaysToSayIt reads one and the same round in many words.
func TestWaysToSayIt(t *testing.T) {
	check := func(code, text string, used, made int) {
		t.Helper()
		lines := Read(source.NewFile(code+".txt", text), ReadOptions{}).Lines()
		_, line, _ := strings.Cut(text, "\n")
		if len(lines) != 2 {
			t.Errorf("%s: %d rounds, want 2: %s", code, len(lines), line)
			return
		}
		v := Expand(lines, Options{AnyYarn: true}).Verdicts[1]
		if v.Used != used || v.Made != made || v.Word != OK || v.First != 2 {
			t.Errorf("%s: round %d used %d made %d %s, want round 2, %d and %d: %s", code, v.First, v.Used, v.Made, v.Word, used, made, line)
		}
	}
	second := map[string]string{
		"de": "Rd 2: ", "fr": "Tour 2 : ", "es": "Vuelta 2: ", "pt": "Carr. 2: ", "nl": "Toer 2: ", "it": "Giro 2: ", "sv": "Varv 2: ", "ru": "2 ряд: ",
	}
	for code, ways := range eighteen {
		for _, way := range ways {
			check(code, fmt.Sprintf(begin[code], 12)+second[code]+way+"\n", 12, 18)
		}
	}
	for code, l := range labels {
		for _, label := range l.labels {
			check(code, fmt.Sprintf(begin[code], 6)+label+" "+l.increases+"\n", 6, 12)
		}
	}
}

// TestTextsOfLanguages reads whole patterns, with their lists of material and
// abbreviations and their remarks between the rounds. Every count in them is
// right.
func TestTextsOfLanguages(t *testing.T) {
	rounds := map[string]int{"de": 24, "fr": 23, "es": 21, "pt": 20, "nl": 11, "it": 11, "sv": 11, "ru": 17}
	for code, want := range rounds {
		b, err := os.ReadFile("testdata/languages/" + code + ".txt")
		if err != nil {
			t.Fatal(err)
		}
		f := source.NewFile(code+".txt", string(b))
		text := Read(f, ReadOptions{})
		if text.Language != code {
			t.Errorf("%s: taken for %s", code, text.Language)
		}
		if got := len(text.Lines()); got != want {
			t.Errorf("%s: %d lines of rounds, want %d", code, got, want)
		}
		for _, part := range text.Parts() {
			for _, v := range Expand(part.Lines, Options{AnyYarn: true}).Verdicts {
				if v.Word != OK && !(v.Word == Uncounted && v.Declared < 0) {
					t.Errorf("%s:%d: %s, used %d made %d of %d: %s", code, f.Pos(v.Line.At.From).Line, v.Word, v.Used, v.Made, v.Declared, f.Text[v.Line.At.From:v.Line.At.To])
				}
			}
		}
	}
}

// FuzzLanguages checks that the tokens of any text stay in order and inside the
// text, whatever words were moved, and that reading it ends.
func FuzzLanguages(f *testing.F) {
	for code, rs := range readings {
		for _, r := range rs {
			f.Add(fmt.Sprintf(begin[code], r.below) + r.line)
		}
	}
	f.Fuzz(func(t *testing.T, text string) {
		toks, code := words(text, scan(text), stitch.US)
		at := 0
		for i, tok := range toks {
			if tok.from < at || tok.to < tok.from || tok.to > len(text) {
				t.Fatalf("%s: token %d is %d-%d after %d, of %d bytes", code, i, tok.from, tok.to, at, len(text))
			}
			at = tok.from
		}
		Expand(Read(source.NewFile("x", text), ReadOptions{}).Lines(), Options{AnyYarn: true})
	})
}

func BenchmarkDetect(b *testing.B) {
	text := strings.Repeat(fmt.Sprintf(begin["de"], 6)+"Rd 2: *1 fM, zun, ab * noch 5 x wiederholen (18)\n", 500)
	toks := scan(text)
	b.ReportAllocs()
	for b.Loop() {
		detect(toks)
	}
	b.ReportMetric(float64(len(toks))*float64(b.N)/b.Elapsed().Seconds(), "tokens/s")
}
