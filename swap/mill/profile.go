package mill

import (
	"bytes"
	"cmp"
	_ "embed"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/pelletier/go-toml/v2"

	"swapworth/internal/files"
	"swapworth/materials"
)

//go:embed benchtop.toml
var benchtop []byte

// Profile is what a mill, its cutters and its owner get done. Its TOML form is
// that of the built-in bench-top profile, which explains every key.
type Profile struct {
	Name    string `toml:"name"`
	Spindle struct {
		MinRPM     float64 `toml:"min_rpm"`
		MaxRPM     float64 `toml:"max_rpm"`
		Power      float64 `toml:"power_w"`
		Efficiency float64 `toml:"efficiency"`
	} `toml:"spindle"`
	Handling struct {
		CAM         float64 `toml:"cam_min"`
		Saw         float64 `toml:"saw_min"`
		SetUp       float64 `toml:"set_up_min"`
		ToolChange  float64 `toml:"tool_change_min"`
		Position    float64 `toml:"position_min"`
		Finish      float64 `toml:"finish_min"`
		Measure     float64 `toml:"measure_min"`
		AirFactor   float64 `toml:"air_factor"`
		FailedShare float64 `toml:"failed_share"`
	} `toml:"handling"`
	Cutter struct {
		Face    Cutter `toml:"face"`
		Rough   Cutter `toml:"rough"`
		Finish  Cutter `toml:"finish"`
		Contour Cutter `toml:"contour"`
		Chamfer Cutter `toml:"chamfer"`
	} `toml:"cutter"`
	Drill struct {
		FeedPerMM   float64 `toml:"feed_per_rev_per_mm"`
		MaxFeed     float64 `toml:"max_feed_per_rev"`
		MaxDiameter float64 `toml:"max_diameter"`
		PeckDepth   float64 `toml:"peck_depth"`
		PeckFactor  float64 `toml:"peck_factor"`
		Countersink float64 `toml:"countersink_min"`
	} `toml:"drill"`
	Material map[string]Cutting `toml:"material"` // by family
	Stock    Stock              `toml:"stock"`
	Limits   Limits             `toml:"limits"`
}

// Cutter is an end mill as it is run in aluminium; lengths in mm.
type Cutter struct {
	Diameter float64 `toml:"diameter"`
	Flutes   float64 `toml:"flutes"`
	Feed     float64 `toml:"feed_per_tooth"`
	AP       float64 `toml:"ap"` // axial depth
	AE       float64 `toml:"ae"` // radial engagement
}

// Cutting says how a family of materials is cut: speeds in m/min, specific
// energy in W s/mm3, factors against aluminium.
type Cutting struct {
	MillSpeed  float64 `toml:"mill_speed"`
	DrillSpeed float64 `toml:"drill_speed"`
	Energy     float64 `toml:"energy"`
	Engagement float64 `toml:"engagement"`
	Feed       float64 `toml:"feed"`
}

// Stock is the raw material at hand: plate thicknesses, and the margin that is
// left around the outline when a blank is sawn off, mm.
type Stock struct {
	Thicknesses []float64 `toml:"thicknesses"` // mm
	Inches      []float64 `toml:"inches"`
	Margin      float64   `toml:"margin"`
}

// Limits say what the mill's cutters reach and what a wall stands; lengths in mm.
type Limits struct {
	EndMills       []EndMill `toml:"end_mills"` // at hand
	Wall           float64   `toml:"wall_metal"`
	PlasticWall    float64   `toml:"wall_plastic"` // laminates and wood too
	Careful        float64   `toml:"careful_wall_metal"`
	CarefulPlastic float64   `toml:"careful_wall_plastic"`
	Rib            float64   `toml:"rib_ratio"`
	Depth          float64   `toml:"depth_ratio"`
	Drill          float64   `toml:"drill_ratio"`
	LongDrill      float64   `toml:"long_drill_ratio"`
	HardChance     float64   `toml:"hard_chance"`
}

// EndMill is a cutter and how deep below its holder it cuts.
type EndMill struct {
	Diameter float64 `toml:"diameter"`
	Reach    float64 `toml:"reach"`
}

// BenchTop returns the built-in profile, common practice for a bench-top mill.
func BenchTop() Profile {
	p, err := parseProfile(benchtop)
	if err != nil {
		panic("built-in mill profile: " + err.Error())
	}
	return p
}

// BenchTopTOML returns the built-in profile as text to copy and edit.
func BenchTopTOML() []byte { return slices.Clone(benchtop) }

// maxFileSize bounds a profile, in bytes: a person writes a page.
const maxFileSize = 1 << 20

// LoadProfile reads a mill profile from a TOML file.
func LoadProfile(path string) (Profile, error) {
	data, err := files.Text(path, maxFileSize)
	if err != nil {
		return Profile{}, fmt.Errorf("mill profile %w", err)
	}
	p, err := parseProfile(data)
	if err != nil {
		return Profile{}, fmt.Errorf("mill profile %s: %w", path, err)
	}
	return p, nil
}

