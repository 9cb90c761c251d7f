package chart

import (
	"fmt"
	"slices"
	"strings"

	"roundelay/pattern/notation"
)

// captions are what charts say beside the names of stitches, in English and in
// the other languages that rounds can be written in, in the order of
// notation.Languages: Danish, German, Spanish, French, Italian, Norwegian, Dutch,
// Portuguese, Swedish. All of them are from memory.
var captions = map[string][9]string{
	"%s: ring chart":  {"%s: diagram i ringe", "%s: Häkelschrift in Ringen", "%s: gráfico en anillos", "%s : diagramme en anneaux", "%s: schema ad anelli", "%s: diagram i ringer", "%s: haakschema in ringen", "%s: gráfico em anéis", "%s: diagram i ringar"},
	"chart of rounds": {"diagram over omgange", "Häkelschrift der Runden", "gráfico de vueltas", "diagramme des tours", "schema dei giri", "diagram over omganger", "haakschema van de toeren", "gráfico das carreiras", "diagram över varv"},
	"Rounds %d to %d, from the middle outwards": {"Omgang %d til %d, fra midten og udad", "Runde %d bis %d, von der Mitte nach außen", "Vueltas %d a %d, del centro hacia fuera", "Tours %d à %d, du centre vers l’extérieur", "Giri da %d a %d, dal centro verso l’esterno", "Omgang %d til %d, fra midten og utover", "Toer %d tot en met %d, van het midden naar buiten", "Carreiras %d a %d, do centro para fora", "Varv %d till %d, från mitten och utåt"},
	"Rounds %d to %d, inwards from round %d":    {"Omgang %d til %d, indad fra omgang %d", "Runde %d bis %d, von Runde %d nach innen", "Vueltas %d a %d, hacia dentro desde la vuelta %d", "Tours %d à %d, vers l’intérieur depuis le tour %d", "Giri da %d a %d, verso l’interno dal giro %d", "Omgang %d til %d, innover fra omgang %d", "Toer %d tot en met %d, naar binnen vanaf toer %d", "Carreiras %d a %d, para dentro desde a carreira %d", "Varv %d till %d, inåt från varv %d"},
	"Rounds %d to %d are worked like this one.": {"Omgang %d til %d hækles som denne.", "Runde %d bis %d werden wie diese gehäkelt.", "Las vueltas %d a %d se tejen como esta.", "Les tours %d à %d se crochètent comme celui-ci.", "I giri da %d a %d si lavorano come questo.", "Omgang %d til %d hekles som denne.", "Toer %d tot en met %d worden gehaakt als deze.", "As carreiras %d a %d trabalham-se como esta.", "Varv %d till %d virkas som detta."},
	"magic ring":     {"magisk ring", "Fadenring", "anillo mágico", "cercle magique", "anello magico", "magisk ring", "magische ring", "anel mágico", "magisk ring"},
	"close the hole": {"luk hullet", "Loch schließen", "cerrar el agujero", "fermer le trou", "chiudere il foro", "lukk hullet", "gat sluiten", "fechar o buraco", "stäng hålet"},
	"increase: one foot, two or more stitches":   {"udtagning: én fod, to eller flere masker", "Zunahme: ein Fuß, zwei oder mehr Maschen", "aumento: un pie, dos o más puntos", "augmentation : un pied, deux mailles ou plus", "aumento: un piede, due o più punti", "økning: én fot, to eller flere masker", "meerdering: één voet, twee of meer steken", "aumento: um pé, dois ou mais pontos", "ökning: en fot, två eller fler maskor"},
	"decrease: several feet, one stitch":         {"indtagning: flere fødder, én maske", "Abnahme: mehrere Füße, eine Masche", "disminución: varios pies, un punto", "diminution : plusieurs pieds, une maille", "diminuzione: più piedi, un punto", "felling: flere føtter, én maske", "mindering: meerdere voeten, één steek", "diminuição: vários pés, um ponto", "minskning: flera fötter, en maska"},
	"into the back loop only":                    {"kun i bagerste maskeled", "nur ins hintere Maschenglied", "solo por la hebra de atrás", "dans le brin arrière seulement", "solo nell’asola posteriore", "bare i bakre maskeledd", "alleen in de achterste lus", "só na alça de trás", "endast i bakre maskbågen"},
	"into the front loop only":                   {"kun i forreste maskeled", "nur ins vordere Maschenglied", "solo por la hebra de delante", "dans le brin avant seulement", "solo nell’asola anteriore", "bare i fremre maskeledd", "alleen in de voorste lus", "só na alça da frente", "endast i främre maskbågen"},
	"another yarn from here on":                  {"andet garn herfra", "ab hier anderes Garn", "otro hilo desde aquí", "autre fil à partir d’ici", "altro filato da qui", "annet garn herfra", "ander garen vanaf hier", "outro fio a partir daqui", "annat garn härifrån"},
	"cut the yarn":                               {"bryd garnet", "Faden abschneiden", "cortar el hilo", "couper le fil", "tagliare il filo", "bryt garnet", "draad afknippen", "cortar o fio", "klipp av garnet"},
	"join the yarn":                              {"sæt garnet til", "Faden ansetzen", "unir el hilo", "joindre le fil", "unire il filo", "sett på garnet", "draad aanhechten", "unir o fio", "sätt fast garnet"},
	"place a stitch marker":                      {"sæt en maskemarkør", "Maschenmarkierer setzen", "poner un marcador", "placer un marqueur", "mettere un segnapunti", "sett en maskemarkør", "steekmarkeerder plaatsen", "colocar um marcador", "sätt en maskmarkör"},
	"skip this stitch":                           {"spring denne maske over", "diese Masche auslassen", "saltar este punto", "sauter cette maille", "saltare questo punto", "hopp over denne masken", "deze steek overslaan", "saltar este ponto", "hoppa över denna maska"},
	"after every %d stitches":                    {"hjælpelinje, efter så mange masker: %d", "Hilfslinie, nach so vielen Maschen: %d", "guía, tras tantos puntos: %d", "repère, après tant de mailles : %d", "guida, dopo tanti punti: %d", "hjelpelinje, etter så mange masker: %d", "hulplijn, na zoveel steken: %d", "guia, após tantos pontos: %d", "hjälplinje, efter så många maskor: %d"},
	"the starts in the fabric, about":            {"omgangenes begyndelser i arbejdet, cirka", "die Rundenanfänge im Gehäkelten, ungefähr", "los comienzos de las vueltas en la labor, aproximados", "les débuts des tours dans l’ouvrage, environ", "gli inizi dei giri nel lavoro, circa", "omgangenes begynnelser i arbeidet, omtrent", "het begin van de toeren in het werk, ongeveer", "os inícios das carreiras no trabalho, aproximados", "varvens början i arbetet, ungefär"},
	"start of a round: its number, its stitches": {"begyndelsen af en omgang: nummer og masker", "Anfang einer Runde: Nummer und Maschen", "inicio de una vuelta: número y puntos", "début d’un tour : numéro et mailles", "inizio di un giro: numero e punti", "begynnelsen på en omgang: nummer og masker", "begin van een toer: nummer en steken", "início de uma carreira: número e pontos", "början av ett varv: nummer och maskor"},
}

// tongue returns the index of the language in notation.Languages; 0 for English.
func (o *Options) tongue() int {
	code, _, _ := strings.Cut(o.Language, "-")
	return max(0, slices.Index(notation.Languages(), code))
}

// say returns an English caption in the language, with the args put in. What
// captions lacks stays English.
func (o *Options) say(english string, args ...any) string {
	if i := o.tongue(); i > 0 {
		if of, ok := captions[english]; ok {
			english = of[i-1]
		}
	}
	if len(args) == 0 {
		return english
	}
	return fmt.Sprintf(english, args...)
}

// wording is that of the sentences and of the names of stitches.
func (o *Options) wording() notation.Wording {
	return notation.Wording{Terms: o.Terms, Language: o.Language, Style: notation.PlainWords}
}
