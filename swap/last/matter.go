package last

import (
	"fmt"
	"math"
	"strings"
	"unicode"

	"swapworth/materials"
	"swapworth/quantity"
)

func number(v float64) string { return quantity.Short(v, 2) }

func chips(p Part, _ materials.Material) *Finding {
	if !p.Milled || !p.Material.Has(materials.ChipsBurn) {
		return nil
	}
	return &Finding{
		Kind: ChipsBurn, Says: p.Material.Name + ": fine chips and dust burn, and water makes it worse",
		Why:    "magnesium and titanium take the oxygen out of water and set hydrogen free (DOE-HDBK-1081-94)",
		Change: "sharp cutters and thick chips, cleared away dry and often; dry sand or a class D extinguisher at hand, no water and no coolant with water",
	}
}

func dust(p Part, _ materials.Material) *Finding {
	if !p.Milled || !p.Material.Has(materials.DustHarms) {
		return nil
	}
	f := &Finding{
		Kind: Dust, Says: p.Material.Name + ": its dust harms lungs",
		Why:    "fibres and fine wood dust stay in the lung (common practice: extraction at the cutter)",
		Change: "extract at the cutter, wear a mask of class FFP3 or P100, wipe up wet",
	}
	if p.Material.Has(materials.DustConducts) {
		f.Says += ", and conducts"
		f.Change += "; keep it out of motors and electronics"
	}
	return f
}

func brittle(p Part, _ materials.Material) *Finding {
	if !p.Material.Has(materials.Brittle) {
		return nil
	}
	return &Finding{
		Kind: Brittle, Says: p.Material.Name + " breaks without yielding: it cracks at corners and under bolts",
		Why:    "no plastic flow evens out a peak of stress; one overload or one blow is enough",
		Change: "round every inside corner, give bolts flat seats and washers, tighten gently, and ask for a higher safety factor",
	}
}

func creep(p Part, _ materials.Material) *Finding {
	if !p.Bolted || !p.Material.Has(materials.Creeps) {
		return nil
	}
	return &Finding{
		Kind: Creep, Says: p.Material.Name + " creeps under bolt heads: the joint works loose",
		Why:    "under steady pressure it goes on giving way at room temperature, and the bolt loses its tension",
		Change: "metal sleeves in the bolt holes, or large washers and springs under the heads; tighten again after a day",
	}
}

// hotMotor is how warm the case of a stepping motor may get, degrees Celsius: the usual
// limit of its insulation class B less what lies between winding and case (common
// practice).
const hotMotor = 80.0

func heat(p Part, _ materials.Material) *Finding {
	s := p.Material.Softens
	if s.Value == 0 {
		return nil
	}
	f := &Finding{
		Kind: Heat, Says: fmt.Sprintf("%s softens at %s degrees C", p.Material.Name, number(s.Value)),
		Why:   "deflection under load at 1.8 MPa: " + s.Source,
		Value: &s.Value, Unit: "degrees C",
		Change: "stay 20 degrees below it under load",
	}
	if s.Value < hotMotor+20 {
		f.Says += ": too close to what a motor gets"
		f.Change = "keep it away from motors, drives and sun, or take a material that stands more"
	}
	return f
}

// noticed is how little two parts may differ in growth to be told, mm at 40 K: half of
// the usual play of a dowel in an H7 hole (ISO 286, from memory).
const noticed = 0.005

func expansion(p Part, base materials.Material) *Finding {
	own, other := p.Material.Expansion, base.Expansion
	if own.Source == "" || other.Source == "" || p.Length == 0 {
		return nil
	}
	apart := grown(own.Value-other.Value, p.Length, 40)
	if math.Abs(apart) < noticed {
		return nil
	}
	v := math.Abs(apart)
	return &Finding{
		Kind: Expansion,
		Says: fmt.Sprintf("%s on %s moves by %s mm at 10 K, %s mm at 40 K, over %s mm %s", p.Material.Name, plainly(base.Family),
			number(v/4), number(v), quantity.Short(p.Length, 3), p.Over),
		Why: fmt.Sprintf("it grows by %s millionths a kelvin (%s), %s by %s (%s)", quantity.Short(own.Value, 3), own.Source,
			base.Name, quantity.Short(other.Value, 3), other.Source),
		Value: &v, Unit: "mm at 40 K",
		Change: "one fixed point and slots or clearance holes beyond it; no two dowels far apart",
	}
}

