package judge

import (
	"fmt"
	"strings"
)

// judgeRecord says whether the record is complete enough for the answers that were asked. It never
// fails: a record is unproven only when something missing could change an answer. Harmless defects are
// listed in the finding and leave it a pass.
func (sc *scene) judgeRecord(missing []string) Finding {
	f := Finding{Check: Record, Verdict: Pass, Coverage: 0}
	if missing = once(missing); len(missing) > 0 {
		f.Verdict = Unproven
		f.Reason = missing[0]
		if len(missing) > 1 {
			f.Reason += fmt.Sprintf("; and %d more: %s", len(missing)-1, strings.Join(missing[1:], "; "))
		}
		return f
	}
	var harmless []string
	for i := range sc.c.Cycle.Defects {
		if m := sc.c.Cycle.Defects[i].Message; m != "" {
			harmless = append(harmless, m)
		}
	}
	if n := sc.c.Log.ProblemCount; n > 0 {
		lines := "lines or cells"
		harmless = append(harmless, fmt.Sprintf("%d %s of the file could not be read", n, lines))
	}
	f.Reason = "nothing is missing that could change an answer"
	if harmless = once(harmless); len(harmless) > 0 {
		f.Reason += "; harmless here: " + strings.Join(harmless, "; ")
	}
	return f
}

// once keeps the first of equal texts, in order.
func once(list []string) []string {
	var out []string
	for _, s := range list {
		seen := false
		for _, o := range out {
			seen = seen || o == s
		}
		if !seen {
			out = append(out, s)
		}
	}
	return out
}
