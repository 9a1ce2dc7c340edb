package generate

// Ring is one lumped mass: a bearing's inner or outer ring with its share of the rolling elements,
// or a whole one-body part.
type Ring struct {
	MassKg     float64 // kg; 0 only for the outer ring of a one-body part
	PowerShare float64 // share of the heater's power that is set free in this ring, 0..1
	LossWPerK  float64 // loss to the air, W/K: heat transfer coefficient times surface
}

// Body is the part being warmed. With Ci, Co the heat capacities, G the coupling, hi, ho the losses and
// Ta the air,
//
//	Ci dTi/dt = Pi - G (Ti - To) - hi (Ti - Ta)
//	Co dTo/dt = Po + G (Ti - To) - ho (To - Ta)
//
// A one-body part has no outer ring (MassKg 0) and keeps the first equation with G = 0.
type Body struct {
	Inner, Outer  Ring
	CouplingWPerK float64                       // G, W/K, through rolling elements, grease and air
	SpecificHeat  func(celsius float64) float64 // J/(kg K); nil means SteelSpecificHeat
}

// OneBody says whether the part has a single mass.
func (b *Body) OneBody() bool { return b.Outer.MassKg == 0 }

// SteelSpecificHeat is the specific heat of carbon steel in J/(kg K), 20 to 600 °C, rising with the
// temperature (EN 1993-1-2:2005, 3.4.1.2).
func SteelSpecificHeat(celsius float64) float64 {
	t := celsius
	return 425 + t*(0.773+t*(-1.69e-3+t*2.22e-6))
}

// ConstantSpecificHeat gives a specific heat that does not change with temperature, J/(kg K).
func ConstantSpecificHeat(value float64) func(float64) float64 {
	return func(float64) float64 { return value }
}

func (b *Body) specificHeat(celsius float64) float64 {
	if b.SpecificHeat == nil {
		return SteelSpecificHeat(celsius)
	}
	return b.SpecificHeat(celsius)
}

// rates gives dTi/dt and dTo/dt in K/s for the heater's present power in W.
func (b *Body) rates(innerC, outerC, airC, powerW float64) (inner, outer float64) {
	ci := b.Inner.MassKg * b.specificHeat(innerC)
	if b.OneBody() {
		return (b.Inner.PowerShare*powerW - b.Inner.LossWPerK*(innerC-airC)) / ci, 0
	}
	co := b.Outer.MassKg * b.specificHeat(outerC)
	through := b.CouplingWPerK * (innerC - outerC)
	inner = (b.Inner.PowerShare*powerW - through - b.Inner.LossWPerK*(innerC-airC)) / ci
	outer = (b.Outer.PowerShare*powerW + through - b.Outer.LossWPerK*(outerC-airC)) / co
	return inner, outer
}
