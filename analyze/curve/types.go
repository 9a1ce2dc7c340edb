package curve

// Status says how much a rise determines of a first-order curve.
type Status string

// The statuses. NoRise: nothing was fitted (too few samples, no rise).
const (
	NoRise        Status = "none"
	Determined    Status = "determined"
	Undetermined  Status = "undetermined"
	NotFirstOrder Status = "not-first-order"
)

// Interval is a two-sided 95 % interval. An end that does not exist (it runs to infinity, or no
// interval was computed) has its flag false and is never printed as a number.
type Interval struct {
	Low, High       float64
	HasLow, HasHigh bool
}

// Estimate is a value with its standard error and 95 % interval. Known false: not determined.
type Estimate struct {
	Value, StdErr float64
	CI            Interval
	Known         bool
}

// FirstOrder is the estimate of T(t) = final - (final - start) exp(-(t - t0)/tau) over one rise, in the
// parameters that stay smooth when the rise is nearly straight: start, initial rate, decay rate k = 1/tau.
type FirstOrder struct {
	Status Status
	Why    string // plain words: why it has this status

	T0S  float64 // reference time t0 of the curve, s since the log's first row
	EndS float64 // last sample used, s since the log's first row
	N    int     // samples used
	NEff float64 // independent samples they are worth

	StartC        Estimate // °C at t0
	RateKPerS     Estimate // initial rate at t0, K/s
	DecayPerS     Estimate // k = 1/tau, 1/s; smooth through 0
	TimeConstantS Estimate // effective time constant, s; Known only when Status is Determined, but CI follows from k always
	FinalC        Estimate // effective final temperature, °C

	Classical Classical // plain least squares, for comparison with outside references

	ResidualSDK float64
	Lag1        float64 // lag-1 autocorrelation of the residuals
	Widening    float64 // factor f by which standard errors were widened for it
	MisfitK     float64 // size of the smooth misfit, K
	MisfitP     float64 // its significance (p value); 1 when not tested
}

// Classical is the ordinary least-squares solution with its unwidened standard errors. It stands
// whatever the Status: outside references are compared with it.
type Classical struct {
	StartC, StartSE               float64
	RateKPerS, RateSE             float64
	DecayPerS, DecaySE            float64
	TimeConstantS, TimeConstantSE float64 // only meaningful when DecayPerS > 0
	FinalC, FinalSE               float64
	ResidualSD                    float64 // sqrt(RSS/(N-p))
	RSS                           float64
	OK                            bool
}

// Extreme is the largest (or smallest) value of a trace, read from a local curve and not from a
// single noisy sample, with the raw extreme beside it.
type Extreme struct {
	Value, StdErr float64 // from the local curve
	AtS           float64
	Raw           float64 // largest sample that is no spike
	RawAtS        float64
	NoiseSD       float64 // standard deviation of a single sample about the local curve
	N             int     // samples of the local curve
	Known         bool
	Method        string // plain words
}
