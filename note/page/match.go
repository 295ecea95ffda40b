package page

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"net/http"
	"runtime/debug"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh/feature"
	"swapworth/swap/fit"
)

// matchedFaces is how many flat faces of the stock part are looked for on the
// redesign, the largest first.
const matchedFaces = 60

// partner is the place of the redesign that takes that of the stock part.
type partner struct {
	Index int    `json:"index"`         // of the redesign's places, -1 for none
	Why   string `json:"why,omitempty"` // there is none
}

// match tells for every place of the stock part which of the redesign's takes it,
// as the comparison will find it.
func (s *server) match(w http.ResponseWriter, r *http.Request) {
	s.send(w, r, "application/json", func(u upload) ([]byte, error) {
		found, err := s.partners(r.Context(), u)
		if err != nil {
			return nil, err
		}
		return json.Marshal(found)
	})
}

func (s *server) partners(ctx context.Context, u upload) (found []partner, err error) {
	defer func() {
		if fault := recover(); fault != nil {
			s.Log.Printf("match: a fault of this program: %v\n%s", fault, debug.Stack())
			err = errors.New("the places of the two parts cannot be matched")
		}
	}()
	old, redesign := u.of("old"), u.of("new")
	if len(old) != 1 || len(redesign) != 1 {
		return nil, errors.New("expected the files of two parts")
	}
	var parts [2]fit.Part
	for i, f := range []sentFile{old[0], redesign[0]} {
		loaded, _, err := s.Load(ctx, f.path, i == 1, flags(u.values, false))
		if err != nil {
			return nil, u.inOwnWords(err)
		}
		if !loaded.Report.Closed {
			return nil, fmt.Errorf("%s is not closed", f.name)
		}
		parts[i] = fit.Part{Mesh: loaded.Mesh, Features: feature.Find(loaded.Mesh)}
	}
	r := fit.CompareFeatures(parts[0], parts[1], fit.Options{SameFrame: u.values["same-frame"] == "true"})
	return partnersOf(r, parts[0], parts[1]), nil
}

// partnersOf lists partners in the order of placesOf: holes, outer round walls, flat
// faces.
func partnersOf(r fit.Result, stock, other fit.Part) (out []partner) {
	old, redesign := stock.Features, other.Features
	add := func(index int, err error) {
		if err != nil {
			out = append(out, partner{Index: -1, Why: err.Error()})
			return
		}
		out = append(out, partner{Index: index})
	}
	back := r.Motion().Inverse()
	for _, h := range old.Holes {
		own, ok := r.Hole(h.Number)
		if !ok {
			add(0, fmt.Errorf("hole %d has no match in the redesign", h.Number))
			continue
		}
		add(own-1, nil)
	}
	rims := redesign.Rims()
	for _, rim := range old.Rims() {
		there, err := r.Round(rim)
		index := nearestRim(rims, back.Apply(there.Centre), there.Radius)
		if err == nil && index < 0 {
			err = errors.New("its match on the redesign does not go fully round")
		}
		add(len(redesign.Holes)+index, err)
	}
	for _, f := range old.Faces[:min(matchedFaces, len(old.Faces))] {
		at, look, err := r.Face(insideOf(stock.Mesh, f), f.Normal)
		index := faceThrough(redesign.Faces, back.Apply(at), back.Turn(look))
		if err == nil && index < 0 {
			err = errors.New("its match on the redesign is no flat face")
		}
		add(len(redesign.Holes)+len(rims)+index, err)
	}
	return out
}

// nearestRim is the outer round wall whose middle is within a radius of a point.
func nearestRim(rims []feature.Round, at r3.Vec, radius float64) int {
	best, far := -1, radius
	for i, r := range rims {
		if d := r3.Norm(r3.Sub(r.Centre, at)); d <= far {
			best, far = i, d
		}
	}
	return best
}

// sameSide is the cosine of the 5 degrees by which the looks of two faces may differ
// to count as the same, as where faces are named.
const sameSide = 0.996

// faceThrough is the flat face that lies nearest to a point and looks that way.
func faceThrough(faces []feature.Face, at, look r3.Vec) int {
	best, least := -1, math.Inf(1)
	for i, f := range faces[:min(mostFaces, len(faces))] {
		if r3.Dot(f.Normal, look) < sameSide {
			continue
		}
		beside := r3.Sub(at, clampedTo(f, at)) // of its box; in its plane this is the distance along it
		if d := math.Abs(r3.Dot(f.Normal, r3.Sub(at, f.Centroid))) + r3.Norm(beside); d < least {
			best, least = i, d
		}
	}
	return best
}

// clampedTo is the point of a face's box that is nearest to another.
func clampedTo(f feature.Face, p r3.Vec) r3.Vec {
	return r3.Vec{
		X: min(max(p.X, f.Box.Min.X), f.Box.Max.X),
		Y: min(max(p.Y, f.Box.Min.Y), f.Box.Max.Y),
		Z: min(max(p.Z, f.Box.Min.Z), f.Box.Max.Z),
	}
}
