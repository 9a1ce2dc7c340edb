package cell

import "unicode/utf8"

const foldLen = 40

// fold writes a text in lower case, without accents and with single blanks into buf. A text that does not fit comes back empty.
func fold(b []byte, buf *[foldLen]byte) []byte {
	n := 0
	space := false
	for len(b) > 0 {
		if k := blank(b); k > 0 {
			b = b[k:]
			space = n > 0
			continue
		}
		if n >= foldLen-5 {
			return buf[:0]
		}
		if space {
			buf[n] = ' '
			n++
			space = false
		}
		c := b[0]
		if c < utf8.RuneSelf {
			if 'A' <= c && c <= 'Z' {
				c += 'a' - 'A'
			}
			buf[n] = c
			n++
			b = b[1:]
			continue
		}
		r, size := utf8.DecodeRune(b)
		b = b[size:]
		switch r {
		case 'à', 'á', 'â', 'ã', 'ä', 'å', 'ą', 'À', 'Á', 'Â', 'Ã', 'Ä', 'Å', 'Ą':
			r = 'a'
		case 'ç', 'ć', 'č', 'Ç', 'Ć', 'Č':
			r = 'c'
		case 'è', 'é', 'ê', 'ë', 'ę', 'È', 'É', 'Ê', 'Ë', 'Ę':
			r = 'e'
		case 'ì', 'í', 'î', 'ï', 'Ì', 'Í', 'Î', 'Ï':
			r = 'i'
		case 'ñ', 'ń', 'Ñ', 'Ń':
			r = 'n'
		case 'ò', 'ó', 'ô', 'õ', 'ö', 'ø', 'Ò', 'Ó', 'Ô', 'Õ', 'Ö', 'Ø':
			r = 'o'
		case 'ù', 'ú', 'û', 'ü', 'Ù', 'Ú', 'Û', 'Ü':
			r = 'u'
		case 'ś', 'š', 'Ś', 'Š':
			r = 's'
		case 'ź', 'ż', 'Ź', 'Ż':
			r = 'z'
		case 'ł', 'Ł':
			r = 'l'
		case '–', '—', '−', '‐', '‑':
			r = '-'
		case '\u03A9', '\u2126': // omega and the ohm sign
			r = 'ω'
		case '…':
			if n < foldLen-6 {
				n += copy(buf[n:], "...")
			}
			continue
		}
		n += utf8.EncodeRune(buf[n:n+4], r)
	}
	return buf[:n]
}

// The canonical names of markers. Each stands for a group of spellings.
const (
	MarkDashes    = "---"        // dashes, stars, question marks and the like
	MarkDashPoint = "--.-"       // the same with a decimal mark: a display without digits
	MarkOL        = "OL"         // overload, as multimeters write it
	MarkOver      = "over-range" // over-range, in words or as ">150"
	MarkUnder     = "under-range"
	MarkOpen      = "OPEN" // open probe, burn-out, broken sensor
	MarkShort     = "short"
	MarkNaN       = "NaN"
	MarkInf       = "Inf"
	MarkNA        = "N/A"
	MarkSheetNA   = "#N/A" // a spreadsheet's error value
	MarkErr       = "Err"
	MarkNull      = "null"
	MarkNoData    = "no data"
	MarkNotConn   = "not connected"
	MarkInvalid   = "invalid"
	MarkOff       = "off"
)

// markerName gives the canonical name of a word or sign for "no reading", "" for any other text. b is stripped.
// Only nan comes from a standard (IEEE 754 and C for its spelling); the rest is common practice, no source.
func markerName(b []byte) string {
	if len(b) > 60 {
		return ""
	}
	if name := signs(b); name != "" {
		return name
	}
	var buf [foldLen]byte
	w := fold(b, &buf)
	for len(w) > 2 {
		switch c := w[0]; {
		case (c == '<' || c == '(' || c == '[') && (w[len(w)-1] == '>' || w[len(w)-1] == ')' || w[len(w)-1] == ']'):
			w = w[1 : len(w)-1]
			continue
		}
		break
	}
	if len(w) > 1 && (w[len(w)-1] == '!' || w[len(w)-1] == '.') && w[0] != '#' && string(w) != "n.a." && string(w) != "o.l." && string(w) != "n.c." {
		w = w[:len(w)-1]
	}
	if name := wordMarker(w); name != "" {
		return name
	}
	// The word may carry a sign or a unit: "-OL", "OL °C".
	if len(w) > 2 && (w[0] == '-' || w[0] == '+') {
		if name := wordMarker(w[1:]); name != "" {
			return name
		}
	}
	for i := len(w) - 1; i > 0; i-- {
		if w[i] == ' ' {
			if _, ok := suffixOf(w[i+1:]); ok {
				if name := wordMarker(w[:i]); name != "" {
					return name
				}
			}
		}
	}
	if len(w) > 1 && (w[0] == '>' || w[0] == '<') {
		rest := skipBlanks(w[1:])
		if len(rest) > 0 && rest[0] == '=' {
			rest = skipBlanks(rest[1:])
		}
		if len(rest) > 0 {
			if _, ok := tolerant(rest, '.'); ok || string(rest) == "max" || string(rest) == "range" {
				if w[0] == '>' {
					return MarkOver
				}
				return MarkUnder
			}
			if _, ok := tolerant(rest, ','); ok {
				if w[0] == '>' {
					return MarkOver
				}
				return MarkUnder
			}
		}
	}
	if errorCode(w) {
		return MarkErr
	}
	return ""
}

