package beam

import "swapworth/mesh"

// solveTorsion is replaced by Torsion once that lands.
func solveTorsion(r mesh.Region, _ float64) (TorsionResult, error) {
	s, err := SectionOf(r)
	if err != nil {
		return TorsionResult{}, err
	}
	a2 := s.Area * s.Area
	return TorsionResult{J: a2 * a2 / (40 * (s.Ixx + s.Iyy)), ShearCentre: s.Centroid}, nil
}
