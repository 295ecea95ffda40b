package swap

import (
	"context"
	"fmt"
	"slices"

	"swapworth/swap/fit"
)

// AsMade is the redesign as it would come off the mill in one respect. Used
// marks the one that the comparison is computed with. The numbers are nil where
// the departure cannot be made of this mesh; Notes says why.
type AsMade struct {
	Name           string   `json:"name"`
	Volume         *float64 `json:"volume_mm3"`
	VolumeError    *float64 `json:"volume_error_mm3"` // of the departure, and what flat faces hide on rounds
	Mass           *float64 `json:"mass_g"`
	ChangePercent  *float64 `json:"change_percent"` // against the part as drawn
	SavingPercent  *float64 `json:"saving_percent"`
	StiffnessRatio *float64 `json:"stiffness_ratio"` // the least of all load cases
	Used           bool     `json:"used"`
	Notes          []string `json:"notes"`
}

// asMadeRows computes the rows that stand beside the part as drawn. A part as drawn
// with nothing else to show needs none.
func asMadeRows(ctx context.Context, m mechanics, o fit.Options, variants []variant, p placed, in inputs) ([]AsMade, error) {
	out := []AsMade{}
	if len(variants) < 2 {
		return out, nil
	}
	drawn := variants[0].shape.props.Volume
	for _, v := range variants {
		if v.shape == nil {
			out = append(out, AsMade{Name: v.Name, Notes: orEmpty(v.Notes)})
			continue
		}
		directions, notes := in.directions, slices.Clone(v.Notes)
		if !v.used { // the used one is what the comparison solved
			var err error
			directions, err = withRedesign(ctx, m, p, in.directions, *v.shape)
			switch {
			case ctx.Err() != nil:
				return nil, err
			case err != nil: // a place of a load may be gone
				notes = append(notes, fmt.Sprintf("its stiffness is not computed: %v", err))
			}
		}
		one := in
		one.new.volume, one.directions = v.shape.volume, directions
		if !v.used {
			one.new.weighed = nil // the scale saw the part as it was made
		}
		volume, grams := v.shape.props.Volume, one.new.mass()
		off := max(v.shape.volume.High-volume, volume-v.shape.volume.Low)
		change, saving := 100*(volume/drawn-1), 100*(1-grams/one.old.mass())
		if v.register {
			notes = append(notes, fitNote(o, p, *v.shape))
		}
		out = append(out, AsMade{
			Name: v.Name, Volume: &volume, VolumeError: &off, Mass: &grams,
			ChangePercent: &change, SavingPercent: &saving,
			StiffnessRatio: leastRatio(one), Used: v.used, Notes: orEmpty(notes),
		})
	}
	return out, nil
}

// fitNote says whether a variant bolts on, by what stands against it that does
// not stand against the redesign.
func fitNote(o fit.Options, p placed, redesign shape) string {
	const most = 3
	r := fit.CompareFeatures(
		fit.Part{Mesh: p.old.made.Mesh, Features: p.old.made.Features},
		fit.Part{Mesh: redesign.made.Mesh, Features: redesign.made.Features}, o)
	var more []string
	for _, f := range r.Blocking {
		if !slices.Contains(p.fit.Blocking, f) {
			more = append(more, f)
		}
	}
	if len(more) == 0 {
		return "it bolts on no worse than the part as drawn"
	}
	text := "so made it does not bolt on: " + more[0]
	for _, f := range more[1:min(most, len(more))] {
		text += "; " + f
	}
	if len(more) > most {
		text += fmt.Sprintf("; and %d findings more", len(more)-most)
	}
	return text
}

// leastRatio returns the least nominal stiffness ratio of all directions, nil
// where one was refused.
func leastRatio(in inputs) *float64 {
	var out *float64
	for _, d := range in.directions {
		if d.old.refused != "" || d.new.refused != "" {
			return nil
		}
		r := in.nominalRatio(d)
		out = least(out, &r)
	}
	return out
}

func least(a, b *float64) *float64 {
	if a == nil || b != nil && *b < *a {
		return b
	}
	return a
}