// parseProfile reads a mill profile, strict about keys and values. What a profile
// does not say of CAM, sawing, measuring, limits and inch plate is as built in.
func parseProfile(data []byte) (Profile, error) {
	var p Profile
	if !bytes.Equal(data, benchtop) {
		b := BenchTop()
		p.Handling.CAM, p.Handling.Saw, p.Handling.Measure = b.Handling.CAM, b.Handling.Saw, b.Handling.Measure
		p.Limits, p.Stock.Inches = b.Limits, b.Stock.Inches
	}
	d := toml.NewDecoder(bytes.NewReader(data)).DisallowUnknownFields()
	if err := d.Decode(&p); err != nil {
		return Profile{}, materials.Located(err)
	}
	if err := p.check(); err != nil {
		return Profile{}, err
	}
	slices.Sort(p.Stock.Thicknesses)
	slices.SortFunc(p.Limits.EndMills, func(a, b EndMill) int { return cmp.Compare(a.Diameter, b.Diameter) })
	return p, nil
}

// check refuses missing and senseless values: every number must be above 0.
func (p Profile) check() error {
	type entry struct {
		key   string
		value float64
	}
	list := []entry{
		{"spindle.min_rpm", p.Spindle.MinRPM}, {"spindle.max_rpm", p.Spindle.MaxRPM},
		{"spindle.power_w", p.Spindle.Power}, {"spindle.efficiency", p.Spindle.Efficiency},
		{"handling.set_up_min", p.Handling.SetUp}, {"handling.tool_change_min", p.Handling.ToolChange},
		{"handling.position_min", p.Handling.Position}, {"handling.finish_min", p.Handling.Finish},
		{"handling.air_factor", p.Handling.AirFactor}, {"handling.failed_share", p.Handling.FailedShare},
		{"drill.feed_per_rev_per_mm", p.Drill.FeedPerMM}, {"drill.max_feed_per_rev", p.Drill.MaxFeed},
		{"drill.max_diameter", p.Drill.MaxDiameter}, {"drill.peck_depth", p.Drill.PeckDepth},
		{"drill.peck_factor", p.Drill.PeckFactor}, {"drill.countersink_min", p.Drill.Countersink},
		{"stock.margin", p.Stock.Margin}, {"handling.cam_min", p.Handling.CAM}, {"handling.saw_min", p.Handling.Saw},
		{"handling.measure_min", p.Handling.Measure},
		{"limits.wall_metal", p.Limits.Wall}, {"limits.wall_plastic", p.Limits.PlasticWall},
		{"limits.careful_wall_metal", p.Limits.Careful}, {"limits.careful_wall_plastic", p.Limits.CarefulPlastic},
		{"limits.rib_ratio", p.Limits.Rib}, {"limits.depth_ratio", p.Limits.Depth}, {"limits.drill_ratio", p.Limits.Drill},
		{"limits.long_drill_ratio", p.Limits.LongDrill}, {"limits.hard_chance", p.Limits.HardChance},
	}
	for _, e := range p.Limits.EndMills {
		list = append(list, entry{"limits.end_mills.diameter", e.Diameter}, entry{"limits.end_mills.reach", e.Reach})
	}
	for name, c := range map[string]Cutter{
		"face": p.Cutter.Face, "rough": p.Cutter.Rough, "finish": p.Cutter.Finish,
		"contour": p.Cutter.Contour, "chamfer": p.Cutter.Chamfer,
	} {
		k := "cutter." + name + "."
		list = append(list, entry{k + "diameter", c.Diameter}, entry{k + "flutes", c.Flutes},
			entry{k + "feed_per_tooth", c.Feed}, entry{k + "ap", c.AP}, entry{k + "ae", c.AE})
	}
	for name, c := range p.Material {
		k := "material." + name + "."
		list = append(list, entry{k + "mill_speed", c.MillSpeed}, entry{k + "drill_speed", c.DrillSpeed},
			entry{k + "energy", c.Energy}, entry{k + "engagement", c.Engagement}, entry{k + "feed", c.Feed})
	}
	for _, t := range slices.Concat(p.Stock.Thicknesses, p.Stock.Inches) {
		list = append(list, entry{"stock.thicknesses", t})
	}
	slices.SortFunc(list, func(a, b entry) int { return strings.Compare(a.key, b.key) })
	for _, e := range list {
		if !(e.value > 0) || math.IsInf(e.value, 0) {
			return fmt.Errorf("%s is %g; every value must be given and above 0", e.key, e.value)
		}
	}
	switch {
	case len(p.Stock.Thicknesses) == 0:
		return errors.New("stock.thicknesses is empty; list the plate thicknesses at hand in mm")
	case len(p.Limits.EndMills) == 0:
		return errors.New("limits.end_mills is empty; list the end mills at hand with their diameter and reach in mm")
	case p.Limits.HardChance > 1:
		return errors.New("limits.hard_chance is a share of 1 at most")
	case p.Spindle.Efficiency > 1 || p.Handling.FailedShare > 1:
		return errors.New("spindle.efficiency and handling.failed_share are shares of 1 at most")
	case p.Spindle.MinRPM > p.Spindle.MaxRPM:
		return errors.New("spindle.min_rpm is above spindle.max_rpm")
	}
	return nil
}
