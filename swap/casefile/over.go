package casefile

import (
	"reflect"
	"slices"
)

// Over returns the case with every field that over gives in place of f's. Of two
// fields that say the same in different ways, such as a pulley and the travel of a
// turn, the one that over gives leaves no room for f's.
func (f File) Over(over File) File {
	f = f.clone()
	f.yield(over)
	lay(reflect.ValueOf(&f).Elem(), reflect.ValueOf(over))
	return f
}

// yield takes back what over says in another way.
func (f *File) yield(over File) {
	if over.Old.Section != nil {
		f.Old.Mesh = nil
	}
	if over.Old.Mesh != nil {
		f.Old.Section, f.Old.Length = nil, nil
	}
	if m := over.Machine; m.TravelPerTurn != nil || m.Pulley != nil {
		f.Machine.TravelPerTurn, f.Machine.Pulley = nil, nil
	}
	if over.Machine.Pivot != nil { // an arm swings, whatever the axis was
		f.Machine.MovingMass, f.Machine.DriveInertia = nil, nil
		f.Machine.TravelPerTurn, f.Machine.Pulley, f.Machine.DriveLimited = nil, nil, nil
	}
	if over.Load.ForceVector != nil {
		f.Load.Force, f.Load.Along = nil, nil
	}
	if over.Load.Force != nil || len(over.Load.Along) > 0 {
		f.Load.ForceVector = nil
	}
	if len(over.Load.Fix) > 0 {
		f.Load.Support = nil
	}
	if over.Load.Support != nil {
		f.Load.Fix = nil
	}
	if c := over.Cost; c.Attempts != nil || c.SuccessChance != nil {
		f.Cost.Attempts, f.Cost.SuccessChance = nil, nil
	}
}

// lay copies the given leaves of src (non-nil pointers and slices) onto dst.
func lay(dst, src reflect.Value) {
	for i := range src.NumField() {
		field := src.Field(i)
		if field.Kind() == reflect.Struct {
			lay(dst.Field(i), field)
		} else if !field.IsNil() {
			dst.Field(i).Set(field)
		}
	}
}

// clone returns a case whose paths may be changed without changing those of f.
func (f File) clone() File {
	f.Materials = slices.Clone(f.Materials)
	f.Pairs = slices.Clone(f.Pairs)
	for i := range f.Pairs {
		f.Pairs[i].File = f.Pairs[i].clone()
	}
	for _, p := range f.paths() {
		if *p != nil {
			text := **p
			*p = &text
		}
	}
	return f
}

// paths are the fields that each name a file.
func (f *File) paths() []**string {
	return []**string{&f.Old.Mesh, &f.New.Mesh, &f.Cost.MillProfile, &f.Accept}
}

// each changes every path of the case.
func (f *File) each(change func(string) string) {
	for _, p := range f.paths() {
		if *p != nil {
			**p = change(**p)
		}
	}
	for i, p := range f.Materials {
		f.Materials[i] = change(p)
	}
	for i := range f.Pairs {
		f.Pairs[i].each(change)
	}
}
