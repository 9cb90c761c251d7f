package notation

import (
	"slices"
	"testing"

	"roundelay/pattern/source"
)

// moreReadings has further ways in which authors write a second round, on so
// many stitches below, and what it uses and makes; -1 if the stitches used are
// not said. The forms are from memory of the trade's habits.
var moreReadings = map[string][]reading{
	"de": {
		{6, "2. Rd: 6x 2 fM in eine M (12)", 6, 12},
		{24, "2. Rd: die 3. und 4. M immer zusammen abmaschen = 18 M", 24, 18},
		{24, "2. Rd: gleichmäßig verteilt 6 M zunehmen (30)", 24, 30},
		{24, "2. Rd: *3 Lm, 1 M übergehen, 1 fM in die nächste M; ab * wiederholen (12 Lm-Bögen)", 24, 12},
		{12, "2. Rd: In jede M: 1 fM, 1 Lm, 1 fM (24 fM)", 12, 24},
		{24, "2. Rd: *1 M übergehen, 5 Stb in die nächste M, 1 M übergehen, 1 fM in die nächste M*, 6 x arbeiten (36)", 24, 36},
		{24, "2. Rd: *1 Büschelmasche, 1 Lm, 1 M überspringen, ab * wdh (12)", 24, 12},
		{24, "2. Rd: 1 fM, *1 Picot, 3 fM, ab * wdh, 2 fM", 24, 24},
		{12, "Rd 2 (1fM, 1 Zun) * 6 (18)", 12, 18},
		{12, "2.Rnd: 1fM, Zun - 6x wdh. (18)", 12, 18},
		{12, "R2: 1 fM, 1 M verdoppeln, 6 x insgesamt (18 M)", 12, 18},
		{12, "2. Reihe: 1 fM, Zunahme – diese Folge 6 Mal wiederholen (18)", 12, 18},
		{12, "2. Rd: In jede M 2 Stb häkeln und die Rd mit 1 Km schließen. (24 Stb)", 12, 24},
		{12, "2. Rd: 3 Lm (zählen als 1. Stb), 1 Stb in dieselbe M, je 2 Stb in jede folg. M, Km (24)", 12, 24},
		{24, "2. Rd.: 1 Lm, 24 fM, mit 1 Km in die 1. fM die Rd. schließen (24)", 24, 24},
		{24, "Rd 2: *fM in die nächsten 2 M, 2 M zusammenhäkeln*; ab * bis zum Ende der Rd wiederholen. (18)", 24, 18},
		{24, "2. Runde: jede 3. und 4. Masche zusammen abmaschen (18 Maschen)", 24, 18},
		{24, "2. Rd: 8 fM, 8 x abn (16)", 24, 16},
		{24, "2. Rd: [abn, 2 fM] * 6 -> 18", 24, 18},
		{30, "2. Rd: 1 fM, 1 abn, *3 fM, 1 abn*, ab * noch 4x, 2 fM (24)", 30, 24},
		{24, "2. Rd: 1 fM in jede M, dabei 6x gleichmäßig verteilt zunehmen (30)", 24, 30},
		{12, "2. Rd: *1 fM + 1 Zunahme* 6x (18 M)", 12, 18},
		{24, "2. Rd: wie gehabt 24 fM (24)", 24, 24},
		{12, "2. Rd: sechsmal: 1 fM, 1 zun (18)", 12, 18},
		{6, "2. Rd: 2 fM pro M (12)", 6, 12},
		{12, "2. Rd: abwechselnd 1 fM und 1 Zunahme (18)", 12, 18},
		{12, "2. Tour: * 1 f. M., 2 f. M. in die folg. M., ab * stets wdh. (18 f. M.)", 12, 18},
		{12, "2. Rd.: *1 fM, 1 zun; von * bis * 6x (18)", 12, 18},
		{12, "2. Rd: 1 fM, 2 fM in eine M, das Ganze 6x wiederholen (18 M)", 12, 18},
		{12, "2. Rd: 1 fM, 2 fM in die nächste M, das Ganze noch 5 Mal (18 M)", 12, 18},
		{12, "2. Rd.: Jede 2. M. verdoppeln = 18 M.", 12, 18},
		{12, "Runde 2: In jede zweite Masche 2 feste Maschen. *18 Maschen*", 12, 18},
		{12, "2. Runde: in jede Masche zwei feste Maschen häkeln (24 Maschen)", 12, 24},
		{12, "2. Rd: 6x (1 fM, 1 M verdoppeln) = 18 M", 12, 18},
		{24, "2. Rd.: F. M., dabei jede 3. und 4. M. zus. abm. = 18 M.", 24, 18},
		{24, "2. Rd: immer 2 M zusammenhäkeln (12)", 24, 12},
		{24, "2. Rd: nur in das hintere Maschenglied einstechen: 24 fM (24)", 24, 24},
		{24, "2. Rd: Nur durch das hintere Maschenglied: in jede Masche eine feste Masche. (24)", 24, 24},
		{24, "2. Rd: je 1 fM in jede M (24 M)", 24, 24},
		{24, "2. Rd: M auf M (24)", 24, 24},
		{24, "2. Rd: ohne Zunahmen in fM weiterhäkeln (24)", 24, 24},
		{24, "2. Rd: 3 Lm (= 1. Stb), 1 Stb in jede M, mit 1 Km in die 3. Lm schließen (24 Stb)", 24, 24},
		{24, "2. Rd: 4 Lm (für 1 Stb und 1 Lm), 1 M übergehen, *1 Stb, 1 Lm, 1 M übergehen, ab * noch 10x wdh, Km (12 Stb)", 24, 12},
		{24, "2. Rd: 6 M gleichmäßig verteilt abnehmen (18)", 24, 18},
		{24, "2. Rd: *2 fM, 2 fM zusammen abmaschen*, ab * fortlaufend wiederholen (18)", 24, 18},
		{24, "2. Rd: Griffe: 6 fM, 4 Lm, 4 M überspringen, 8 fM, 4 Lm, 4 M überspringen, 2 fM", 24, 24},
	},
	"es": {
		{24, "Vuelta 2: 24 pb en cada vuelta", 24, 24},
		{24, "V.2 – repartidos uniformemente aumentar 6 puntos (30)", 24, 30},
		{24, "Vuelta 2: *3 cad, saltar 1 p, 1 pb en el siguiente p*, repetir de * a * (12 arcos)", 24, 12},
		{24, "Vuelta 2: *saltar 1 p, 5 pa en el siguiente, saltar 1 p, 1 pb en el siguiente* 6 veces (36)", 24, 36},
		{12, "Vuelta 2: (1 pa, 1 cad, 1 pa) en cada punto (24 pa)", 12, 24},
		{24, "Vuelta 2: [2 pa en un punto, 1 cad, saltar 1 p] x 12 (24 pa)", 24, 24},
		{12, "R2 (1pb-aum)x6=18", 12, 18},
		{12, "V.2 [1 PB, 1 AUM] X6 = 18 PB", 12, 18},
		{12, "Vta. 2: 1 pb, 1 aum, rep 6 v (18)", 12, 18},
		{12, "2- (1 pb, 1 aum) 6 veces. Total 18", 12, 18},
		{12, "R2. 1pb, 1 aum * 6 veces = 18 pts", 12, 18},
		{6, "2ª vuelta: aumentar en todos los puntos (12)", 6, 12},
		{6, "V2: inc en todos (12)", 6, 12},
		{24, "Vuelta 2: pb alrededor (24)", 24, 24},
		{24, "V2: dism*12 (12)", 24, 12},
		{24, "Ronda 2: sin aumentar, un medio punto en cada uno (24)", 24, 24},
		{24, "Vuelta 2: *1 pb en los 2 p siguientes, disminuir 1 p*, repetir de * a * hasta el final de la vuelta (18 p)", 24, 18},
		{24, "Vuelta 2: 3 cadenas (hacen las veces de 1 punto alto), 1 punto alto en cada punto, cerrar con punto deslizado en la tercera cadena (24)", 24, 24},
		{24, "Vuelta 2: *1 vareta, 1 cadena, saltear 1 punto*, repetir hasta terminar, unir con pc en la 3ra cadena (12 varetas)", 24, 12},
		{24, "Vuelta 2: aumentar 6 puntos repartidos (30)", 24, 30},
		{12, "Vuelta 2: 2 pa en el mismo punto, repetir en toda la vuelta (24)", 12, 24},
		{12, "Vuelta 2: tejemos 1 punto bajo y un aumento, lo repetimos 6 veces (18)", 12, 18},
		{12, "Vuelta 2: [1, aum] x 6 (18)", 12, 18},
		{12, "Vuelta 2: un punto, un aumento, así toda la vuelta. 18 puntos", 12, 18},
		{24, "Vuelta 2: 24 pb por la hebra de atrás (24)", 24, 24},
		{12, "2.ª vuelta. — * 1 p. b., 2 p. b. en el p. siguiente *; repítase de * a * (18 p. b.)", 12, 18},
		{12, "Vuelta 2 - Un punto bajo en el primer punto, dos en el siguiente, y así toda la vuelta: 18 puntos", 12, 18},
		{12, "Vuelta 2: Un aumento cada 2 puntos (1 punto bajo, 1 aumento): 18 puntos", 12, 18},
		{12, "2da. vuelta: * 1 m.p., 2 m.p. en el punto siguiente *, repetir de * a * toda la vuelta. Quedan 18 m.p.", 12, 18},
		{12, "R2: (1mp, aum) x6 (18)", 12, 18},
		{12, "Ronda 2. *1 mp, 1 aum* repetir 6 veces. [18 mp]", 12, 18},
		{12, "V2: 1pb, 1aum (x6) [18]", 12, 18},
		{12, "Vuelta 2: 1 pb y 1 aum en toda la vuelta (18)", 12, 18},
		{12, "Vuelta 2: 1 pb, aum... así hasta el final (18)", 12, 18},
		{12, "Vuelta 2: 2 puntos bajos en cada uno de los 12 puntos (24)", 12, 24},
		{24, "Vuelta 2: 3 cad. (que equivalen al primer p. a.), 1 p. a. en cada p., cerrar con p. e. (24 p. a.)", 24, 24},
		{24, "Vuelta 2: tejer derecho, punto sobre punto (24)", 24, 24},
		{24, "2da vuelta: en m.p., * 2 m.p., tejer 2 puntos juntos *, repetir. Quedan 18 m.p.", 24, 18},
		{24, "Vuelta 2: Tomando solo el lazo de adelante: 3 mp en cada punto. [72 mp]", 24, 72},
		{24, "Vuelta 2: Las asas: 6 pb, 4 cadenetas, saltamos 4 puntos, 8 pb, 4 cadenetas, saltamos 4 puntos, 2 pb", 24, 24},
		{24, "Vuelta 2: disminuir cada 3 puntos: 18 puntos", 24, 18},
		{24, "V2: *pb en los 2 puntos siguientes, dism* x6 (18)", 24, 18},
		{24, "Vuelta 2: 1 pb en cada punto alrededor, cerrar con 1 punto raso en el primer pb. (24)", 24, 24},
		{24, "Vuelta 2: repetir [2 pb, dism] hasta el final (18)", 24, 18},
		{24, "Vuelta 2: *1 pa, 1 cad., se salta 1 p. *; repítase de * a * toda la vuelta (12 p. a.)", 24, 12},
	},
	"pt": {
		{24, "Carr 2: 24 pb em cada carreira", 24, 24},
		{24, "Carr 2: *3 corr, pular 1 pt, 1 pb no próximo*, repita de * a * (12 alcinhas)", 24, 12},
		{12, "Carr 2: (1 pa, 1 corr, 1 pa) em cada ponto (24 pa)", 12, 24},
		{24, "Carr 2: *pule 1 pt, 5 pa no próximo, pule 1 pt, 1 pb no próximo* 6 vezes (36)", 24, 36},
		{24, "Carr 2: [2 pa no mesmo ponto, 1 corr, pule 1 pt] repita 12x (24 pa)", 24, 24},
		{12, "2ªcar: (1pb,1aum)x6 = 18pb", 12, 18},
		{12, "Carr 2 - 1pb, 1aum 6x (18pb)", 12, 18},
		{12, "R2: *pb, aum* repita 6x (18)", 12, 18},
		{12, "V2 - [1 pb, aum] * 6 = [18]", 12, 18},
		{6, "Carr.2: aum em todos os pontos (12)", 6, 12},
		{12, "Carreira 2: 1 ponto baixo, 1 aumento (repetir 6 vezes) 18 pontos", 12, 18},
		{12, "2ª carreira: em cada ponto faça 2 pontos altos, feche com ponto baixíssimo (24)", 12, 24},
		{24, "2ª carreira: suba 3 correntinhas, 1 pa em cada pa da carreira anterior, feche (24 pa)", 24, 24},
		{24, "Carr 2: 2 pb, dim (6 vezes) = 18 pontos totais", 24, 18},
		{24, "Carr 2: pb ao redor (24)", 24, 24},
		{24, "Carr 2: 24 pb somente na alça de trás (24)", 24, 24},
		{24, "Volta 2: 2 mb, 2 mb juntas, repetir sempre (18)", 24, 18},
		{12, "2ª volta: 1 mb, 1 aumento; repetir 6 vezes (18)", 12, 18},
		{12, "2ª v.: *1 pb, 1 aum*, repetir em toda a volta = 18 pb.", 12, 18},
		{12, "Carreira 2: Faça 1 ponto baixo e 1 aumento até o final. Total: 18", 12, 18},
		{12, "C2 - [1pb, 1aum] 6x (18)", 12, 18},
		{12, "Volta 2 - *1 mb na primeira m, 2 mb na m seguinte*, repetir até ao fim da volta [18 m]", 12, 18},
		{12, "Carr 2: 1 pb, aum (repete 6x) = 18 pts", 12, 18},
		{12, "Carr. 2: 2 pb em todos os pontos (24)", 12, 24},
		{12, "2ª carr: faça 2 pontos baixos em cada ponto. Total: 24 pontos", 12, 24},
		{12, "Carr. 2: 1 pb em um ponto e 2 pb no próximo, assim por diante (18)", 12, 18},
		{24, "Carr. 2: só na laçada de trás: 1 pb em cada ponto (24)", 24, 24},
		{24, "Carr. 2: Agora em ponto baixo, 1 pb em cada ponto. (24)", 24, 24},
		{24, "Carr. 2: 3 corr. (1º ponto alto), 1 pa em cada pt, feche com pbx (24 pa)", 24, 24},
		{24, "Carr. 2: 24 pb, 1 pbx e arrematar", 24, 24},
		{24, "Carr. 2: ponto sobre ponto (24)", 24, 24},
		{24, "Carr. 2: *1 pa, 1 corr., pular 1 ponto*, repetir em toda a volta (o 1º pa substituir por 3 corr.)", 24, 12},
		{24, "Carr. 2: diminuir 6 pontos distribuídos na carreira (18)", 24, 18},
		{24, "Carr. 2: [2 pb, 1 dim] por toda a volta (18)", 24, 18},
		{24, "Carr. 2: alças: 6 pb, 4 corr, pular 4 pts, 8 pb, 4 corr, pular 4 pts, 2 pb", 24, 24},
	},
	"nl": {
		{6, "Toer 2: 6x 2 v in 1 st (12)", 6, 12},
		{12, "2e toer: 3 l, 1 stk in dezelfde st, 2 stk in elke volgende st, 1 hv. (24 stk)", 12, 24},
		{24, "Toer 2: *3 l, sla 1 st over, 1 v in de volgende st*, herhaal van * tot * (12 boogjes)", 24, 12},
		{12, "Toer 2: (1 stk, 1 l, 1 stk) in elke v (24 stk)", 12, 24},
		{24, "Toer 2: *sla 1 steek over, 5 stk in de volgende, sla 1 steek over, 1 v in de volgende* 6 keer (36)", 24, 36},
		{12, "T2: (1v, mrd) x6 =18", 12, 18},
		{12, "Ronde 2: *1 v, 2 v in volgende st* herh 6x (18)", 12, 18},
		{12, "Rondje 2: [1 v - meerd] 6 keer herhalen (18 v)", 12, 18},
		{6, "Toer 2: meerder in elke steek (12)", 6, 12},
		{6, "Toer 2: haak in elke vaste 2 vasten (12)", 6, 12},
		{24, "Toer 2: vasten rondom (24)", 24, 24},
		{24, "Toer 2: 1 vaste in elke vaste van de vorige toer (24)", 24, 24},
		{24, "Toer 2: (2 v, mind) hele toer herhalen (18)", 24, 18},
		{24, "2e ronde: 3 lossen (telt als 1e stokje), 23 stokjes, sluiten met een halve vaste in de 3e losse (24)", 24, 24},
		{24, "Toer 2: 24v in achterste lussen (24)", 24, 24},
		{12, "Toer 2: 1 vaste, 1 meerdering, dit 6 keer herhalen (18)", 12, 18},
		{12, "Toer 2: om en om 1 v en 1 meerdering (18)", 12, 18},
		{24, "Toer 2: elke 3e en 4e v samen haken (18)", 24, 18},
		{12, "Toer 2: haak 1 vaste en dan 2 vasten in de volgende steek, herhaal dit de hele toer. Je hebt nu 18 vasten.", 12, 18},
		{12, "2e toer: (1 v, 2 v in 1 steek) herhaal 6x (18)", 12, 18},
		{12, "Toer 2: 1 v, meerdering, herhaal van * tot * (18)", 12, 18},
		{12, "Toer 2: meerder in elke 2e steek (18)", 12, 18},
		{12, "Toer 2: 2 vasten in iedere vaste (24)", 12, 24},
		{12, "Toer 2: *1 v, meerd*, 6 keer (18)", 12, 18},
		{24, "Toer 2: in de achterste lussen: 1 v in elke steek (24)", 24, 24},
		{24, "2e toer: haak nog een toer vasten, hecht af.", 24, 24},
		{24, "Toer 2: *2 v, 2 v samenhaken* rondom (18)", 24, 18},
		{24, "Toer 2: haak steeds 2 steken samen (12)", 24, 12},
		{24, "Toer 2: 3 l (= 1e stk), 1 stk in elke v, sluit met hv (24 stk)", 24, 24},
		{24, "Toer 2: *1 stk, 1 l, sla 1 steek over*, herhaal 12 keer (12 stk)", 24, 12},
		{24, "Toer 2: minder 6 steken gelijkmatig verdeeld (18)", 24, 18},
		{24, "Toer 2: 1 v in elke steek tot het einde van de toer, sluit met een hv in de eerste v. (24)", 24, 24},
	},
	"fr": {
		{12, "2e rang : 3 ml, 1 br. dans la même m., 2 br. dans chaque m. suivante, fermer. (24 br.)", 12, 24},
		{12, "Tour 2 : 2 ms dans chaque maille suivante (24)", 12, 24},
		{24, "Tour 2 : *3 ml, sauter 1 m, 1 ms dans la suivante*, répéter de * à * (12 arceaux)", 24, 12},
		{12, "Tour 2 : (1 br, 1 ml, 1 br) dans chaque maille (24 br)", 12, 24},
		{24, "Tour 2 : *sauter 1 m, 5 br dans la suivante, sauter 1 m, 1 ms dans la suivante* 6 fois (36)", 24, 36},
		{24, "Tour 2 : *2 br dans la même m, 1 ml, passer 1 m* x 12 (24 br)", 24, 24},
		{12, "T2 (1ms, 1aug)x6 = 18ms", 12, 18},
		{12, "Rang 2: *1ms-1aug*x6 (18)", 12, 18},
		{12, "Tr 2 : 1 ms - aug (6 fois) = 18", 12, 18},
		{6, "Tour 2 : aug dans chaque m (12)", 6, 12},
		{6, "Tour 2 : 1 augmentation dans chaque maille = 12 mailles", 6, 12},
		{24, "Tour 2 : ms tout autour (24)", 24, 24},
		{24, "Tour 2 : 24 ms dans le brin arrière (24)", 24, 24},
		{24, "Tour 2 : 3 ml (= 1 br), 1 br ds chaque m, fermer par 1 mc sur la 3e ml (24 br)", 24, 24},
		{24, "Tour 2 : *2 ms, 1 dim* reprendre 6 fois (18)", 24, 18},
		{12, "Tour 2 : alterner 1 ms et 1 aug (18)", 12, 18},
		{12, "Tour 2 : 1 ms, puis 2 ms dans la même maille, à répéter 6 fois (18 ms)", 12, 18},
		{24, "Tour 2 : 1 ms dans chacune des ms du tour précédent (24)", 24, 24},
		{24, "Rg 2 : *1 br, 1 ml, sauter 1 m ; rep à partir de *, term par 1 mc (12 br)", 24, 12},
		{12, "2e tour. — * 1 maille serrée, 2 m. serrées dans la m. suivante; répéter depuis * tout autour. (18 m.)", 12, 18},
		{12, "R2. [1 ms, 2 ms dans la m suivante] tout le tour. (18)", 12, 18},
		{12, "Tour 2 : *1 ms, 1 aug* répéter de * à * = 18 ms", 12, 18},
		{12, "R2. Augmenter toutes les 2 m. (18)", 12, 18},
		{12, "Tour 2 : 2 ms dans chacune des 12 m (24)", 12, 24},
		{12, "Tour 2 : 1 ms, 1 aug et ainsi de suite (18)", 12, 18},
		{12, "Tour 2 : (1 ms, aug) x 6 - 18 m", 12, 18},
		{24, "Tour 2 : 1 ms dans chaque m en rabattant ensemble toutes les 3e et 4e mailles = 18 ms", 24, 18},
		{24, "R2. Piquer uniquement dans le brin arrière : 1 ms dans chaque m. (24)", 24, 24},
		{24, "Tour 2 : maille sur maille (24)", 24, 24},
		{24, "Tour 2 : 3 ml (pour 1 br), 1 br dans chaque m, 1 mc dans la 3e ml (24 br)", 24, 24},
		{24, "Tour 2 : (2 ms, 2 ms rabattues ensemble) tout le tour (18)", 24, 18},
		{24, "Tour 2 : * 1 br, 1 ml, passer 1 m, recommencer depuis * (12 br)", 24, 12},
		{24, "Tour 2 : 1 m. serrée sur chaque m. (24 m.)", 24, 24},
		{24, "Tour 2 : diminuer 6 fois régulièrement (18)", 24, 18},
	},
	"it": {
		{24, "Giro 2: *3 cat, saltare 1 m, 1 mb nella successiva*, ripetere da * a * (12 archetti)", 24, 12},
		{12, "Giro 2: (1 ma, 1 cat, 1 ma) in ogni maglia (24 ma)", 12, 24},
		{24, "Giro 2: *saltare 1 m, 5 ma nella seguente, saltare 1 m, 1 mb nella seguente* 6 volte (36)", 24, 36},
		{12, "G2 (1mb, 1aum)x6 = 18mb", 12, 18},
		{12, "Giro 2: *1mb-1aum* x6 (18)", 12, 18},
		{12, "2 giro: (1mb 1aum) ripetere 6 volte (18)", 12, 18},
		{6, "Giro 2: un aumento in ogni punto (12)", 6, 12},
		{6, "Giro 2: aumentare in ogni maglia (12)", 6, 12},
		{24, "Giro 2: mb per tutto il giro (24)", 24, 24},
		{24, "Giro 2: 24 mb in costa dietro (24)", 24, 24},
		{24, "Giro 2: 3 cat (= 1 ma), 1 ma in ogni m, chiudere con mbss nella 3a cat (24 ma)", 24, 24},
		{24, "Giro 2: *2 mb, 1 dim*; rip. da * per tutto il giro (18)", 24, 18},
		{12, "Giro 2: alternare 1 mb e 1 aum (18)", 12, 18},
		{24, "Giro 2: 1 mb su ogni mb del giro precedente (24)", 24, 24},
		{12, "2° giro. * 1 m. bassa, 2 m. basse nella m. seguente *, ripetere da * a * = 18 m. basse", 12, 18},
		{12, "Giro 2 - 1 maglia bassa, 1 aumento, ripetere per tutto il giro. Tot. 18 m", 12, 18},
		{12, "2° giro: *1 mb, 1 aum* per 6 volte (18)", 12, 18},
		{12, "Giro 2: 2 mb in ogni m (24)", 12, 24},
		{12, "Giro 2: (1 mb, aum) x 6 = 18 mb", 12, 18},
		{12, "Giro 2: 1 mb, 2 mb nello stesso punto, ripetere fino alla fine (18)", 12, 18},
		{24, "Giro 2: 1 mb in ogni maglia prendendo solo il filo dietro. Tot. 24 m", 24, 24},
		{24, "Giro 2: 3 cat (valgono per la 1ª m. alta), 1 m. alta in ogni m., chiudere. In tutto 24 m. alte", 24, 24},
		{24, "Giro 2: *2 mb, 2 mb chiuse insieme*, per tutto il giro. (18 mb)", 24, 18},
		{24, "Giro 2: maglia su maglia (24)", 24, 24},
		{24, "Giro 2: *1 ma, 1 cat, saltare 1 m*, ripetere da * a * (12 ma)", 24, 12},
		{24, "Giro 2 - 6 mb, 4 cat, saltare 4 m, 8 mb, 4 cat, saltare 4 m, 2 mb", 24, 24},
		{24, "Giro 2: Punto gambero in ogni maglia. (24)", 24, 24},
	},
	"sv": {
		{12, "Varv 2: Virka ihop 2 och 2 m varvet runt = 6 fm", 12, 6},
		{24, "Varv 2: *3 lm, hoppa över 1 m, 1 fm i nästa m*, upprepa varvet ut (12 bågar)", 24, 12},
		{12, "Varv 2: (1 st, 1 lm, 1 st) i varje m (24 st)", 12, 24},
		{24, "Varv 2: *hoppa över 1 m, 5 st i nästa m, hoppa över 1 m, 1 fm i nästa m* 6 ggr (36)", 24, 36},
		{12, "V.2 (1fm, ök)x6 = 18", 12, 18},
		{12, "v2: 1 fm, ök * 6 (18)", 12, 18},
		{12, "Varv 2: [1 fm, 1 ökning] x 6 (18 m)", 12, 18},
		{12, "Varv 2: *1 fm, 2 fm i nästa m*. Upprepa *-* 6 ggr (18 fm)", 12, 18},
		{6, "Varv 2: öka i varje maska (12)", 6, 12},
		{6, "Varv 2: 2 fm i varje m (12)", 6, 12},
		{24, "Varv 2: fm varvet runt (24)", 24, 24},
		{24, "Varv 2: 1 fm i varje m från föregående varv (24)", 24, 24},
		{24, "Varv 2: 24 fm i bmb (24)", 24, 24},
		{24, "Varv 2: *2 fm, minska 1* varvet runt (18)", 24, 18},
		{24, "Varv 2: 1 lm, 24 fm, sm i första fm (24)", 24, 24},
		{12, "Varv 2: växla 1 fm och 1 ökn (18)", 12, 18},
		{12, "V2 1fm, 2i1 x6 =18", 12, 18},
		{12, "2:a varvet: * 1 fm i första m, 2 fm i nästa m *, upprepa *-* varvet ut = 18 fm.", 12, 18},
		{12, "Varv 2: öka i varannan m (18 fm).", 12, 18},
		{12, "Varv 2: *1 fm, 2 fm i samma m* upprepa varvet runt. (18)", 12, 18},
		{12, "Varv 2: 2 fm i var och en av de 12 m (24)", 12, 24},
		{24, "Varv 2: *2 fm, virka ihop 2 m* upprepa varvet runt. (18)", 24, 18},
		{24, "Varv 2: Virka ihop alla m två och två. (12)", 24, 12},
		{24, "Varv 2: Fm, virka samtidigt ihop var 3:e och 4:e m = 18 fm.", 24, 18},
		{24, "Varv 2: fm i bakre maskbågarna (24 fm)", 24, 24},
		{24, "Varv 2: 2tills x12 =12", 24, 12},
		{24, "Varv 2: 3 lm (= 1:a st), 1 st i varje m, 1 sm i 3:e lm (24 st)", 24, 24},
		{24, "Varv 2: *1 st, 1 lm, hoppa över 1 m*, upprepa varvet ut (12 st)", 24, 12},
		{24, "2. Handtag: 6 fm, 4 lm, hoppa över 4 fm, 8 fm, 4 lm, hoppa över 4 fm, 2 fm.", 24, 24},
		{24, "Varv 2: minska 6 m jämnt fördelat (18)", 24, 18},
		{24, "Varv 2: sm runt hela kanten (24)", 24, 24},
	},
	"ru": {
		{48, "2 ряд: равномерно прибавить 8 петель (56)", 48, 56},
		{24, "2 ряд: *3 вп, пропустить 1 п, 1 сбн в следующую п*, повторять от * до * (12 арок)", 24, 12},
		{12, "2 ряд: (1 ссн, 1 вп, 1 ссн) в каждую петлю (24 ссн)", 12, 24},
		{24, "2 ряд: *пропустить 1 п, 5 ссн в следующую, пропустить 1 п, 1 сбн в следующую* 6 раз (36)", 24, 36},
		{12, "2 р. - (1 сбн, 1 пр) *6 (18)", 12, 18},
		{12, "2. (сбн, пр)*6 = 18", 12, 18},
		{12, "Ряд 2: 1 сбн, прибавка (повторить 6 раз) = 18", 12, 18},
		{12, "2 ряд: [1 сбн + пр] × 6 = 18 сбн", 12, 18},
		{6, "2 ряд: прибавки по кругу (12)", 6, 12},
		{6, "2р: 6 прибавок [12]", 6, 12},
		{6, "2 ряд: по 2 сбн в каждую петлю = 12 петель", 6, 12},
		{24, "2 ряд: сбн по кругу (24)", 24, 24},
		{24, "2 ряд: (2 сбн, убавка) повторяем до конца ряда = 18", 24, 18},
		{24, "2 ряд: вяжем только за заднюю полупетлю 24 сбн (24)", 24, 24},
		{24, "2 ряд: 2 сбн, 2 сбн вместе, повторить 6 раз (18)", 24, 18},
		{12, "2 ряд: чередуем 1 сбн и 1 прибавку (18)", 12, 18},
		{12, "2 ряд: через одну петлю прибавка (18)", 12, 18},
		{12, "2р. (1 сбн, пр)х6=18", 12, 18},
		{12, "2-й ряд. *1 ст. без накида, 2 ст. без накида в следующую петлю*, повторяем от * до * по кругу (18 петель).", 12, 18},
		{12, "2 ряд - чередуем: 1 СБН, потом 2 СБН из одной петли. Всего 18.", 12, 18},
		{12, "2 ряд: прибавка в каждой 2-й петле (18 петель)", 12, 18},
		{12, "2 ряд: в каждый столбик по 2 сбн, всего 24", 12, 24},
		{12, "2 ряд: *1 сбн, прибавка* повторить 6 раз [18]", 12, 18},
		{24, "2 ряд: СБН, каждые 3-ю и 4-ю петли вместе, осталось 18.", 24, 18},
		{24, "2 ряд: каждые 3 и 4 петли вместе (18)", 24, 18},
		{24, "2 ряд: за задние стенки, 24 сбн (24)", 24, 24},
		{24, "2 ряд: сбн в сбн (24)", 24, 24},
		{24, "2 ряд: без прибавок, за заднюю стенку петли (24 петли)", 24, 24},
		{24, "2 ряд: 3 ВП (считаем за первый ССН), по 1 ССН в каждую петлю, закрываем СС (24)", 24, 24},
		{24, "2 ряд: (2 сбн, уб) - 6 раз (18)", 24, 18},
		{24, "2 ряд: полустолбики по кругу, нить отрезать и спрятать.", 24, 24},
		{24, "2 ряд: *1 ссн, 1 вп, пропустить 1 петлю*, повторять от * до * (12 ссн)", 24, 12},
	},
}

