package heading

import (
	"strings"
	"testing"

	"ringheat/analyze/quantity"
	"ringheat/analyze/series"
)

// The ring words are those of ISO 5593 (rolling bearings, vocabulary: inner ring, outer ring, bore; bague intérieure, bague
// extérieure, alésage; Innenring, Außenring, Bohrung), from memory. Everything else that these tables
// expect is common practice, no source.
const (
	iso5593  = "ISO 5593, from memory"
	practice = "common practice, no source"
)

func TestRoles(t *testing.T) {
	for _, group := range []struct {
		name, source string
		role         series.Role
		headings     string // one a line
	}{
		{"inner, English", iso5593, series.Inner, `Inner ring
inner ring temp
INNER RING
inner_ring_temp
InnerRing
innerRingTemp
Inner Ring Temp. [deg. C]
Inner race
inner raceway (°C)
inner-ring °C
Temp (inner ring)
1: Inner ring
Ch1 Inner ring
Ch 1 - inner [°C]
T_inner
Tinner
T inner 1
TempInner
inner
Inner (C)
Inner_C
innerc
Bore
Bore temp C
bearing bore
Bore temperature, °C (S/N 4417)
T_bore
TBore
tbore_degC
Hub
hub bore
IRing
I-ring
Shaft side inner ring
PT100 inner
Thermocouple 1 inner ring
Inner ring actual
inside ring`},
		{"outer, English", iso5593, series.Outer, `Outer ring
OUTER_RING_TEMP
outerRing [°C]
Outer race °F
outer (°C)
T_outer
Touter
Temp outer
Outer ring temp (K)
TC2 outer ring
casing
Gear rim
outside ring`},
		{"inner, German", iso5593, series.Inner, `Innenring
INNENRING
Innenring [°C]
Temp. Innenring
Innenringtemperatur
Temperatur Innenring in °C
T_Innenring
TInnenring
Lagerinnenring
Lager innen
Innen
Innerer Ring
Bohrung
Bohrungstemperatur
Nabe [°C]
Temperatur der Bohrung`},
		{"outer, German", iso5593, series.Outer, `Außenring
Aussenring
AUSSENRING (°C)
Außenringtemperatur
Aussenringtemp.
Temp. Außenring
Lager außen
äußerer Ring
aeusserer Ring
Zahnkranz`},
		{"inner, French", iso5593, series.Inner, `bague intérieure
Bague interieure (°C)
BAGUE INTÉRIEURE
Température bague intérieure [°C]
T bague int.
Temp. bague int
alésage
Alesage °C
Température de l'alésage
moyeu`},
		{"outer, French", iso5593, series.Outer, `bague extérieure
Bague exterieure (°C)
T bague ext.
température de la bague extérieure`},
		{"inner, Italian", practice, series.Inner, `anello interno
Anello interno [°C]
Temperatura anello interno
Temp. anello int.
foro
alesaggio
pista interna`},
		{"outer, Italian", practice, series.Outer, `anello esterno
Temperatura anello esterno [°C]
Temp. anello est.
pista esterna`},
		{"inner, Spanish", practice, series.Inner, `aro interior
anillo interior
Temperatura del anillo interior (°C)
Temp. aro int.
pista interior
agujero`},
		{"outer, Spanish", practice, series.Outer, `aro exterior
anillo exterior
Temp. aro ext. [°C]
Temperatura aro exterior`},
		{"inner, Dutch", practice, series.Inner, `binnenring
Binnenring [°C]
Temperatuur binnenring
binnenringtemperatuur
binnenste ring
naaf`},
		{"outer, Dutch", practice, series.Outer, `buitenring
Temperatuur buitenring
buitenringtemperatuur (°C)`},
		{"inner, Swedish", practice, series.Inner, `innerring
Innerring °C
innerringstemperatur
inre ring
borrning`},
		{"outer, Swedish", practice, series.Outer, `ytterring
ytterringstemperatur
yttre ring [°C]`},
		{"inner, Polish", practice, series.Inner, `pierścień wewnętrzny
Pierscien wewnetrzny [°C]
Temp. pierścienia wewnętrznego
pierśc. wewn.
otwór`},
		{"outer, Polish", practice, series.Outer, `pierścień zewnętrzny
Temp. pierścienia zewnętrznego (°C)
pierśc. zewn.`},
		{"inner, Portuguese", practice, series.Inner, `anel interno
Temperatura do anel interno [°C]
anel interior
furo`},
		{"outer, Portuguese", practice, series.Outer, `anel externo
anel exterior (°C)
Temperatura anel externo`},
		{"ambient", practice, series.Ambient, `ambient
Ambient temp
T_amb
Tamb [°C]
Room
room temperature
air
Air temp.
outside air
Outside air temperature [°C]
outdoor temp
Umgebung
Umgebungstemperatur
Raumtemperatur
Raum °C
Hallentemperatur
Lufttemperatur
Luft
Außenluft
temp. ambiante
Température ambiante (°C)
air extérieur
temperatura ambiente
T. ambiente [°C]
temperatura ambiental
omgevingstemperatuur
kamertemperatuur
buitenlucht
rumstemperatur
omgivningstemperatur
temp. otoczenia
ambient (outside)`},
		{"shaft", practice, series.Shaft, `Shaft
shaft temp °C
T_shaft
shaft seat
Welle
Wellentemperatur
Welle [°C]
Wellensitz
arbre
Température arbre
albero
Temperatura albero
eje
temperatura del eje
astemperatuur
axel
axeltemperatur
wał
Temp. wału
veio
eixo (°C)`},
		{"set point", practice, series.SetPoint, `Set point
setpoint
SetPoint (°C)
set_point_c
Set-point
SP
SV
Set value
Set temp
Temp set
Tset
target temp
Target
inner ring set point
bore setpoint °C
Sollwert
Soll °C
Tsoll
Solltemperatur
Sollwert Innenring
consigne
Consigne température
T° consigne
point de consigne
temperatura impostata
valore impostato
consigna
temperatura de consigna
temperatura deseada set point
instelwaarde
gewenste temperatuur
börvärde
borvarde
wartość zadana
temp. zadana
valor desejado`},
	} {
		for _, h := range strings.Split(group.headings, "\n") {
			m := Read(h, "")
			if m.Role != group.role || m.Confidence < Sure {
				t.Errorf("%s (%s): Read(%q) role %q at %.2f, want %q", group.name, group.source, h, m.Role, m.Confidence, group.role)
			}
			if m.Quantity != Temperature {
				t.Errorf("%s: Read(%q) names %q, want a temperature", group.name, h, m.Quantity)
			}
			if group.role != series.SetPoint && m.NotProbe != MayBeProbe {
				t.Errorf("%s: Read(%q) is ruled out: %s", group.name, h, m.Reason)
			}
			if group.role == series.SetPoint && (m.NotProbe != SetPointColumn || m.Reason == "") {
				t.Errorf("%s: Read(%q) is not ruled out as a set point", group.name, h)
			}
			if m.RoleWords == "" || !strings.Contains(h, m.RoleWords) {
				t.Errorf("%s: Read(%q) rests on %q, which is not in the heading", group.name, h, m.RoleWords)
			}
		}
	}
}

