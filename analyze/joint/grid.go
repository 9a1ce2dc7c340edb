package joint

import "ringheat/analyze/quantity"

// AmbientRow is the need at one temperature of the shaft.
type AmbientRow struct {
	ShaftC      quantity.Celsius
	NeededC     quantity.Celsius
	RiseK       quantity.Kelvin // needed minus shaft temperature: what a part as cold as the shaft has to be warmed by
	Feasibility Feasibility
	SetPointC   *quantity.Celsius
}

// OverAmbient gives the need for shafts of several temperatures: a cold shaft is smaller and asks for a less warm bore.
func OverAmbient(s Seat, shaftC []quantity.Celsius) ([]AmbientRow, error) {
	rows := make([]AmbientRow, 0, len(shaftC))
	for _, c := range shaftC {
		s.ShaftC = c
		n, err := FindNeed(s)
		if err != nil {
			return nil, err
		}
		rows = append(rows, AmbientRow{c, n.NeededC, n.NeededC.Minus(c), n.Feasibility, n.SetPointC})
	}
	return rows, nil
}

// Grid is the needed temperature over shaft temperature and interference: NeededC[i][j] belongs to ShaftC[i] and
// InterferenceUM[j]. The ease follows the custom for each interference unless the seat gives one.
type Grid struct {
	ShaftC         []quantity.Celsius
	InterferenceUM []float64
	NeededC        [][]quantity.Celsius
}

// FindGrid computes a Grid.
func FindGrid(s Seat, shaftC []quantity.Celsius, interferenceUM []float64) (Grid, error) {
	g := Grid{ShaftC: shaftC, InterferenceUM: interferenceUM, NeededC: make([][]quantity.Celsius, len(shaftC))}
	for i, c := range shaftC {
		s.ShaftC = c
		for _, um := range interferenceUM {
			s.Interference = GivenInterference(um)
			n, err := FindNeed(s)
			if err != nil {
				return Grid{}, err
			}
			g.NeededC[i] = append(g.NeededC[i], n.NeededC)
		}
	}
	return g, nil
}
