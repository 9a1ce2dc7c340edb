package cli

import (
	"bytes"
	"context"
	"fmt"

	"github.com/spf13/pflag"

	"ringheat/analyze"
	"ringheat/analyze/judge"
	"ringheat/report"
	"ringheat/report/chart"
)

const (
	needUsage = "need [FLAGS]\n\nSays how warm a bore has to be for its seat, whether the part stands it, what to set, and what a cold shaft changes.\n" +
		"The seat is told by --bore-mm with --interference-um, or with classes or measured sizes, or by a part of a parts list.\n" +
		"--out DIR writes " + needPictureName + ", " + needListName + " and " + needTextName + ". Exit code 1: the joint can't be done by warming alone within the limit."
	needExample = "ringheat need --kind bearing --bore-mm 100 --shaft-class m6 --probe-tolerance-k 1.5"
)

// Names of the files that need writes into --out.
const (
	needPictureName = "need.png"
	needListName    = "need.csv"
	needTextName    = "need.txt"
)

// needFlags are the flags of need.
type needFlags struct {
	kind, ringClass      string
	maxTemp, maxRingDiff optional
	probeTolerance       optional
	probeClass           string
	limits, parts, part  string
	seat                 seatFlags
	format, out          string
}

func (f *needFlags) register(fs *pflag.FlagSet) {
	fs.StringVar(&f.kind, "kind", "", "what is warmed: `bearing|ring|gear|coupling|sleeve` (bearing when not given)")
	f.seat.registerShort(fs)
	f.seat.registerRest(fs)
	fs.Var(&f.maxTemp, "max-temp-c", "tolerance `limit` of the temperature, °C (from the limits table when not given)")
	fs.StringVar(&f.ringClass, "ring-class", "", "`class` of the part in the limits table; several joined by +")
	fs.StringVar(&f.limits, "limits", "", "a limits table of your own, CSV `file` (ringheat limits prints the form)")
	fs.Var(&f.maxRingDiff, "max-ring-diff-k", "customary `limit` of the difference between the rings, K, beside that of the clearance")
	fs.Var(&f.probeTolerance, "probe-tolerance-k", "half-width of the tolerance of the probe that the part is warmed by, ± `K`")
	fs.StringVar(&f.probeClass, "probe-class", "", "that probe's tolerance `class`: K1, K2, J1, T1, ... (IEC 60584-1), AA, A, B, C (IEC 60751)")
	fs.StringVar(&f.parts, "parts", "", "parts list, CSV `file` (ringheat parts --template prints the form)")
	fs.StringVar(&f.part, "part", "", "`name` of the part in that list; flags overrule what it says")
	fs.StringVar(&f.format, "format", "text", "`form` of standard output: text, json or csv")
	fs.StringVar(&f.out, "out", "", "`folder` for the picture, the table and the text")
}

func runNeed(_ context.Context, e Env, args []string) int {
	fs := newFlags("need")
	var f needFlags
	f.register(fs)
	if code, done := e.parse(fs, args, needUsage, needExample, true); done {
		return code
	}
	if fs.NArg() > 0 {
		return e.report(usagef("ringheat need -h shows the flags; a log is judged by ringheat check", "need takes no argument, and %q is none of its flags", fs.Arg(0)))
	}
	switch f.format {
	case "text", "json", "csv":
	default:
		return e.report(usagef("write text, json or csv", "--format %q is not known", f.format))
	}
	answer, err := f.ask()
	if err != nil {
		return e.report(err)
	}
	if err := e.writeNeed(answer, &f); err != nil {
		return e.report(err)
	}
	if !answer.ByWarming() {
		return exitFail
	}
	return exitPass
}

// ask turns the flags into a question and has it answered.
func (f *needFlags) ask() (*analyze.NeedAnswer, error) {
	table, err := loadLimits(f.limits)
	if err != nil {
		return nil, err
	}
	p := partFlags{name: f.part, kind: f.kind, ringClass: f.ringClass, maxTemp: f.maxTemp, maxRingDiff: f.maxRingDiff, seat: f.seat}
	part, list, err := findPart(nil, f.parts, f.part, table)
	if err != nil {
		return nil, err
	}
	if part != nil {
		if err := p.take(part, list.Name, table); err != nil {
			return nil, err
		}
		if p.needTemp.v != nil {
			return nil, usagef("give --interference-um or --shaft-class, or fill in the seat in the list",
				"part %s of %s gives need_temp_c %g and no seat, so there is nothing to work out", part.Name, list.Name, *p.needTemp.v)
		}
	}
	q := analyze.NeedQuestion{
		Part: p.name, Kind: judge.PartKind(p.kind), RingClass: p.ringClass, MaxTempC: p.maxTemp.v, MaxRingDiffK: p.maxRingDiff.v, Limits: table,
		ProbeToleranceK: f.probeTolerance.v, ProbeClass: f.probeClass, Seat: p.seat.data(), Clearance: p.seat.clearance(), Said: p.said,
	}
	q.Said = append(q.Said, makerWords(&p.maker)...)
	answer, err := analyze.AskNeed(q)
	if err != nil {
		return nil, usagef("ringheat need -h shows the flags", "%s", err)
	}
	return answer, nil
}

// makerWords says what the part's maker asks for, which no answer takes into account.
func makerWords(m *analyze.Maker) []string {
	var said []string
	if m.MaxRateKPerMin != nil {
		said = append(said, fmt.Sprintf("the maker allows warming by %g K/min at most (%s)", *m.MaxRateKPerMin, m.MaxRateSource))
	}
	if m.HoldMin != nil {
		said = append(said, fmt.Sprintf("the maker asks for %g min at temperature (%s)", *m.HoldMin, m.HoldSource))
	}
	return said
}

// writeNeed writes the answer to standard output, and into --out where it was given.
func (e Env) writeNeed(a *analyze.NeedAnswer, f *needFlags) error {
	doc := report.NewNeedDocument(a)
	if f.out != "" {
		var inputs []input
		for _, path := range []string{f.parts, f.limits} {
			if path != "" {
				inputs = append(inputs, input{path: path})
			}
		}
		dir, err := openOut(f.out, inputs)
		if err != nil {
			return err
		}
		var picture, list, text bytes.Buffer
		var drawer chart.Drawer
		if err := drawer.Need(&picture, report.NeedPicture(a, version()), chart.Size{}); err != nil {
			return err
		}
		if err := report.WriteNeedList(&list, a); err != nil {
			return err
		}
		fmt.Fprintln(&text, ownMark+" "+version()+", need")
		if err := report.WriteNeedText(&text, &doc, report.TextOptions{}); err != nil {
			return err
		}
		for _, file := range []struct {
			name string
			data []byte
		}{{needPictureName, picture.Bytes()}, {needListName, list.Bytes()}, {needTextName, text.Bytes()}} {
			if err := dir.write(file.name, file.data); err != nil {
				return err
			}
		}
		fmt.Fprintf(e.Stderr, "ringheat: picture, table and text are in %s\n", f.out)
	}
	switch f.format {
	case "json":
		return report.WriteNeedJSON(e.Stdout, a)
	case "csv":
		return report.WriteNeedList(e.Stdout, a)
	}
	return report.WriteNeedText(e.Stdout, &doc, report.TextOptions{Colour: e.Colour, Width: e.Width})
}