// Headings that name no role, some of them by a hair.
func TestNoRole(t *testing.T) {
	for _, h := range strings.Split(`T1
T2
t1
Ch1
Ch 2
CH1 [°C]
Probe 1
Probe A
TC1
TC1 [°C]
Temp 1
Temperature
Sensor 3
Kanal 1
Voie 2
Canale 1
Canal 2
Kanaal 1
Givare 1
Czujnik 2
No.1
inner diameter
Inner diameter (mm)
outer diameter
Bore (mm)
Innendurchmesser
diametro interno [mm]
outer door
inner door °C
Outer wall temp
outer tank °C
diff inner-outer
Inner - Outer
inner minus outer
inner/outer diff
Bore or shaft
T in
T out
in
out
Bearing temp
Lagertemperatur
Part temp
Heater temp
Oil temp
Ofen °C
Room humidity
Air pressure
air gap temp
Air tank °C
Channel C
Type K
Border
Corner
Orange
Interval
Winner
Router
Ambidextrous
Welleman
Tempo
Information
Order
Data set 1
IR thermometer °C
infrared °C`, "\n") {
		if m := Read(h, ""); m.Role != series.NoRole {
			t.Errorf("Read(%q) names %q by %q at %.2f, want no role", h, m.Role, m.RoleWords, m.Confidence)
		}
	}
}

