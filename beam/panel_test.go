package beam

import (
	"testing"

	"pgregory.net/rapid"

	"swapworth/internal/property"
	"swapworth/materials"
)

var (
	aluminium = materials.Elastic{YoungsModulus: 70000, Poisson: 0.33, Density: 2700}
	steelBar  = materials.Elastic{YoungsModulus: 210000, Poisson: 0.3, Density: 7850}
)

// Aluminium for steel at equal E t^3: 3^(1/3) = 1.442 times as thick, and
// 1.442 x 2700/7850 = 0.496 of the mass.
func TestAluminiumMatchesSteelAtHalfTheMass(t *testing.T) {
	m, err := MatchStiffness(Panel{steelBar, 4}, aluminium)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "thickness", m.Thickness, 4*1.44225, 1e-5)
	near(t, "mass", m.MassRatio, 0.49606, 1e-4)
}

func TestAMatchedPanelIsAsStiff(t *testing.T) {
	property.Check(t, func(t *rapid.T) {
		draw := func(name string) materials.Elastic {
			return materials.Elastic{
				YoungsModulus: rapid.Float64Range(1000, 400000).Draw(t, name+" E"),
				Density:       rapid.Float64Range(400, 20000).Draw(t, name+" density"),
			}
		}
		old := Panel{draw("old"), rapid.Float64Range(0.1, 50).Draw(t, "thickness")}
		with := draw("new")
		m, err := MatchStiffness(old, with)
		if err != nil {
			t.Fatal(err)
		}
		matched := Panel{with, m.Thickness}
		near(t, "E t^3", matched.stiffnessRatio(old), 1, 1e-9)
		near(t, "mass", matched.massPerArea()/old.massPerArea(), m.MassRatio, 1e-9)
		// the panel index ranks as the matched mass does
		a, b := indicesOf(old.Material).Panel, indicesOf(with).Panel
		near(t, "index", a/b, m.MassRatio, 1e-9)
	})
}

// M. F. Ashby, Materials Selection in Mechanical Design: light stiff panels rank
// aluminium above steel, ties of both are alike.
func TestIndicesRankAluminiumAboveSteelForPanelsOnly(t *testing.T) {
	al, st := indicesOf(aluminium), indicesOf(steelBar)
	near(t, "tie", al.Tie/st.Tie, 1, 0.05)
	if al.Beam < 1.5*st.Beam || al.Panel < 1.9*st.Panel {
		t.Errorf("aluminium %+v, steel %+v", al, st)
	}
}

// D = E t^3/(12(1-v^2)): 1 mm of steel has 19 230 N mm.
func TestPlateRigidity(t *testing.T) {
	near(t, "D", Panel{steelBar, 1}.rigidity(), 19230.8, 1e-5)
}

func TestUnknownMaterialMatchesNothing(t *testing.T) {
	if _, err := MatchStiffness(Panel{materials.Elastic{YoungsModulus: 1}, 1}, aluminium); err == nil {
		t.Error("a material without density was matched")
	}
}
