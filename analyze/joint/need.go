package joint

import (
	"errors"
	"fmt"
	"math"

	"ringheat/analyze/quantity"
)

// Form says what is slipped on: it decides the customary ease and which expansion laws suit.
type Form uint8

// The forms. Ring: a hardened ring, such as a bearing's. Hub: a gear, coupling, sleeve or wheel.
const (
	Ring Form = iota
	Hub
)

// Seat is everything that decides how warm a bore has to be.
type Seat struct {
	DiameterMM   float64 // nominal diameter of seat and bore
	Interference Interference
	Form         Form
	EaseUM       *float64 // clearance wanted while slipping on, µm; nil: the custom for the form
	Part         Material // the zero Material is bearing steel
	Shaft        Material // the zero Material is the part's own: one shared coefficient
	ShaftC       quantity.Celsius
	ShaftStdK    float64           // standard uncertainty of the shaft's temperature, K
	PartC        *quantity.Celsius // the part before it is warmed; nil: as cold as the shaft, and no warmer than 20 °C

	LimitC *quantity.Celsius // tolerance limit of the part; nil: not asked
	GuardK float64           // expanded uncertainty of the reading that the part is warmed by, K; 0: left out
}

// BudgetLine is one input's share in the uncertainty of the needed temperature.
type BudgetLine struct {
	Input string  // plain words
	StdK  float64 // standard uncertainty in the needed temperature, K
	Basis string
}

// Feasibility says whether warming alone does the joint.
type Feasibility string

// The answers. NoWarming: it slips on cold. TooNarrow: the needed temperature lies below the limit, but no set-point in whole
// degrees is safely between the two. NoLimit: no limit was asked about.
const (
	NoWarming    Feasibility = "no-warming"
	Possible     Feasibility = "possible"
	TooNarrow    Feasibility = "too-narrow"
	NotByWarming Feasibility = "not-by-warming"
	NoLimit      Feasibility = "no-limit"
)

// Need is how warm a bore has to be for its seat.
type Need struct {
	Interference Interference
	EaseUM       float64
	EaseBasis    string

	NeededC quantity.Celsius // for the largest interference
	// WithSmallestC is what the smallest interference would need with the same ease, °C: the range that luck can give.
	WithSmallestC quantity.Celsius
	StdK          float64 // standard uncertainty of NeededC
	Budget        []BudgetLine

	Feasibility Feasibility
	MarginK     *quantity.Kelvin  // limit minus needed; nil without a limit
	LowestC     quantity.Celsius  // lowest set-point that is safely warm enough: needed + uncertainties
	HighestC    *quantity.Celsius // highest set-point that is safely below the limit: limit - GuardK; nil without a limit
	SetPointC   *quantity.Celsius // suggested; nil when there is none
	// CoolShaftC is the shaft temperature at which the joint can be done within the limit; nil when it need not be cooled or
	// cooling as far as anything is known does not do.
	CoolShaftC *quantity.Celsius

	Words      string // the answer in one sentence
	Notes      []string
	Confidence Confidence // of the least sure figure used
}

// CoverageFactor makes an expanded uncertainty of a standard one (about 95 % two-sided; GUM 6.3.3).
const CoverageFactor = 2