// A place named with its ring stands before one named by an adjective alone, but only just.
func TestTwoPlaces(t *testing.T) {
	for h, role := range map[string]series.Role{"Außenring innen": series.Outer, "Inner ring outside face": series.Inner, "Inner ring outer side °C": series.Inner} {
		if m := Read(h, ""); m.Role != role || m.Confidence != Sure {
			t.Errorf("Read(%q) role %q at %.2f, want %q at %.2f", h, m.Role, m.Confidence, role, Sure)
		}
	}
}

// A role that rests on a doubtful word is given, but below Sure.
func TestDoubtfulRoles(t *testing.T) {
	for h, role := range map[string]series.Role{
		"IR": series.Inner, "I.R.": series.Inner, "i.r. [°C]": series.Inner, "T_IR": series.Inner, "TempIR": series.Inner, "I/R": series.Inner, "ir_temp": series.Inner, "IR1": series.Inner,
		"OR": series.Outer, "O.R.": series.Outer, "T_or": series.Outer, "or_temp": series.Outer, "ORing": series.Outer, "O-Ring °C": series.Outer, "OD temp": series.Outer,
		"ID temp (°C)": series.Inner, "AR [°C]": series.Outer, "Inside (°C)": series.Inner, "Outside (°C)": series.Outer, "temp int": series.Inner, "temp ext": series.Outer,
		"Außentemperatur": series.Outer, "BI": series.Inner, "YR": series.Outer, "PW": series.Inner, "Internal Temp": series.Inner,
	} {
		m := Read(h, "")
		if m.Role != role || m.Confidence >= Sure || m.Confidence <= 0 {
			t.Errorf("Read(%q) role %q at %.2f, want %q below %.2f", h, m.Role, m.Confidence, role, Sure)
		}
	}
}

