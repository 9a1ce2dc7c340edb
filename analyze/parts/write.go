package parts

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"io"

	"github.com/gocarina/gocsv"
)

// WriteTemplate writes a parts list to start from: remarks that say what each column holds, the header, and one example row.
func WriteTemplate(w io.Writer) error {
	var b bytes.Buffer
	fmt.Fprintln(&b, "# ringheat parts list. One row a part; lines that begin with # are remarks. Column part stands first, the others in any")
	fmt.Fprintln(&b, "# order; those not marked with * may be left out. An empty cell means 'not given'. Check the list with: ringheat parts FILE")
	fmt.Fprintln(&b, "#")
	row := make([]string, len(columns))
	for i, c := range columns {
		mark := " "
		if c.required {
			mark = "*"
		}
		fmt.Fprintf(&b, "# %s %-20s %s\n", mark, c.name, c.words)
		row[i] = c.template
	}
	fmt.Fprintln(&b, "#")
	list := csv.NewWriter(&b)
	if err := list.WriteAll([][]string{Columns(), row}); err != nil {
		return fmt.Errorf("write parts list: %w", err)
	}
	_, err := w.Write(b.Bytes())
	return err
}

// WriteCSV writes the list as it was understood, with every column, in the form that Load reads.
func (l *List) WriteCSV(w io.Writer) error {
	records := make([]record, len(l.Parts))
	for i := range l.Parts {
		records[i] = l.Parts[i].record()
	}
	if err := gocsv.Marshal(records, w); err != nil {
		return fmt.Errorf("write parts list: %w", err)
	}
	return nil
}

func (p *Part) record() record {
	r := record{
		Part: cell(p.Name), Description: cell(p.Description), Kind: cell(p.Kind), RingClass: cell(p.RingClass), Cage: cell(p.Cage),
		Sealed: yesCell(p.Sealed), Greased: yesCell(p.Greased), ShaftClass: cell(p.ShaftClass), BoreClass: cell(p.BoreClass),
		Material: cell(p.Material), ShaftMaterial: cell(p.ShaftMaterial), BearingType: cell(p.BearingType), ClearanceGroup: cell(p.ClearanceGroup),
		MaxTempSource: cell(p.MaxTempSource), MaxRateSource: cell(p.MaxRateSource), HoldSource: cell(p.HoldSource), Note: cell(p.Note),
	}
	for _, f := range []struct {
		v    *float64
		into *cell
	}{
		{p.BoreMM, &r.BoreMM}, {p.OutsideMM, &r.OutsideMM}, {p.WidthMM, &r.WidthMM}, {p.MassKG, &r.MassKG},
		{p.InterferenceUM, &r.InterferenceUM}, {p.EaseUM, &r.EaseUM}, {p.NeedTempC, &r.NeedTempC}, {p.AlphaPerK, &r.AlphaPerK},
		{p.ClearanceMinUM, &r.ClearanceMinUM}, {p.ClearanceMaxUM, &r.ClearanceMaxUM},
		{p.MaxTempC, &r.MaxTempC}, {p.MaxRingDiffK, &r.MaxRingDiffK}, {p.OverTimeAllowedS, &r.OverTimeAllowedS}, {p.OverCeilingK, &r.OverCeilingK},
		{p.MaxRateKPerMin, &r.MaxRateKPerMin}, {p.HoldMin, &r.HoldMin},
	} {
		if f.v != nil {
			*f.into = cell(plain(*f.v))
		}
	}
	return r
}

// yesCell leaves a no empty: kinds without seals have none to deny.
func yesCell(yes bool) cell {
	if yes {
		return "yes"
	}
	return ""
}