func (s *Seat) check() error {
	switch {
	case !(s.DiameterMM > 0) || math.IsInf(s.DiameterMM, 0):
		return errors.New("seat diameter: a positive number of mm is wanted")
	case !quantity.Finite(s.Interference.MinUM) || !quantity.Finite(s.Interference.MaxUM) || s.Interference.MinUM > s.Interference.MaxUM:
		return errors.New("interference: the smallest lies above the largest, or is no number")
	case math.Abs(s.Interference.MaxUM) > 10*s.DiameterMM:
		return fmt.Errorf("interference of %s µm on %s mm is more than 1 %% of the diameter: check the units", plain(s.Interference.MaxUM), plain(s.DiameterMM))
	case s.EaseUM != nil && (!(*s.EaseUM >= 0) || *s.EaseUM > 10*s.DiameterMM):
		return fmt.Errorf("ease of %s µm: a clearance from 0 up to 1 %% of the diameter is wanted", plain(*s.EaseUM))
	case !(s.ShaftStdK >= 0) || !(s.GuardK >= 0) || !quantity.Finite(s.ShaftStdK) || !quantity.Finite(s.GuardK):
		return errors.New("uncertainties are 0 K or more")
	case !(s.Interference.StdUM >= 0):
		return errors.New("the uncertainty of the interference is 0 µm or more")
	case s.LimitC != nil && !quantity.Finite(float64(*s.LimitC)):
		return errors.New("the temperature limit is no number")
	case s.PartC != nil && !quantity.Finite(float64(*s.PartC)):
		return errors.New("the part's temperature is no number")
	case s.Form == Ring && s.Part.Law == Eurocode:
		return errors.New("the elongation formula of EN 1993-1-2 is for carbon steel hubs, not for hardened rings: give a linear coefficient")
	}
	if s.Part.Name == "" && s.Part.AlphaPerK == 0 {
		s.Part = BearingSteel()
	}
	if s.Shaft.Name == "" && s.Shaft.AlphaPerK == 0 {
		s.Shaft = s.Part
	}
	return errors.Join(s.Part.Check(), s.Shaft.Check())
}

// ease gives the clearance wanted while slipping on, µm.
func (s *Seat) ease() (um float64, basis string) {
	switch {
	case s.EaseUM != nil:
		return *s.EaseUM, "as given"
	case s.Form == Hub:
		return s.DiameterMM, "a thousandth of the diameter, custom for hubs, from memory"
	}
	return math.Max(0, s.Interference.MaxUM/2), "half the largest interference, custom for hardened rings, from memory"
}

// partC is the part's temperature before it is warmed.
func (s *Seat) partC() quantity.Celsius {
	if s.PartC != nil {
		return *s.PartC
	}
	return min(s.ShaftC, ReferenceC)
}

// sharedMaterial says whether part and shaft have one coefficient, so that its error moves both alike.
func (s *Seat) sharedMaterial() bool { return s.Part == s.Shaft }

// needed solves strain_part(N) = (I + e)/d + strain_shaft(Ts) and gives the strain per kelvin at N.
func (s *Seat) needed(interferenceUM, easeUM float64) (n quantity.Celsius, slope float64, err error) {
	shaft, err := s.Shaft.Strain(s.ShaftC)
	if err != nil {
		return 0, 0, fmt.Errorf("shaft at %s °C: %w", plain(float64(s.ShaftC)), err)
	}
	n, slope, err = s.Part.temperature((interferenceUM+easeUM)/(1000*s.DiameterMM) + shaft)
	if errors.Is(err, errColder) {
		err = nil // the bore is wide enough even there: n is the coldest temperature known, and the need lies below it
	}
	if err != nil {
		return 0, 0, fmt.Errorf("warming the part: %w", err)
	}
	return n, slope, nil
}

// FindNeed answers how warm the bore has to be, how sure that is, and whether it stays below the limit.
func FindNeed(s Seat) (Need, error) {
	if err := s.check(); err != nil {
		return Need{}, err
	}
	n := Need{Interference: s.Interference}
	n.EaseUM, n.EaseBasis = s.ease()
	n.Confidence = weakest(s.Interference.Origin.Confidence, weakest(s.Part.Origin.Confidence, s.Shaft.Origin.Confidence))
	if s.EaseUM == nil {
		n.Confidence = weakest(n.Confidence, Memory)
	}
	if err := n.solve(&s); err != nil {
		return Need{}, err
	}
	n.judge(&s)
	n.note(&s)
	return n, nil
}

