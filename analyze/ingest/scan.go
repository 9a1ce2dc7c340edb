package ingest

import (
	"fmt"
	"io"
	"math"

	"ringheat/analyze/ingest/clock"
	"ringheat/analyze/ingest/heading"
	"ringheat/analyze/series"
)

// Block is a stretch of consecutive rows of a log, by columns.
type Block struct {
	FirstRow int         // index of the block's first row in the log
	TimeS    []float64   // seconds since the log's first row
	Lines    []int32     // 1-based line of every row in the decoded file
	C        [][]float64 // °C, by channel, as Scanner.Channels lists them; a missing sample is a NaN (series.IsMissing)
}

// Scanner gives a log of any length in blocks of at most BlockRows rows, in bounded memory:
//
//	s := ingest.NewScanner(name, in, options)
//	for s.Scan() { use(s.Block()) }
//	if err := s.Err(); err != nil { ... }
//	result := s.Result()
//
// It reads by the same plan as Reader, made on the head of the log. Two things are less than what Reader gives, because a
// row can't be called back: a date order that only a later part of the log settles against the head's is a
// question, and numbers that stand for no reading are looked for block by block.
// A channel without a role that never has a reading stays in the list.
type Scanner struct {
	r       Reader
	o       Options
	in      io.Reader
	name    string
	started bool
	done    bool
	err     error
	block   Block
	row     int
	kinds   []string
	result  Result
	tally   tally
	spans   []ChannelSpan
}

// ChannelSpan is the range of a channel's readings, °C. All four are 0 when Valid is.
type ChannelSpan struct {
	Valid                     int
	MinC, MaxC, FirstC, LastC float64
}

func (s *ChannelSpan) add(v float64) {
	if s.Valid == 0 {
		*s = ChannelSpan{MinC: v, MaxC: v, FirstC: v}
	}
	s.Valid++
	s.LastC = v
	if v < s.MinC {
		s.MinC = v
	}
	if v > s.MaxC {
		s.MaxC = v
	}
}

// Spans gives the range of every channel of a log.
func Spans(l *series.Log) []ChannelSpan {
	out := make([]ChannelSpan, len(l.Channels))
	for i := range l.Channels {
		for _, v := range l.Channels[i].C {
			if !series.IsMissing(v) {
				out[i].add(v)
			}
		}
	}
	return out
}

// NewScanner gives a Scanner of one log. Nothing is read before the first Scan.
func NewScanner(name string, in io.Reader, o Options) *Scanner {
	return &Scanner{name: name, in: in, o: o}
}

// Scan reads the next block. It gives false at the log's end and when the log can't be read; Err tells which.
func (s *Scanner) Scan() bool {
	if s.done {
		return false
	}
	r := &s.r
	if !s.started {
		s.started = true
		if s.err = r.prepare(s.name, s.in, s.o, &s.result.Reading); s.err != nil {
			s.done = true
			return false
		}
		r.rows.begin(&r.plan, s.o.keep())
		s.kinds = r.planner.headKinds()
		s.spans = make([]ChannelSpan, len(r.plan.channels))
		s.block.C = make([][]float64, r.plan.probes)
	}
	rs := &r.rows
	s.row += len(rs.timeS)
	rs.timeS, rs.lines = rs.timeS[:0], rs.lines[:0]
	for i := range r.plan.channels {
		rs.values[i] = rs.values[i][:0]
	}
	more, err := r.scan(s.kinds, BlockRows)
	if err != nil {
		s.err, s.done = err, true
		return false
	}
	if !more {
		s.done = true
	}
	if len(rs.timeS) > 0 {
		b := &s.block
		b.FirstRow, b.TimeS, b.Lines = s.row, rs.timeS, rs.lines
		for i := range r.plan.channels {
			cp := &r.plan.channels[i]
			if t := look(rs.values[i], wildStepK); cp.scale == 1 && t.mayHoldErrors() {
				r.dropErrorValues(cp, i)
			}
			toCelsius(cp, rs.values[i])
			if i < r.plan.probes {
				b.C[i] = rs.values[i]
				if r.plan.time.plan.UnitTaken() {
					r.steepest.add(&cp.Channel, rs.timeS, b.C[i])
				}
			}
			for _, v := range rs.values[i] {
				if v == v {
					s.spans[i].add(v)
				}
			}
		}
		s.tally.add(b)
	}
	if s.done {
		s.err = s.finish()
	}
	return len(rs.timeS) > 0 && s.err == nil
}

// Block gives the rows of the last Scan. They are overwritten by the next.
func (s *Scanner) Block() *Block { return &s.block }

