package last

import (
	"fmt"
	"math"

	"swapworth/materials"
)

// The anodic index of what a part is bolted with, V below gold (MIL-STD-889 as reprinted
// in machine design texts, from memory).
const (
	steelBolt     = 0.85
	stainlessBolt = 0.50
	aluminiumSide = 0.90
)

// apartAllowed is by how much two metals may lie apart in the series where it is neither
// wet nor salty, V (the rule that goes with the index: 0.15 outdoors, 0.25 indoors and
// 0.5 where the air is dried: eicac.co.uk/anodic-index).
const apartAllowed = 0.25

// galvanic looks at the part beside its bolts and beside aluminium. Bare steel rusts
// by itself, and is left out.
func galvanic(p Part, base materials.Material) *Finding {
	own := p.Material.AnodicIndex
	if own.Source == "" || !p.Bolted || own.Value == steelBolt {
		return nil
	}
	says, v := "", 0.0
	switch {
	case own.Value-steelBolt >= apartAllowed:
		v = own.Value - steelBolt
		says = fmt.Sprintf("%s corrodes beside steel bolts (%s V apart)", p.Material.Name, number(v))
	case own.Value-stainlessBolt >= apartAllowed:
		v = own.Value - stainlessBolt
		says = fmt.Sprintf("%s corrodes beside stainless steel bolts (%s V apart) where it gets wet", p.Material.Name, number(v))
	case aluminiumSide-own.Value >= 2*apartAllowed && p.Material.Kind != materials.Metal:
		v = aluminiumSide - own.Value
		says = fmt.Sprintf("%s corrodes aluminium and zinc that touch it (%s V apart)", p.Material.Name, number(v))
	case base.AnodicIndex.Source != "" && base.AnodicIndex.Value-own.Value >= apartAllowed:
		v = math.Abs(base.AnodicIndex.Value - own.Value)
		says = fmt.Sprintf("%s corrodes %s that it touches (%s V apart) where it gets wet", p.Material.Name, base.Family, number(v))
	default:
		return nil
	}
	return &Finding{
		Kind: Galvanic, Says: says, Value: &v, Unit: "V",
		Why:    "the less noble of two metals that touch is eaten where water joins them: " + own.Source,
		Change: "keep it dry, or part them: anodise or paint, nylon washers, a film of glass under carbon; zinc-plated bolts in aluminium",
	}
}