// solve fills needed temperature and budget.
func (n *Need) solve(s *Seat) error {
	var slope float64
	var err error
	if n.NeededC, slope, err = s.needed(s.Interference.MaxUM, n.EaseUM); err != nil {
		return err
	}
	if n.WithSmallestC, _, err = s.needed(s.Interference.MinUM, n.EaseUM); err != nil {
		return err
	}
	partStrain, err := s.Part.Strain(n.NeededC)
	if err != nil {
		return err
	}
	shaftStrain, err := s.Shaft.Strain(s.ShaftC)
	if err != nil {
		return err
	}
	n.Budget = nil
	add := func(input string, stdK float64, basis string) {
		n.Budget = append(n.Budget, BudgetLine{input, math.Abs(stdK), basis})
	}
	basis := func(m *Material) string {
		return fmt.Sprintf("±%s %% rectangular, %s", plain(100*m.halfWidth()), m.Origin.Source)
	}
	if s.sharedMaterial() {
		add("expansion of part and shaft, one steel", s.Part.relativeStd()*(partStrain-shaftStrain)/slope, basis(&s.Part))
	} else {
		add("expansion of the part", s.Part.relativeStd()*partStrain/slope, basis(&s.Part))
		add("expansion of the shaft", s.Shaft.relativeStd()*shaftStrain/slope, basis(&s.Shaft))
	}
	if s.ShaftStdK > 0 {
		_, shaftSlope, err := s.Shaft.temperature(shaftStrain)
		if err != nil {
			return err
		}
		add("temperature of the shaft", s.ShaftStdK*shaftSlope/slope, "as given")
	}
	if s.Interference.StdUM > 0 {
		add("measured sizes", s.Interference.StdUM/(1000*s.DiameterMM)/slope, s.Interference.Basis)
	}
	sum := 0.0
	for _, b := range n.Budget {
		sum += b.StdK * b.StdK
	}
	n.StdK = math.Sqrt(sum)
	n.LowestC = n.NeededC + quantity.Celsius(math.Hypot(CoverageFactor*n.StdK, s.GuardK))
	return nil
}

// judge compares with the limit.
func (n *Need) judge(s *Seat) {
	n.Feasibility = NoLimit
	if s.LimitC != nil {
		margin := s.LimitC.Minus(n.NeededC)
		highest := *s.LimitC - quantity.Celsius(s.GuardK)
		n.MarginK, n.HighestC = &margin, &highest
		switch {
		case n.NeededC > *s.LimitC:
			n.Feasibility = NotByWarming
		case wholeDegree(n.LowestC) > highest:
			n.Feasibility = TooNarrow
		default:
			n.Feasibility = Possible
		}
	}
	if n.NeededC <= s.partC() {
		n.Feasibility = NoWarming
		n.Words = "shaft and bore go together cold: no warming needed"
		return
	}
	n.suggest()
	needed := tenths(math.Ceil, float64(n.NeededC)) // rounded towards the safe side
	switch n.Feasibility {
	case NoLimit:
		n.Words = fmt.Sprintf("the bore has to be at least %s °C", needed)
	case Possible:
		n.Words = fmt.Sprintf("the bore has to be at least %s °C, which leaves %s K to the limit of %s °C",
			needed, tenths(math.Floor, float64(*n.MarginK)), plain(float64(*s.LimitC)))
	default:
		n.CoolShaftC = n.coolShaft(s)
		way := "choose another class"
		if n.CoolShaftC != nil {
			way = fmt.Sprintf("cool the shaft to %s °C or choose another class", plain(float64(*n.CoolShaftC)))
		} else if s.ShaftC > ColdFromC || s.Shaft.ColdLaw {
			way = fmt.Sprintf("cooling the shaft as far as its shrinking is known here (%s °C) does not do it either: choose another class", plain(float64(s.coldest())))
		}
		if n.Feasibility == NotByWarming {
			n.Words = fmt.Sprintf("this joint cannot be done by warming alone within the limit: it needs %s °C and the part stands %s °C; %s",
				needed, plain(float64(*s.LimitC)), way)
		} else {
			n.Words = fmt.Sprintf("no set-point is safely between the %s °C needed and the limit of %s °C, since both are only known within their uncertainties; %s",
				needed, plain(float64(*s.LimitC)), way)
		}
	}
}