func TestTemperatureUnits(t *testing.T) {
	for _, group := range []struct {
		unit     quantity.TemperatureUnit
		scale    float64
		headings string
	}{
		{quantity.DegreeCelsius, 1, "°C\nTemp °C\nTemp ºC\nTemp ˚C\nTemp ℃\nTemp(℃)\nT (deg C)\nT (deg. C)\nTemp degC\nTemp_degC\nDeg C\nTemperature (Celsius)\nTemperature [GradC]\nGradC\nTemp Grad C\nTemp. gradi C\nTemp (grados C)\ntemp degrés C\nTemp C\nTemp_C\nTempC\ntempc\ntemp_c\nTemperature (C)\nTemperature [c]\nTemperature, C\nT1 [C]\nT1 C\nT1_C\nT1C\nCh1 C\nInner_C\nTemp &deg;C\nTemp {°C}\nTemp <°C>\nTemp, °C (S/N: 7731, ch 2)\nTemp in °C\nTemp (in °C)\nCelsius\nCelsius(°C)\nT / °C\nT/°C\nTemp.(C°)\nWaterTemp, °C\nTemp (oC)\nTemp oC\nTemp *C\nTemp, *C\nT ['C]\nTemp_C_Avg\nT1_C_max\nds18b20-1 / bore / C / Reading\nch1 / °C\n101 (C)\nTemperature (°C, type K)\n（℃）"},
		{quantity.DegreeCelsius, 1, "Temp \uFFFDC\n[\uFFFDC]\nTemp ?C\n(?C)\nTemp Â°C\nTemp (Â°C)\nTemp Ã‚Â°C\nTemp ï¿½C\nTemp \xb0C\nTemp øC\nTemp ¡C\nTemp \\u00b0C\nTemp \uFFFD\uFFFDC\nTemp Â\uFFFDC"},
		{quantity.DegreeFahrenheit, 1, "°F\nTemp °F\nTemp ℉\nTemp degF\nTemp (deg F)\nTemp F\ntemp_f\ntempf\nTemperature (F)\nTemp (oF)\nTemp *F\nFahrenheit\nT1 [°F]\n\uFFFDF\nOuter_F"},
		{quantity.KelvinUnit, 1, "Temp K\nT_K\nT [K]\nT/K\nT / K\nTemperature (K)\nTemp [k]\nkelvin\nTemp Kelvin\ndegK\nT_back_1 [K]\nInner ring [K]\nTemp (\u212a)"},
		{quantity.DegreeCelsius, 0.001, "Temp m°C\nTemp (m°C)\nTemp [mdegC]\nm °C\nmillidegC\nTemp (0.001 °C)\nTemp (1/1000 °C)"},
		{quantity.DegreeCelsius, 0.1, "Temp (0.1 °C)\nTemp 0.1 °C\nTemp (1/10 °C)\nTemp (0,1 °C)\nTemp °C x10\nTemp (°C*10)\nTemp [°C/10]"},
		{quantity.DegreeCelsius, 0.01, "Temp (0.01 °C)\nTemp °C x100\nTemp (1/100°C)"},
		{quantity.UnknownUnit, 0, "Temp\nTemperature\nTemperatur\ntempérature\ntemperatura\ntemperatuur\nWaterTemp\nTemperature(s)\nChannel C\nProbe C\nSensor F\nZone C 1\nType K\nTC K\nTC-K\nTC1 K\nThermocouple type K\nThermocouple type (K)\nTC Type (C)\nCF\nPhase C\nCh C\nW/mK\nµV/°C\nC1\nF\nK"},
	} {
		for _, h := range strings.Split(group.headings, "\n") {
			m := Read(h, "")
			if m.Unit != group.unit || m.UnitScale != group.scale {
				t.Errorf("Read(%q) unit %q scale %g, want %q %g (SI brochure symbols; damaged and spelled forms: %s)", h, m.Unit, m.UnitScale, group.unit, group.scale, practice)
			}
			if m.Unit != quantity.UnknownUnit && (m.UnitPlace != InHeading || m.UnitText == "" || m.Quantity != Temperature) {
				t.Errorf("Read(%q): unit text %q, place %d, %s", h, m.UnitText, m.UnitPlace, m.Quantity)
			}
		}
	}
	for _, h := range []string{"Ch1 (K)", "Thermocouple (K)", "Channel (C)", "TC 1 C", "Ch1 Inner ring (K)"} {
		if m := Read(h, ""); m.Unit == quantity.UnknownUnit || !m.UnitWeak {
			t.Errorf("Read(%q): unit %q, weak %v; want a weak unit, as the letter may name a thermocouple or a channel", h, m.Unit, m.UnitWeak)
		}
	}
}

func TestUnitRow(t *testing.T) {
	for _, c := range []struct {
		text, unit string
		q          Quantity
		u          quantity.TemperatureUnit
		timeS      float64
	}{
		{"Inner", "°C", Temperature, quantity.DegreeCelsius, 0},
		{"T_back_1", "[K]", Temperature, quantity.KelvinUnit, 0},
		{"Temperature", "[k]", Temperature, quantity.KelvinUnit, 0},
		{"No.3 ch3", "\xb0C", Temperature, quantity.DegreeCelsius, 0},
		{"No.3 ch3", "\uFFFDC", Temperature, quantity.DegreeCelsius, 0},
		{"A", "F", Temperature, quantity.DegreeFahrenheit, 0},
		{"Time", "[s]", Time, quantity.UnknownUnit, 1},
		{"Time", "min", Time, quantity.UnknownUnit, 60},
		{"Zeit", "ms", Time, quantity.UnknownUnit, 0.001},
		{"", "h", Time, quantity.UnknownUnit, 3600},
		{"No.1 ch1", "lx", Light, quantity.UnknownUnit, 0},
		{"ch4", "%", Percent, quantity.UnknownUnit, 0},
		{"ch2", "mW/cm2", Light, quantity.UnknownUnit, 0},
		{"Mass", "[mg]", Mass, quantity.UnknownUnit, 0},
		{"Inner", "mV", Voltage, quantity.UnknownUnit, 0},
		{"P", "kW", Power, quantity.UnknownUnit, 0},
		{"Channel 1", "degC", Temperature, quantity.DegreeCelsius, 0},
		{"Inner", "m°C", Temperature, quantity.DegreeCelsius, 0},
	} {
		m := Read(c.text, c.unit)
		if m.Quantity != c.q || m.Unit != c.u || m.TimeUnitS != c.timeS || m.UnitPlace != InUnitRow {
			t.Errorf("Read(%q, %q): %s, unit %q, %g s, place %d; want %s, %q, %g s, in the unit row", c.text, c.unit, m.Quantity, m.Unit, m.TimeUnitS, m.UnitPlace, c.q, c.u, c.timeS)
		}
	}
	// The heading's own unit stands before the row's, and a row of statistics is no row of units.
	if m := Read("Temp [K]", "°C"); m.Unit != quantity.KelvinUnit || m.UnitPlace != InHeading {
		t.Errorf("heading unit K against row °C: %q from place %d", m.Unit, m.UnitPlace)
	}
	if m := Read("Inner", "Min"); m.Statistic != Minimum || m.Role != series.Inner || m.TimeUnitS != 0 {
		t.Errorf(`"Min" below "Inner": statistic %d role %q`, m.Statistic, m.Role)
	}
	if m := Read("Probe 1", "inner ring"); m.Role != series.Inner {
		t.Errorf("words in the unit row: role %q", m.Role)
	}
}