// shortTexts are small patterns of which every round comes out, and what each
// line of rounds makes. They are written for this test, in the manner of old
// and new leaflets.
var shortTexts = []struct {
	code, text string
	made       []int
}{
	{"de", `Amigurumi Ente Emil

Schnabel: mit Gelb 5 Lm anschlagen.
Rd 1: ab der 2. Lm von der Nadel aus 3 fM, 3 fM in die letzte Lm, auf der anderen Seite weiterhäkeln: 2 fM, 2 fM in die letzte M (10)
Rd 2: 10 fM (10)

Kopf
1.Runde: In den Fadenring 6 feste Maschen arbeiten. (6 M)
2.Runde: jede Masche verdoppeln (12 M)
3.Runde: jede zweite Masche verdoppeln (18 M)
4.Runde: jede dritte Masche verdoppeln (24 M)
5.-8.Runde: eine feste Masche in jede Masche häkeln (24 M)
9.Runde: jede dritte und vierte Masche zusammenhäkeln (18 M)
10.Runde: jede zweite und dritte Masche zusammenhäkeln (12 M)
11.Runde: immer zwei Maschen zusammenhäkeln (6 M)
`, []int{10, 10, 6, 12, 18, 24, 24, 18, 12, 6}},
	{"it", `Topolino Gigi
g1: am 6 mb (6)
g2: 6aum (12)
g3: (1mb,aum)x6 (18)
g4: (2mb,aum)x6 (24)
g5-g8: 24mb (24)
g9: (2mb,dim)x6 (18)
g10: (mb,dim)x6 (12)
g11: dimx6 (6)
`, []int{6, 12, 18, 24, 24, 18, 12, 6}},
	{"de", `Rundes Kissen aus dem Jahre 1934.

Anschlag 6 Lftm., zum Ringe schließen.
1. Reihe: 12 f. M. in den Ring.
2. Reihe: In jede M. 2 f. M. (24).
3. Reihe: Jede 2. M. verdoppeln (36).
4. Reihe: 1 Stäbchen in jede M. (36).
5. Reihe: * 2 Stäbchen, 1 Luftmasche, 1 M. übergehen. Vom * an wiederholen (24 Stäbchen).
6. Reihe: Um jede Luftmasche 3 Stäbchen (36 Stäbchen).
`, []int{12, 24, 36, 36, 24, 36}},
	{"de", `Kopf:
R1: 6 fM in MR
R2: 6 V (12)
R3: 1 fM, V * 6 (18)
R4: 2 fM, V * 6 (24)
R5 - 7: 24 M
R8: 2 fM, A * 6 (18)
R9: 1 fM, A * 6 (12)
R10: A * 6 (6)

V = Verdoppeln, A = Abnehmen, MR = magischer Ring
`, []int{6, 12, 18, 24, 24, 18, 12, 6}},
	{"es", `Carpeta tejida a crochet. Revista Labores, 1948.
Comenzar con 10 cadenas; unir en círculo con 1 punto corrido.
1a. vuelta: 3 cadenas, 23 varetas dentro del círculo. Unir con 1 punto corrido.
2a. vuelta: 1 medio punto en cada vareta.
3a. vuelta: * 1 medio punto, 5 cadenas, saltar 2 puntos. Repetir desde * todo alrededor.
4a. vuelta: En cada arco: 1 medio punto, 5 varetas, 1 medio punto.
`, []int{24, 24, 8, 56}},
	{"fr", `Dessous de verre « Écume »

Faire une chaînette de 5 ml, fermer en rond avec 1 mc.
1er rang : 3 ml (remplacent la 1re bride), 15 brides dans le rond, fermer par 1 mc dans la 3e ml. (16 br.)
2e rang : 3 ml, 1 br. dans la même m., 2 br. dans chaque m. suivante, fermer. (32 br.)
3e rang : * 1 m.s., 3 ml, sauter 1 br.; rép. à partir de * tout le tour, 1 mc. (16 arceaux)
4e rang : 3 br. dans chaque arceau. (48 br.)
Tour 5 : 1 ms dans ch. br. (48)
`, []int{16, 32, 16, 48, 48}},
	{"it", `Sottobicchiere Onda

Avviare 5 cat e chiudere ad anello con 1 mbss.
1° giro: 3 cat (= 1 m.a.), 15 m.a. nell'anello, chiudere con 1 mbss nella 3ª cat. (16 m.a.)
2° giro: 3 cat, 1 m.a. nello stesso punto, 2 m.a. in ogni m.a., chiudere. (32 m.a.)
3° giro: * 1 m.b., 3 cat, saltare 1 m.; ripetere da * per tutto il giro. (16 archetti)
4° giro: 3 m.a. in ogni archetto (48 m.a.)
5° giro: 1 m.b. in ciascuna m.a. (48)
`, []int{16, 32, 16, 48, 48}},
	{"nl", `Onderzetter Schelp

Opzet: 5 l, sluit met 1 hv tot een ring.
1e toer: 3 l (= 1e stk), 11 stk in de ring, 1 hv in de 3e l. (12 stk)
2e toer: 3 l, 1 stk in hetzelfde stk, 2 stk in elk volgend stk, 1 hv. (24 stk)
3e toer: 3 l, 2 stk in volgend stk, * 1 stk in volgend stk, 2 stk in volgend stk; herhaal vanaf *; 1 hv. (36 stk)
4e toer: * 1 v, 3 l, 2 stk overslaan; herhaal vanaf * rondom. (12 boogjes)
5e toer: in elk boogje: 1 v, 3 stk, 1 v. (60)
`, []int{12, 24, 36, 12, 60}},
	{"pt", `CORAÇÃO DO MAR

Car 1: no círculo mágico, 3 corr (conta como 1 pa), 15 pa. fechar com pbx. (16 pa)
Car 2: 3 corr, 1 pa no mesmo ponto de base, 2 pa em cada ponto. fechar (32)
Car 3: 1 corr, *1 pb no ponto, 2 corr, pula 1 ponto* repete até o final, fechar com pbx. (16 pb)
Car 4: pbx até o 1º espaço, 3 corr, 2 pa no mesmo espaço, 3 pa em cada um dos espaços seguintes, fechar (48 pa)
Car 5: 1 corr, pb em todos os pontos (48 pb)
`, []int{16, 32, 16, 48, 48}},
	{"ru", `Салфетка «Прибой»

Набираем цепочку из 6 ВП, замыкаем в кольцо СС.
1 ряд: 3 ВП подъёма, 15 ССН в кольцо, СС в 3-ю ВП (16)
2 ряд: 3 ВП, 1 ССН в ту же петлю, по 2 ССН в каждый столбик, СС (32)
3 ряд: *1 СБН, 3 ВП, пропустить 1 столбик*, повторить до конца ряда (16 арок)
4 ряд: в каждую арку 3 ССН (48 ССН)
5 ряд: СБН в каждый ССН (48)
6 ряд: равномерно прибавить 8 петель (56)
7 ряд: *5 СБН, уб* повторить 8 раз (48)
`, []int{16, 32, 16, 48, 48, 56, 48}},
	{"sv", `Grytunderlägg Snäckan

Lägg upp 5 lm, slut till ring med 1 sm.
Varv 1: 3 lm (= 1 st), 15 st om ringen, sm i 3:e lm (16 st).
Varv 2: 3 lm, 1 st i samma m, 2 st i varje st, sm (32 st).
Varv 3: *1 fm, 3 lm, hoppa över 1 st*, upprepa *-* varvet runt (16 bågar).
Varv 4: 3 st i varje båge (48 st).
Varv 5: 1 fm i varje st (48 fm).
Varv 6: öka 8 m jämnt fördelat (56 fm).
`, []int{16, 32, 16, 48, 48, 56}},
}

func TestShortTexts(t *testing.T) {
	for _, s := range shortTexts {
		text := Read(source.NewFile(s.code+".txt", s.text), ReadOptions{})
		if text.Language != s.code {
			t.Errorf("%s: taken for %s", s.code, text.Language)
		}
		var made []int
		for _, part := range text.Parts() {
			for _, v := range Expand(part.Lines, Options{AnyYarn: true}).Verdicts {
				made = append(made, v.Made)
				if v.Word != OK && !(v.Word == Uncounted && v.Declared < 0) {
					t.Errorf("%s: %s, used %d made %d of %d: %s", s.code, v.Word, v.Used, v.Made, v.Declared, v.Line.Label)
				}
			}
		}
		if !slices.Equal(made, s.made) {
			t.Errorf("%s: made %d, want %d", s.code, made, s.made)
		}
	}
}