// Err says why the log can't be read; nil at a good end.
func (s *Scanner) Err() error { return s.err }

// Spans gives the range of every channel over the rows scanned so far.
func (s *Scanner) Spans() []ChannelSpan { return s.spans[:min(len(s.spans), s.r.plan.probes)] }

// Rows is the number of rows scanned so far.
func (s *Scanner) Rows() int { return s.row + len(s.r.rows.timeS) }

// Result says, after the last Scan, how the log was read. Its Log has everything but the rows: TimeS, Lines and every C are nil.
// Before that, or after an error, it is nil.
func (s *Scanner) Result() *Result {
	if !s.done || s.err != nil {
		return nil
	}
	return &s.result
}

// finish makes the Result.
func (s *Scanner) finish() error {
	r := &s.r
	out := r.rows.clock.Finish()
	if s.row+len(r.rows.timeS) == 0 {
		return r.noRows()
	}
	l := &r.log
	r.heads(s.name, out, &s.result)
	for i := range r.plan.channels {
		top := math.NaN()
		if s.spans[i].Valid > 0 {
			top = s.spans[i].MaxC
		}
		if i >= r.plan.probes {
			r.leaveOut(&r.plan.channels[i], top)
			continue
		}
		ch := r.plan.channels[i].Channel
		r.leaveOutChannel(&ch, top)
		ch.MissingKind = r.rows.missing[i]
		ch.Valid = s.spans[i].Valid
		ch.StepK = ch.Unit.ConvertStep(math.Pow10(-min(r.rows.decimals[i], 9)) * r.plan.channels[i].scale)
		l.Channels = append(l.Channels, ch)
	}
	s.tally.finish(&l.Clock)
	if out.Reread {
		r.planner.ask("a later part of the log speaks for another date order; name it with --date-order " + string(orderOf(out)))
	}
	for _, b := range r.rows.blocks {
		if heading.Read(b.title, "").Role != series.NoRole {
			r.planner.ask(fmt.Sprintf("the headings come again at line %d below the title %q: the probes may stand one below the other; cut the file there", b.line, b.title))
			break
		}
	}
	r.tails(out, &s.result)
	return nil
}

func orderOf(out clock.Outcome) clock.Order {
	if out.Plan != nil {
		return out.Plan.Order()
	}
	return out.Order
}

// tally gathers the clock facts block by block. The usual interval that events are measured against is that
// of the first block.
type tally struct {
	last     float64
	started  bool
	interval float64
	limit    float64
	counts   map[float64]int // steps by their size
	events   []series.ClockEvent
	lo, hi   float64
	scratch  []float64
}

// maxSteps is the most different step sizes that are told apart.
const maxSteps = 1 << 14

func (t *tally) add(b *Block) {
	if t.counts == nil {
		t.counts = map[float64]int{}
		t.interval, t.limit, t.scratch = usualStep(b.TimeS, t.scratch)
	}
	var held float64 // a run of equal steps is counted once
	run := 0
	for i, now := range b.TimeS {
		if !t.started {
			t.started, t.last = true, now
			continue
		}
		d := stepS(t.last, now)
		if d > 0 && d <= t.limit || t.limit == 0 {
			if t.lo == 0 || d < t.lo {
				t.lo = d
			}
			t.hi = max(t.hi, d)
		} else if len(t.events) < MaxEvents {
			t.events = append(t.events, event(b.FirstRow+i, int(b.Lines[i]), t.last, d, t.interval))
		}
		if d == held && run > 0 {
			run++
		} else {
			t.count(held, run)
			held, run = d, 1
		}
		t.last = now
	}
	t.count(held, run)
}

func (t *tally) count(step float64, n int) {
	if n == 0 || step <= 0 {
		return
	}
	if _, ok := t.counts[step]; !ok && len(t.counts) >= maxSteps {
		step = math.Round(step*1000) / 1000
		if _, ok := t.counts[step]; !ok && len(t.counts) >= 2*maxSteps {
			return
		}
	}
	t.counts[step] += n
}

func (t *tally) finish(c *series.Clock) {
	c.Events = append(c.Events, t.events...)
	c.SpreadS = t.hi - t.lo
	total := 0
	t.scratch = t.scratch[:0]
	for step, n := range t.counts {
		total += n
		t.scratch = append(t.scratch, step)
	}
	sortFloats(t.scratch)
	seen := 0
	for _, step := range t.scratch {
		seen += t.counts[step]
		if 2*seen >= total {
			c.IntervalS = step
			return
		}
	}
}
