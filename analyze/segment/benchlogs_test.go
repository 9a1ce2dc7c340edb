package segment

import (
	"encoding/csv"
	"flag"
	"math"
	"os"
	"path/filepath"
	"sort"
	"strconv"
	"testing"

	"ringheat/analyze/series"
)

var benchLogs = flag.String("bench-logs", "", "folder of plain comma logs (time,inner,outer,...) with a truth.csv that names file, ton, tau_i, tau_o and, if known, toff and tend; nothing is done without it")

func readNumbers(t *testing.T, path string) [][]float64 {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rec, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	cols := make([][]float64, len(rec[0]))
	for _, r := range rec[1:] {
		for j, v := range r {
			x, err := strconv.ParseFloat(v, 64)
			if err != nil {
				x = math.NaN()
			}
			cols[j] = append(cols[j], x)
		}
	}
	return cols
}

func plainLog(cols [][]float64, step float64) *series.Log {
	log := &series.Log{TimeS: cols[0]}
	for _, c := range cols[1:] {
		log.Channels = append(log.Channels, series.Channel{C: c, Valid: len(c), StepK: 0.1})
	}
	return log
}

func TestBenchLogs(t *testing.T) {
	if *benchLogs == "" {
		t.Skip("no -bench-logs")
	}
	f, err := os.Open(filepath.Join(*benchLogs, "truth.csv"))
	if err != nil {
		t.Fatal(err)
	}
	rec, err := csv.NewReader(f).ReadAll()
	f.Close()
	if err != nil {
		t.Fatal(err)
	}
	col := map[string]int{}
	for i, h := range rec[0] {
		col[h] = i
	}
	num := func(r []string, name string) float64 {
		i, ok := col[name]
		if !ok {
			return math.NaN()
		}
		v, _ := strconv.ParseFloat(r[i], 64)
		return v
	}
	var s Segmenter
	errs := map[string][]float64{}
	cover, total := 0, 0
	marked := 0
	for _, r := range rec[1:] {
		file := r[col["file"]]
		log := plainLog(readNumbers(t, filepath.Join(*benchLogs, file)), 0.1)
		res := s.Find(log, []int{0}, []int{1}, Options{})
		marked += len(res.Spikes[0]) + len(res.Spikes[1])
		if len(res.Cycles) != 1 {
			t.Errorf("%s: %d cycles", file, len(res.Cycles))
			continue
		}
		c := res.Cycles[0]
		for _, d := range c.Defects {
			t.Logf("%s: defect %s: %s", file, d.Kind, d.Message)
		}
		ton, toff, tend := num(r, "ton"), num(r, "toff"), num(r, "tend")
		note := func(k string, m Moment, truth float64) {
			if !m.Known {
				t.Errorf("%s: %s unknown: %s", file, k, m.Evidence)
				return
			}
			e := m.AtS - truth
			errs[k] = append(errs[k], e)
			if math.Abs(e) > 25 {
				t.Logf("%s: %s at %.1f, truth %.1f (noise %.2f) %s", file, k, m.AtS, truth, num(r, "noise"), m.Evidence)
			}
		}
		note("onset", c.Onset, ton)
		note("rampEnd", c.RampEnd, toff)
		note("end", c.End, tend)
		errs["winStart"] = append(errs["winStart"], log.TimeS[c.RiseInner.First]-ton)
		errs["winEnd"] = append(errs["winEnd"], log.TimeS[max(c.RiseInner.End-1, 0)]-toff)
		errs["winShare"] = append(errs["winShare"], (log.TimeS[max(c.RiseInner.End-1, 0)]-log.TimeS[c.RiseInner.First])/(toff-ton))
		for j, w := range []Window{c.RiseInner, c.RiseOuter} {
			tau := num(r, [...]string{"tau_i", "tau_o"}[j])
			if w.Len() < 10 {
				t.Errorf("%s: window %v", file, w)
				continue
			}
			k, se := firstOrder(log.TimeS[w.First:w.End], log.Channels[j].C[w.First:w.End])
			total++
			if math.Abs(k-1/tau) <= 1.96*se {
				cover++
			}
		}
	}
	for _, k := range []string{"onset", "rampEnd", "end", "winStart", "winEnd", "winShare"} {
		v := errs[k]
		sort.Float64s(v)
		q := func(p float64) float64 { return v[int(p*float64(len(v)-1))] }
		t.Logf("%-8s min %.2f 5%% %.2f median %.2f 95%% %.2f max %.2f", k, v[0], q(.05), q(.5), q(.95), v[len(v)-1])
	}
	t.Logf("coverage %d/%d = %.3f; marked %d", cover, total, float64(cover)/float64(total), marked)
}