func TestNotProbe(t *testing.T) {
	for _, group := range []struct {
		kind     NotProbeKind
		headings string
	}{
		{SetPointColumn, "Setpoint °C\nSollwert [°C]\nConsigne (°C)\ninner ring set point °C"},
		{DewPointColumn, "Dew point\ndew point °C\nDewPt (°C)\nTaupunkt\nTaupunkt [°C]\npoint de rosée (°C)\npunto di rugiada\npunto de rocío °C\ndauwpunt\ndaggpunkt\npunkt rosy\nponto de orvalho\nWet bulb °C\nHeat index\nFeels like (°C)\nWind chill °F"},
		{UncertaintyColumn, "Uncertainty (K)\nU (k=2) [°C]\nUnsicherheit °C\nincertitude [K]\nincertezza\nincertidumbre °C\nonzekerheid\nmätosäkerhet\nniepewność\n± °C\nInner ±K\nTolerance °C\nTemp error °C\nAccuracy [°C]"},
		{DifferenceColumn, "ΔT [K]\nΔT\ndT\ndelta T (K)\nDeltaT\ndiff inner-outer\nTemperature difference\nTemp. diff °C\nInner - Outer\nIR-OR\nT1-T2\nT1 - T2 (K)\nTemperaturdifferenz\nDifferenz innen/außen [K]\nécart de température\ndifferenza °C\ndiferencia de temperatura\nverschil [K]\ntemperaturskillnad\nróżnica temp.\nK/min\n°C/min\nRate [K/min]\nAufheizrate °C/min\nrate of rise\nTemp rise (K)\nÜbertemperatur [K]\ndeviation °C\nΔ°C"},
		{StatisticColumn, "Max temp\nT_max\nTmax [°C]\nMin (°C)\nInner min °C\nInner max\nInner avg\nAverage inner ring\nmean °C\nMittelwert Innenring\nMaximum °C\nmoyenne °C\nmedia °C\ngemiddelde temperatuur\nmedeltemperatur\nśrednia °C\nTemperature (min)\nPeak temp\nStd dev °C\nStandardabweichung [K]\nécart-type °C\nTemp range °C"},
		{InternalColumn, "CPU temp\nCPU °C\nprocessor temperature\nBoard Temperature (°C)\nMCU_temp\ncold junction\nCold junction °C\nCJ temp\nCJC [°C]\nVergleichsstelle °C\nsoudure froide\ngiunto freddo\nLogger temp\nDevice temperature\nBattery temp °C\nPlatine °C\nheatsink °C"},
		{AlarmColumn, "Alarm limit °C\nHigh alarm temp\nUpper limit [°C]\nGrenzwert °C\nGrenzwert Innenring [°C]\nseuil °C\nlimite °C\nsoglia [°C]\nmax limit °C\nalarm setpoint °C\ntemp limit"},
		{OffsetColumn, "Offset °C\nCorrection (K)\nKorrektur °C\ninner offset [°C]"},
		{VoltageColumn, "Inner ring (mV)\nTC1 mV\nOuter [µV]\nTemp (V)\nCh1 mV"},
		{ComputedColumn, "Predicted temp\nSimulated temperature °C\nberechnete Temperatur"},
	} {
		for _, h := range strings.Split(group.headings, "\n") {
			m := Read(h, "")
			if m.NotProbe != group.kind || m.Reason == "" || m.IsProbe() {
				t.Errorf("Read(%q) kind %d (%s), want %d", h, m.NotProbe, m.Reason, group.kind)
			}
			if m.NotProbe != StatisticColumn && m.NotProbe != SetPointColumn && m.NotProbe != ComputedColumn && m.NotProbe != VoltageColumn && m.Role != series.NoRole {
				t.Errorf("Read(%q) keeps the role %q though it is no probe", h, m.Role)
			}
		}
	}
	for h, s := range map[string]Statistic{"Inner min": Minimum, "T_max": Maximum, "Mittelwert °C": Average, "Std dev °C": StandardDeviation, "Temp min/max": Range, "Inner": NoStatistic, "Zeit (min)": NoStatistic} {
		if m := Read(h, ""); m.Statistic != s {
			t.Errorf("Read(%q) statistic %d, want %d", h, m.Statistic, s)
		}
	}
}