// tenths writes a number rounded to tenths by floor or ceiling; what is a tenth already stays.
func tenths(round func(float64) float64, v float64) string {
	if nearest := math.Round(v * 10); math.Abs(nearest-v*10) < 1e-6 {
		return quantity.FormatDecimals(nearest/10, 1)
	}
	return quantity.FormatDecimals(round(v*10)/10, 1)
}

// wholeDegree is the next set-point that a heater can be given, in whole degrees.
func wholeDegree(c quantity.Celsius) quantity.Celsius {
	return quantity.Celsius(math.Ceil(float64(c) - 1e-9))
}

// suggest picks a set-point: the next multiple of 5 °C that is safely warm enough, or the next whole degree.
func (n *Need) suggest() {
	for _, c := range []quantity.Celsius{5 * wholeDegree(n.LowestC/5), wholeDegree(n.LowestC)} {
		if n.HighestC == nil || c <= *n.HighestC {
			n.SetPointC = &c
			return
		}
	}
}

// coldest is how cold the shaft can be taken with what is known of its material.
func (s *Seat) coldest() quantity.Celsius {
	if s.Shaft.ColdLaw {
		return ColdestC
	}
	return ColdFromC
}

// coolShaft finds the warmest whole degree at which the shaft lets the joint be done within the limit.
func (n *Need) coolShaft(s *Seat) *quantity.Celsius {
	does := func(c quantity.Celsius) bool {
		cold := *s
		cold.ShaftC = c
		at := Need{EaseUM: n.EaseUM}
		return at.solve(&cold) == nil && wholeDegree(at.LowestC) <= *n.HighestC
	}
	lo, hi := s.coldest(), quantity.Celsius(math.Floor(float64(s.ShaftC)))
	if lo >= hi || !does(lo) {
		return nil
	}
	if does(hi) {
		return &hi
	}
	for hi-lo > 1 { // whole degrees: lo does it, hi does not
		mid := quantity.Celsius(math.Floor(float64(lo+hi) / 2))
		if does(mid) {
			lo = mid
		} else {
			hi = mid
		}
	}
	return &lo
}

// note says what was assumed.
func (n *Need) note(s *Seat) {
	say := func(format string, args ...any) { n.Notes = append(n.Notes, fmt.Sprintf(format, args...)) }
	say("ease of %s µm: %s", plain(n.EaseUM), n.EaseBasis)
	if s.sharedMaterial() {
		say("part and shaft are taken to expand alike: %s", s.Part.words())
	} else {
		say("part: %s; shaft: %s", s.Part.words(), s.Shaft.words())
	}
	if s.Part.Law == Linear && s.Part.ToC > s.Part.FromC && float64(n.NeededC) > s.Part.ToC+25 {
		say("the coefficient of %s is a mean over %s to %s °C and is used here up to %s °C", s.Part.Name,
			plain(s.Part.FromC), plain(s.Part.ToC), quantity.FormatDecimals(float64(n.NeededC), 0))
	}
	if s.ShaftC < ColdFromC || n.CoolShaftC != nil && *n.CoolShaftC < ColdFromC {
		say("%s", coldSource)
	}
	if s.Interference.Basis != "" {
		say("interference %s to %s µm: %s (%s)", plain(s.Interference.MinUM), plain(s.Interference.MaxUM), s.Interference.Basis, s.Interference.Origin.Confidence)
	}
	if s.Form == Ring && s.EaseUM == nil && s.Interference.MaxUM <= 0 {
		say("the fit leaves clearance, so no ease is added")
	}
}

func (m *Material) words() string {
	if m.Law == Eurocode {
		return fmt.Sprintf("%s after the elongation formula of EN 1993-1-2", m.Name)
	}
	return fmt.Sprintf("%s, %s per million and kelvin (%s)", m.Name, quantity.FormatDecimals(m.AlphaPerK*1e6, 1), m.Origin.Source)
}