// signs recognises displays without digits: "---", "--.-", "***", "???", "####", with a unit behind them or not.
func signs(b []byte) string {
	dashes, points := 0, 0
	rest := b
	var first rune
	for len(rest) > 0 {
		r, size := utf8.DecodeRune(rest)
		switch r {
		case '-', '–', '—', '−', '‐', '‑', '_', '*', '?', '#', '/', '~', 'x', 'X':
			switch r {
			case '–', '—', '−', '‐', '‑':
				r = '-'
			}
			if dashes == 0 {
				first = r
			}
			if r != first {
				return ""
			}
			dashes++
		case '.', ',', ':', '…':
			points++
		default:
			if k := blank(rest); k > 0 {
				if s, ok := suffixOf(skipBlanks(rest)); ok && s != NoSuffix {
					rest = nil
					continue
				}
				rest = rest[k:]
				continue
			}
			if dashes+points > 0 && degrees(rest) != NoSuffix {
				rest = nil
				continue
			}
			return ""
		}
		rest = rest[size:]
	}
	switch {
	case dashes == 0 && points < 2:
		return ""
	case (first == 'x' || first == 'X' || first == '/' || first == '#') && dashes < 2:
		return ""
	case points > 0 && dashes > 0:
		return MarkDashPoint
	}
	return MarkDashes
}