func TestTimes(t *testing.T) {
	for _, group := range []struct {
		kind     TimeKind
		unitS    float64
		headings string
	}{
		{AnyTime, 0, "Time\ntime\nTIME\nZeit\nTemps\nTempo\nTiempo\nTijd\nTid\nCzas\nTime [h:mm:ss]\nTime (hh:mm:ss)\nt\nTime (UTC)\nLocal time"},
		{Elapsed, 1, "Time (s)\nTime [s]\ntime_s\nTime, s\nTime sec\nTime (sec)\nTime(s)\nt [s]\nt / s\nt/s\nZeit [s]\nZeit / s\nzeit_s\nZeit (Sek.)\nTemps (s)\nTemps écoulé (s)\ntempo [s]\ntiempo (s)\ntiempo transcurrido (s)\ntijd [s]\ntid (s)\nczas [s]\nElapsed (s)\nelapsed_s\nSeconds elapsed\nHeizdauer [s]\ndurée (s)"},
		{Elapsed, 0.001, "Time [ms]\ntime_ms\ntime/ms\nuptime ms\nms\nmillis\nelapsed milliseconds\nZeit (ms)"},
		{Elapsed, 60, "Time (min)\nZeit [min]\nElapsed min\nRun time (min)\nTemps (min)\nElapsed minutes"},
		{Elapsed, 3600, "Time (h)\nZeit [h]\nZeit (Std.)\nelapsed hours\nTime [hours]"},
		{Elapsed, 86400, "Time (d)\nelapsed days"},
		{Elapsed, 0, "Elapsed\nElapsed time\nElapsed time (hh:mm:ss)\nruntime\nUptime\nLaufzeit\nverstrichene Zeit\ntemps écoulé\ntempo trascorso\ntiempo transcurrido\nverstreken tijd\nförfluten tid\ntempo decorrido\ntime since start"},
		{Date, 0, "Date\nDatum\nFecha\nDATE\nDate (jj/mm/aaaa)\nDatum (TT.MM.JJJJ)\nDD/MM/YYYY\nFecha (dd/mm/aaaa)\nData"},
		{TimeOfDay, 0, "Uhrzeit\nheure\nOra\nHora\ngodzina\nklockslag\nclock\nTime of day clock"},
		{DateTime, 0, "Date/Time\nDateTime\nDate Time, GMT-04:00\nTimestamp\nTimestamp for Sample Frequency Every 1 min 0 sec\ncreated_at\nrecorded at\ntime_stamp\nDatum/Uhrzeit\nDatum Zeit\nDatumZeit\nZeitstempel\nDate et heure\nDate/heure\nhorodatage\nData e ora\nData/ora\nFecha y hora\nFecha/hora\ndatum/tijd\ndatum och tid\ndata i godzina\nData hora\nyyyy-mm-dd hh:mm:ss\nDate (dd/mm/yyyy hh:mm)"},
		{UnixTime, 0, "Unix\nEpoch\nunix time\nepochtime"},
		{UnixTime, 0.001, "epoch_ms\nUnix time (ms)"},
		{UnixTime, 1, "Epoch (s)\nunix timestamp [s]"},
		{SerialDay, 0, "Serial date\nExcel date\nJulian date\ndatenum"},
		{YearPart, 0, "Year\nJahr\nannée\nanno\naño\njaar\nrok\nYYYY"},
		{MonthPart, 0, "Month\nMonat\nmois\nmese\nmes\nmaand"},
		{DayPart, 86400, "Day\njour\ngiorno\ndag\ndzień"},
		{HourPart, 3600, "Hour\nStunde\nuren"},
		{MinutePart, 60, "Minute\nminuto"},
		{SecondPart, 1, "Second\nSeconds\nSekunde\nsegundos"},
		{AMPMPart, 0, "AM/PM\nAMPM"},
		{ZonePart, 0, "Time zone\nZeitzone"},
	} {
		for _, h := range strings.Split(group.headings, "\n") {
			m := Read(h, "")
			if m.Quantity != Time || m.Time != group.kind || m.TimeUnitS != group.unitS {
				t.Errorf("Read(%q): %s, kind %d, %g s; want a time, %d, %g s", h, m.Quantity, m.Time, m.TimeUnitS, group.kind, group.unitS)
			}
			if m.Role != series.NoRole || m.NotProbe != MayBeProbe || m.IsProbe() {
				t.Errorf("Read(%q) takes a time for a probe", h)
			}
		}
	}
}

