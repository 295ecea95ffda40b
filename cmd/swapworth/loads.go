package main

import (
	"errors"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
	"swapworth/quantity"
	"swapworth/solid"
)

// loadFlags state loads beside a force along an axis. All of them act together.
type loadFlags struct {
	force        *quantity.ForceVector
	moment       *quantity.MomentVector
	pressure     *quantity.Stress
	acceleration *quantity.AccelerationVector

	turn mesh.Transform // of the file's axes into those of the part as it is judged
}

func (l *loadFlags) register(cmd *cobra.Command) {
	vectorFlags(cmd.Flags(), &l.force, &l.moment, &l.pressure, &l.acceleration)
}

// vectorFlags registers the loads that are no force along an axis.
func vectorFlags(f *pflag.FlagSet, force **quantity.ForceVector, moment **quantity.MomentVector, pressure **quantity.Stress, acceleration **quantity.AccelerationVector) {
	textFlag(f, force, "force", "x,y,z", "force as a vector, in place of --load and --load-along, such as \"10,0,-5 N\" (default unit N)")
	textFlag(f, moment, "moment", "x,y,z", "moment on the loaded places, such as \"0,0,2 N m\"; acts with the other loads (default unit N mm)")
	textFlag(f, pressure, "pressure", "stress", "pressure against the places of --load-at, such as 0.2MPa; acts with the other loads (default unit MPa)")
	textFlag(f, acceleration, "acceleration", "x,y,z",
		"acceleration of the part itself, such as \"20,0,0 m/s2\"; the attached mass rides along (default unit m/s2)")
}

// any reports whether one of the flags was given.
func (l *loadFlags) any() bool {
	return l.force != nil || l.moment != nil || l.pressure != nil || l.acceleration != nil
}

// check refuses loads that do not go together.
func (l *loadFlags) check(axisLoad, placed bool) error {
	switch {
	case l.force != nil && axisLoad:
		return usageError{errors.New("--force and --load or --load-along exclude each other; --force names axis and size at once")}
	case l.pressure != nil && !placed:
		return usageError{errors.New("--pressure acts on the places of --load-at: name a face, a bore or a rim")}
	}
	return nil
}

// name says what acts: the one load, or all.
func (l *loadFlags) name() string {
	var all []string
	for _, one := range []struct {
		given bool
		name  string
	}{{l.force != nil, "force"}, {l.moment != nil, "moment"}, {l.pressure != nil, "pressure"}, {l.acceleration != nil, "acceleration"}} {
		if one.given {
			all = append(all, one.name)
		}
	}
	return strings.Join(all, " + ")
}

// on returns the load case of the flags on top of a force, N. A mass, g, rides on
// the first place where the part is accelerated.
func (l *loadFlags) on(c solid.Case, places []solid.Place, force r3.Vec, riding float64) solid.Case {
	loads := solid.Loads{Force: force}
	if l.force != nil {
		loads.Force = r3.Add(force, l.turn.Turn(r3.Vec(*l.force)))
	}
	if l.moment != nil {
		loads.Moment = l.turn.Turn(r3.Vec(*l.moment))
	}
	if l.pressure != nil {
		loads.Pressure = float64(*l.pressure)
	}
	if l.acceleration != nil {
		loads.Acceleration = l.turn.Turn(r3.Vec(*l.acceleration))
	}
	if riding > 0 {
		loads.Masses = []solid.Mass{{Place: places[0], Grams: riding}}
	}
	out := loads.At(c.Name, places)
	out.Supports = c.Supports
	return out
}