// plainly is a family's name as people say it: "structural steel" is steel.
func plainly(family string) string { return family[strings.LastIndex(family, " ")+1:] }

// grown returns how much longer a length in mm gets, in mm, for a coefficient in
// um/(m K) over kelvin.
func grown(coefficient, length, kelvin float64) float64 {
	return coefficient * 1e-6 * length * kelvin
}

// swells is how little growth in humid air is told, percent of a length: a tenth of
// a mm on 100 mm.
const swells = 0.1

func moisture(p Part, _ materials.Material) *Finding {
	m := p.Material.Moisture
	if m.Value < swells || p.Length == 0 {
		return nil
	}
	v := m.Value / 100 * p.Length
	across := ""
	if p.Material.Kind == materials.Wood {
		across = " across the grain"
	}
	return &Finding{
		Kind: Moisture, Says: fmt.Sprintf("%s grows by %s %% from dry to humid air%s: %s mm on %s mm", p.Material.Name,
			number(m.Value), across, number(v), quantity.Short(p.Length, 3)),
		Why: m.Source, Value: &v, Unit: "mm",
		Change: "slots, no press fits; seal it, or cut it where it is as humid as where it works",
	}
}

func grain(p Part, _ materials.Material) *Finding {
	m := p.Material
	switch {
	case m.Directional != nil:
		return &Finding{
			Kind: Grain, Says: fmt.Sprintf("%s: in twist %s to %s %% of what is computed, and %s to %s MPa across", m.Name,
				number(100*m.Twist().Low), number(100*m.Twist().High), number(m.Directional.ThroughStrength.Low), number(m.Directional.ThroughStrength.High)),
			Why:    "stiffness and stress are computed as of a material that is the same all ways: " + m.Directional.Source,
			Change: "lay fibres or grain along the load, put washers and sleeves where bolts press, and test a part in twist",
		}
	case m.Has(materials.Layered):
		return &Finding{
			Kind: Grain, Says: m.Name + " is a third to a half weaker across its layers",
			Why:    "a print fails between the layers first: " + m.Strength.Source,
			Change: "print it so that the load runs along the layers",
		}
	}
	return nil
}

func wear(p Part, _ materials.Material) *Finding {
	if len(p.Bores) == 0 || !p.Material.Has(materials.SoftBores) {
		return nil
	}
	var sizes []string
	for _, d := range p.Bores {
		if s := quantity.Short(d, 3); len(sizes) == 0 || sizes[len(sizes)-1] != s {
			sizes = append(sizes, s)
		}
	}
	d := p.Bores[len(p.Bores)-1]
	return &Finding{
		Kind: Wear, Says: fmt.Sprintf("%s: pins, dowels and bearings wear bores of %s mm", p.Material.Name, strings.Join(sizes, ", ")),
		Why:   "the softer side of a joint that moves wears (common practice: a bush of steel or bronze)",
		Value: &d, Unit: "mm",
		Change: "press in a bush where something turns, an insert where something is taken out often",
	}
}

// begun is a sentence as it goes on after a colon: its first letter small, unless it
// begins an abbreviation.
func begun(sentence string) string {
	first := []rune(sentence)
	if len(first) > 1 && unicode.IsLower(first[1]) || len(first) > 1 && first[1] == ' ' {
		first[0] = unicode.ToLower(first[0])
	}
	return string(first)
}

func other(p Part, _ materials.Material) *Finding {
	if p.Material.Note == "" {
		return nil
	}
	return &Finding{
		Kind: Other, Says: p.Material.Name + ": " + strings.TrimSuffix(begun(p.Material.Note), "."),
		Why: "the table of materials",
	}
}