func TestDateOrderAndZone(t *testing.T) {
	for _, c := range []struct {
		text, order string
		zoned       bool
		zoneS       int
	}{
		{"Date (dd/mm/yyyy)", "dmy", false, 0},
		{"DD.MM.YYYY", "dmy", false, 0},
		{"MM/DD/YYYY HH:MM:SS", "mdy", false, 0},
		{"m/d/y", "mdy", false, 0},
		{"yyyy-mm-dd hh:mm:ss", "ymd", false, 0},
		{"YYYYMMDD", "ymd", false, 0},
		{"yyyy/mm/ddThh:mm:ss", "ymd", false, 0},
		{"Datum (TT.MM.JJJJ)", "dmy", false, 0},
		{"Datum TT.MM.JJ", "dmy", false, 0},
		{"Date (jj/mm/aaaa)", "dmy", false, 0},
		{"Data (gg/mm/aaaa)", "dmy", false, 0},
		{"Fecha dd/mm/aaaa", "dmy", false, 0},
		{"datum dd-mm-jjjj", "dmy", false, 0},
		{"Datum ÅÅÅÅ-MM-DD", "ymd", false, 0},
		{"data rrrr-mm-dd", "ymd", false, 0},
		{"Date Time, GMT-04:00", "", true, -4 * 3600},
		{"Time (UTC)", "", true, 0},
		{"Time (UTC+1)", "", true, 3600},
		{"Timestamp UTC+05:30", "", true, 19800},
		{"Time GMT+0530", "", true, 19800},
		{"Local Time (CET)", "", true, 3600},
		{"Zeit (MESZ)", "", true, 7200},
		{"Date", "", false, 0},
		{"hh:mm:ss", "", false, 0},
		{"Army days", "", false, 0},
	} {
		m := Read(c.text, "")
		if m.DateOrder != c.order || m.ZoneKnown != c.zoned || m.ZoneS != c.zoneS {
			t.Errorf("Read(%q): order %q, zone %v %d; want %q, %v %d (%s)", c.text, m.DateOrder, m.ZoneKnown, m.ZoneS, c.order, c.zoned, c.zoneS, practice)
		}
	}
}

