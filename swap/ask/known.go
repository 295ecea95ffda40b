package ask

import (
	"fmt"

	"swapworth/quantity"
	"swapworth/swap"
)

// Known says in a few lines what a comparison knows so far.
func Known(r swap.Result) []string {
	verdict := "So far: " + string(r.Verdict)
	if r.Condition != nil {
		verdict += ", " + *r.Condition
	}
	saved := fmt.Sprintf("the redesign saves %s", percent(r.Saving.Percent))
	if s := r.Saving.Percent; s.Nominal < 0 {
		saved = fmt.Sprintf("the redesign is %s heavier", percent(s.Scale(-1)))
	}
	if m := r.Motion; m != nil && m.AccelerationGain != nil {
		saved += fmt.Sprintf(", and acceleration gains %s", percent(*m.AccelerationGain))
	}
	if r.Probability != nil {
		saved += fmt.Sprintf("; all criteria that can be judged are met with %s %%", quantity.Short(100**r.Probability, 2))
	}
	return []string{verdict, saved}
}

// Changed says what an answer did to what was known, nothing where it did nothing.
func Changed(before, after swap.Result) []string {
	var out []string
	if before.Verdict != after.Verdict {
		out = append(out, fmt.Sprintf("That turns %s into %s", before.Verdict, after.Verdict))
	}
	if a, b := percent(before.Saving.Percent), percent(after.Saving.Percent); a != b {
		out = append(out, fmt.Sprintf("the saving was %s and is %s", a, b))
	}
	if before.Motion == nil && after.Motion != nil {
		out = append(out, "what the saving buys in acceleration can be judged now")
	}
	if a, b := len(turning(before)), len(turning(after)); b < a {
		out = append(out, fmt.Sprintf("%d of %d assumptions that could turn the verdict are left", b, a))
	}
	return out
}

// turning are the assumptions of which a plausible alternative turns the verdict.
func turning(r swap.Result) map[string]bool {
	out := map[string]bool{}
	for _, t := range r.Explored.Tried {
		if t.Verdict != r.Explored.Judged {
			out[t.Assumption] = true
		}
	}
	return out
}

func percent(v swap.Range) string {
	low, mid, high := quantity.Short(v.Low, 3), quantity.Short(v.Nominal, 3), quantity.Short(v.High, 3)
	if low == high {
		return mid + " %"
	}
	return fmt.Sprintf("%s %% (%s to %s %%)", mid, low, high)
}
