package evidence

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
)

// Sum is what a set of rows shows.
type Sum struct {
	Inside, Of    int
	Median, Worst float64 // off, percent
	Stated        float64 // median of the stated errors, percent
	Beyond        int     // rows off by more than twice their stated error
}

// Summed counts and sorts rows. A refused one is not inside and has no off.
func Summed(rows []Row) (s Sum) {
	var off, stated []float64
	for _, r := range rows {
		s.Of++
		if r.Inside() {
			s.Inside++
		}
		if r.Refused != nil {
			continue
		}
		off, stated = append(off, math.Abs(r.Off())), append(stated, r.Stated)
		if math.Abs(r.Off()) > 2*r.Stated+r.TruthError {
			s.Beyond++
		}
	}
	s.Median, s.Worst = median(off), 0
	for _, v := range off {
		s.Worst = max(s.Worst, v)
	}
	s.Stated = median(stated)
	return s
}

func median(v []float64) float64 {
	if len(v) == 0 {
		return math.NaN()
	}
	v = slices.Sorted(slices.Values(v))
	return (v[(len(v)-1)/2] + v[len(v)/2]) / 2
}

func (s Sum) String() string {
	return fmt.Sprintf("%d of %d inside, median %.1f %%, worst %.1f %%", s.Inside, s.Of, s.Median, s.Worst)
}

// WriteRows writes a table of stiffnesses in Markdown and what it shows in all and
// by half, the last line for all.
func WriteRows(w io.Writer, rows []Row) error {
	out := &printer{w: w}
	out.line("| part | half | held, loaded, along | truth, N/mm | ours, N/mm | stated, %% | off, %% | inside | s |")
	out.line("| --- | --- | --- | ---: | ---: | ---: | ---: | --- | ---: |")
	for _, r := range rows {
		truth := fmt.Sprintf("%.4g ± %.2g %%", r.Truth, r.TruthError)
		if r.Refused != nil {
			out.line("| %s | %s | %s | %s | refused | | | no | |", r.Part, r.Half, r.Case, truth)
			continue
		}
		out.line("| %s | %s | %s | %s | %.4g | %.1f | %+.1f | %s | %.1f |",
			r.Part, r.Half, r.Case, truth, r.Ours, r.Stated, r.Off(), yes(r.Inside()), r.Seconds)
	}
	out.line("")
	for _, g := range []struct {
		name string
		in   func(Row) bool
	}{
		{"open", func(r Row) bool { return r.Half == Open }},
		{"set apart", func(r Row) bool { return r.Half == Apart }},
		{"held at an end", func(r Row) bool { return !r.Bolted }},
		{"held at holes", func(r Row) bool { return r.Bolted }},
	} {
		s := Summed(slices.DeleteFunc(slices.Clone(rows), func(r Row) bool { return !g.in(r) }))
		if s.Of > 0 {
			out.line("%s: %s; %.1f %% stated in the median, %d off by more than twice what is stated\n", g.name, s, s.Stated, s.Beyond)
		}
	}
	out.line("%s", Summed(rows))
	return out.err
}

// WriteTones writes a table of frequencies.
func WriteTones(w io.Writer, tones []Tone) error {
	out := &printer{w: w}
	out.line("| part | half | mode | truth, Hz | ours, Hz | off, %% |")
	out.line("| --- | --- | ---: | ---: | ---: | ---: |")
	var off []float64
	for _, t := range tones {
		d := 100 * (t.Ours/t.Truth - 1)
		off = append(off, math.Abs(d))
		out.line("| %s | %s | %d | %.4g ± %.2g %% | %.4g | %+.1f |", t.Part, t.Half, t.Mode, t.Truth, t.TruthError, t.Ours, d)
	}
	if len(off) > 0 {
		out.line("\n%d frequencies, median %.1f %%, worst %.1f %%", len(off), median(off), slices.Max(off))
	}
	return out.err
}

// peakOff is what is asked of a peak that submodels have settled, in percent.
const peakOff = 7.0

// count returns how many of the values are at most a limit.
func count(values []float64, most float64) (n int) {
	for _, v := range values {
		if v <= most {
			n++
		}
	}
	return n
}

// WritePeaks writes a table of stress peaks.
func WritePeaks(w io.Writer, peaks []PeakRow) error {
	out := &printer{w: w}
	out.line("| part | half | held, loaded, along | place | truth, MPa | ours, MPa | off, %% | inside |")
	out.line("| --- | --- | --- | --- | ---: | ---: | ---: | --- |")
	inside, found := 0, 0
	var off []float64
	for _, p := range peaks {
		if !p.Found {
			out.line("| %s | %s | %s | %s | %.4g ± %.2g %% | not among the hottest | | |", p.Part, p.Half, p.Case, p.Where, p.Truth, p.TruthError)
			continue
		}
		found++
		if p.Inside() {
			inside++
		}
		ours, apart := fmt.Sprintf("%.3g and more", p.Ours.Low), "open"
		if p.Settled() {
			ours = fmt.Sprintf("%.4g (%.3g to %.3g)", p.Ours.Nominal, p.Ours.Low, p.Ours.High)
			apart = fmt.Sprintf("%+.1f", p.Off())
			off = append(off, math.Abs(p.Off()))
		}
		out.line("| %s | %s | %s | %s | %.4g ± %.2g %% | %s | %s | %s |", p.Part, p.Half, p.Case, p.Where, p.Truth, p.TruthError, ours, apart, yes(p.Inside()))
	}
	out.line("\n%d of %d peaks inside their range, %d others not among the three hottest places", inside, found, len(peaks)-found)
	if len(off) > 0 {
		out.line("\n%d of %d that settled within %g %%, median %.1f %%, worst %.1f %%", count(off, peakOff), len(off), peakOff, median(off), slices.Max(off))
	}
	return out.err
}

func yes(v bool) string {
	if v {
		return "yes"
	}
	return "no"
}

// printer writes lines until one fails.
type printer struct {
	w   io.Writer
	err error
}

func (p *printer) line(format string, args ...any) {
	if p.err == nil {
		_, p.err = fmt.Fprintf(p.w, format+"\n", args...)
	}
}

// Between replaces what a page holds between the marks <!-- NAME --> and
// <!-- end of NAME -->.
func Between(page, name, text string) (string, error) {
	begin, end := "<!-- "+name+" -->", "<!-- end of "+name+" -->"
	before, rest, ok := strings.Cut(page, begin)
	_, after, closed := strings.Cut(rest, end)
	if !ok || !closed {
		return "", fmt.Errorf("no marks %s and %s", begin, end)
	}
	return before + begin + "\n" + text + end + after, nil
}