func TestQuantities(t *testing.T) {
	for q, headings := range map[Quantity]string{
		Index:         "Index\nNo.\nNr.\nNr\n#\nSample\nScan\nScan #\nRow\nRecord\nlfd. Nr.\nZeile\nn°\nNº\nMuestra\nmeting\nL.p.\namostra\nSample No\nRec#",
		Voltage:       "Voltage\nVoltage (V)\nmV\nInner mV\nBV (Volts)\nSpannung [mV]\nThermospannung\ntension (V)\nU [V]",
		Current:       "Current (A)\nCurrent\nStrom [A]\nI [A]\ncourant (A)\ncorrente [A]",
		Power:         "Power\nPower [kW]\nLeistung kW\npuissance (W)\npotenza\nvermogen\neffekt kW\nmoc [kW]\npotência",
		Energy:        "Energy kWh\nEnergie [kWh]",
		Humidity:      "Humidity\nHumidity (RH(%))\nRH%\n%RH\nrel. Feuchte [%]\nLuftfeuchtigkeit\nhumidité (%)\numidità\nhumedad %\nwilgotność\numidade\nHum [%rF]",
		Pressure:      "Abs Pres, psi\nLuftdruck [hPa]\npressure",
		Percent:       "Output %\nDuty\nHeating power [%]\nStellgrad",
		Resistance:    "Resistance (Ω)\nkOhm",
		Light:         "ch1 [lx]\nIlluminance",
		Mass:          "Mass [mg]\nweight",
		Concentration: "DO conc, mg/L\nCO2 ppm",
		Magnetism:     "Residual magnetism A/cm\nRestmagnetismus",
		Battery:       "Battery\nBattery (V)\nAkku [%]\nbatterie\nVbat",
		Status:        "Status\nInner status\nFlag\nQuality\nError\nZustand\nétat\nestado\nAlarm\nTC1 status",
		Name:          "Name\nChannel\nSensor\nKanal\ncapteur\nsensor name",
		Value:         "Value\nReading\nWert\nMesswert\nvaleur\nvalore\nvalor\nwaarde\nvärde\nwartość\nPV",
		Unit:          "Unit\nUnits\nEinheit\nunité\nunità\nunidad\neenheid\nenhet\njednostka",
		Text:          "Comment\nRemarks\nBemerkung\ncommentaire\noperator\nevent",
		Length:        "inner diameter\nInner diameter (mm)\nlength",
		NoQuantity:    "Ch1\nfield1\nProbe 1\nNo.1\nHeater 1\nQ1\nX\n\n12\nFoo bar baz\nout",
		Temperature:   "Temp\nTemperature\nT\nT1\nTC1\nTemps [°C]\nSample temp\nCurrent temp\nPower board location temperature\nϑ\nθ1\nReal time temp\nPt100\nP0025_[Archive 2 Space Temp 1] [P25] (°C)\nIstwert [°C]\nPV °C",
	} {
		for _, h := range strings.Split(headings, "\n") {
			if m := Read(h, ""); m.Quantity != q {
				t.Errorf("Read(%q) names %q, want %q", h, m.Quantity, q)
			}
		}
	}
}

func TestNumberStemElsewhere(t *testing.T) {
	for _, c := range []struct {
		text   string
		number int
		stem   string
		body   string
	}{
		{"T1", 1, "t 1", ""},
		{"Probe 12 °C", 12, "probe 12", ""},
		{"DS18B20_3", 3, "ds 18 b 20 3", ""},
		{"Pt100 inner", -1, "pt 100 inner", ""},
		{"Inner ring min °C", -1, "inner ring", ""},
		{"Inner ring avg", -1, "inner ring", ""},
		{"Inner ring status", -1, "inner ring", ""},
		{"Oil °C", -1, "oil", "oil"},
		{"Heater 2", 2, "heater 2", "heater"},
		{"Temp", -1, "", ""},
	} {
		m := Read(c.text, "")
		if m.Number != c.number || m.Stem != c.stem || m.Elsewhere != c.body {
			t.Errorf("Read(%q): number %d, stem %q, elsewhere %q; want %d, %q, %q", c.text, m.Number, m.Stem, m.Elsewhere, c.number, c.stem, c.body)
		}
	}
}

func TestIsHeading(t *testing.T) {
	for _, h := range []string{"Time", "Ch1", "T1", "Innenring", "°C", "Wert", "No."} {
		if !IsHeading(h) {
			t.Errorf("IsHeading(%q) is false", h)
		}
	}
	for _, h := range []string{"", "12.5", "2026-03-04", "---", "Brakk 17", "06:10:00"} {
		if IsHeading(h) {
			t.Errorf("IsHeading(%q) is true", h)
		}
	}
}