func wordMarker(w []byte) string {
	switch string(w) {
	case "ol", "o.l", "o.l.", ".ol", "o l", "0l", "0.l", "ovl", "ovld", "oload", "overload", "ofl", "ovf", "ovfl", "overld":
		return MarkOL
	case "overflow", "over", "over range", "overrange", "over-range", "over_range", "ovr", "ovrng", "ovrrng", "or", "hi", "high", "hh", "hhh", "hhhh", "uberlauf", "ueberlauf",
		"bereichsuberschreitung", "messbereichsuberschreitung", "uberbereich", "ueberbereich", "depassement", "hors gamme", "hors plage", "hors echelle", "fuera de rango",
		"fuori scala", "fuori campo", "fuori range", "buiten bereik", "utanfor matomrade", "poza zakresem", "fora da faixa", "fora de faixa", "fora de escala",
		"sobrerrango", "sovrascala", "overbereik", "out of range", "outofrange", "oor", "+over", "zu hoch", "sobrecarga", "uberlast":
		return MarkOver
	case "under", "underrange", "under range", "under-range", "under_range", "underflow", "undr", "ur", "ul", "lo", "low", "ll", "lll", "llll", "unterlauf", "bereichsunterschreitung",
		"messbereichsunterschreitung", "unterbereich", "zu tief", "zu niedrig", "-over":
		return MarkUnder
	case "open", "opn", "op", "open tc", "opentc", "open circuit", "open sensor", "opensensor", "open probe", "open input", "burnout", "burn out", "burn-out", "b.out", "bout", "break", "brk", "broken", "sensor break", "sensorbreak",
		"sensor open", "tc open", "tcopen", "probe open", "fuhlerbruch", "fuehlerbruch", "sensorbruch", "leitungsbruch", "drahtbruch", "bruch", "offen", "ouvert", "circuit ouvert", "rupture", "rupture sonde", "sonde ouverte",
		"abierto", "circuito abierto", "sonda abierta", "sonda rota", "aperto", "circuito aperto", "sonda aperta", "rottura", "rottura sonda", "sensorbreuk", "sensor breuk", "breuk", "avbrott", "givarbrott", "brott", "otwarty",
		"przerwa", "przerwany czujnik", "aberto", "circuito aberto", "sensor aberto", "sensor rompido":
		return MarkOpen
	case "short", "shorted", "short circuit", "kurzschluss", "kurzschluß", "court-circuit", "cortocircuito", "corto", "kortsluiting", "kortslutning", "zwarcie", "curto", "curto-circuito":
		return MarkShort
	case "nan", "nanq", "nans", "qnan", "snan", "nan(ind)", "-nan(ind)", "1.#qnan", "-1.#qnan", "1.#ind", "-1.#ind", "1.#nan", "1.#qo", "not a number", "keine zahl", "nicht numerisch", "1,#qnan", "-1,#ind", "1.#snan":
		return MarkNaN
	case "inf", "infinity", "-inf", "+inf", "infinite", "unendlich", "1.#inf", "-1.#inf", "1,#inf", "1.#j", "∞", "-∞", "+∞":
		return MarkInf
	case "n/a", "na", "n.a.", "n.a", "n.v.", "n.v", "nv", "n/v", "n/d", "nd", "n.d.", "n.d", "n.b.", "s/d", "not available", "notavailable", "nicht verfugbar", "non disponible", "no disponible", "non disponibile",
		"niet beschikbaar", "ej tillganglig", "niedostepne", "nao disponivel", "indisponivel", "unavailable", "n. a.", "not applicable":
		return MarkNA
	case "#n/a", "#nv", "#n/d", "#nd", "#n/b", "#n/dis", "#brak", "#na", "#n/a!", "#saknas!", "#i/t":
		return MarkSheetNA
	case "#div/0!", "#div/0", "#value!", "#value", "#wert!", "#valeur!", "#valor!", "#valore!", "#waarde!", "#ref!", "#bezug!", "#num!", "#zahl!", "#nombre!", "#name?", "#null!", "#error", "#error!", "#err", "#spill!", "#calc!", "#rif!", "#verw!",
		"err", "error", "er", "errore", "erreur", "erro", "fehler", "fehl", "fout", "fel", "blad", "fail", "failed", "failure", "fault", "faulted", "flt", "defekt", "defekter fuhler", "defect", "defaut", "fallo", "falla", "falha", "guasto", "storung", "stoerung",
		"sensor error", "sensor fault", "sensor fail", "sensor failure", "sensorfehler", "fuhlerfehler", "probe error", "probe fault", "tc fault", "crc error", "crc", "read error", "lesefehler", "messfehler", "comm error", "com error", "bad checksum":
		return MarkErr
	case "null", "nil", "none", "undef", "undefined", "\\n", "keine", "kein", "ninguno", "nulo", "nul", "nessuno", "geen", "brak", "ingen", "nenhum", "aucun", "aucune":
		return MarkNull
	case "nodata", "no data", "no_data", "no-data", "missing", "miss", "mis", "missing value", "m/v", "no reading", "no value", "novalue", "noval", "kein wert", "keine daten", "keine messung", "kein messwert", "fehlt", "pas de donnees", "pas de donnee", "pas de mesure",
		"sin datos", "sin dato", "sin lectura", "nessun dato", "nessun valore", "geen data", "geen gegevens", "geen waarde", "inga data", "inget varde", "saknas", "brak danych", "brak pomiaru", "sem dados", "sem dado", "sem leitura", "sem valor", "manquant",
		"blank", "empty", "leer", "vide", "vacio", "vuoto", "leeg", "tom", "pusty", "vazio", "gap", "skipped", "lost":
		return MarkNoData
	case "not connected", "notconnected", "not conn", "disconnected", "disconnect", "disc", "n.c.", "n.c", "n/c", "nc", "no probe", "no sensor", "nosensor", "no tc", "unplugged", "nicht angeschlossen", "nicht verbunden", "kein fuhler", "kein sensor", "getrennt",
		"deconnecte", "non connecte", "non branche", "pas de sonde", "desconectado", "no conectado", "sin sonda", "sin sensor", "scollegato", "non collegato", "non connesso", "nessuna sonda", "niet aangesloten", "niet verbonden", "geen sensor", "ej ansluten", "ingen givare",
		"niepodlaczony", "niepodlaczone", "rozlaczony", "nao conectado", "sem sonda", "sem sensor", "no signal", "nosignal", "kein signal", "offline", "no link", "timeout", "time out", "time-out", "timed out", "comm lost", "no comm", "no response", "not present", "absent", "detached":
		return MarkNotConn
	case "invalid", "inv", "invld", "bad", "void", "not valid", "ungultig", "ungueltig", "invalide", "non valide", "invalido", "no valido", "non valido", "ongeldig", "ogiltig", "ogiltigt", "nieprawidlowy", "niewazny", "noise", "unreliable", "questionable", "suspect", "rejected", "nok", "not ok":
		return MarkInvalid
	case "off", "aus", "arret", "apagado", "spento", "uit", "av", "wyl", "desligado", "disabled", "inactive", "deaktiviert", "inaktiv", "not used", "notused", "unused", "not measured", "nicht benutzt", "nicht belegt", "non utilise", "no usado", "non usato":
		return MarkOff
	}
	return ""
}

// errorCode recognises "E1", "Er 3", "Err-12", "Error 5", "Fehler 7".
func errorCode(w []byte) bool {
	i := 0
	for i < len(w) && 'a' <= w[i] && w[i] <= 'z' {
		i++
	}
	switch string(w[:i]) {
	case "e", "er", "err", "error", "fehler", "fault", "erreur", "errore", "fout", "erro":
	default:
		return false
	}
	for i < len(w) && (w[i] == ' ' || w[i] == '-' || w[i] == '#' || w[i] == ':' || w[i] == '_' || w[i] == '.') {
		i++
	}
	from := i
	for i < len(w) && w[i]-'0' <= 9 {
		i++
	}
	return i == len(w) && i > from && i-from <= 4
}
