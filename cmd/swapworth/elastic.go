package main

import (
	"errors"

	"github.com/spf13/cobra"

	"swapworth/materials"
	"swapworth/quantity"
)

// elasticFlags name a material, or give its constants by hand.
type elasticFlags struct {
	name    string
	tables  tables
	young   *quantity.Stress
	poisson *float64
	yield   *quantity.Stress
	density *quantity.Density
}

func (e *elasticFlags) register(cmd *cobra.Command) {
	f := cmd.Flags()
	f.StringVar(&e.name, "material", "", "`NAME` of the material, as in `swapworth materials`")
	e.tables.register(cmd)
	textFlag(f, &e.young, "youngs-modulus", "stress", "Young's modulus, instead of the material's (default unit MPa)")
	floatFlag(f, &e.poisson, "poisson", "Poisson's ratio, instead of the material's (default 0.3 without a material)")
	textFlag(f, &e.yield, "yield", "stress", "yield strength, instead of the material's (default unit MPa)")
	textFlag(f, &e.density, "density", "density", "density, instead of the material's (default unit kg/m3)")
}

// matter is a material as the computations take it: its constants, its name if
// it has one, and what to say about it.
type matter struct {
	materials.Elastic
	name     *string
	assumed  []string
	warnings []string
}

func (e *elasticFlags) load() (matter, error) {
	var m matter
	if e.name == "" && e.young == nil {
		return m, usageError{errors.New("no material: give --material NAME, or --youngs-modulus with --poisson")}
	}
	if e.name != "" {
		table, err := e.tables.open()
		if err != nil {
			return m, err
		}
		found, err := table.Find(e.name)
		if err != nil {
			return m, err
		}
		m.Elastic, m.name, m.warnings = found.Elastic(), &found.Name, found.Warnings()
		if grain := found.GrainWarning(); grain != "" {
			m.warnings = append(m.warnings, grain)
		}
	}
	return m, e.override(&m)
}

// override lays the constants given by hand over those of the material.
func (e *elasticFlags) override(m *matter) error {
	if e.young != nil {
		m.YoungsModulus = float64(*e.young)
		if e.name == "" && e.poisson == nil {
			m.Poisson = 0.3
			m.assumed = append(m.assumed, "Poisson's ratio 0.3; --poisson changes it")
		}
	}
	if e.poisson != nil {
		if *e.poisson < 0 || *e.poisson >= 0.5 {
			return usageError{errors.New("--poisson: expected a value from 0 to below 0.5")}
		}
		m.Poisson = *e.poisson
	}
	if e.yield != nil {
		m.Yield = float64(*e.yield)
	}
	if e.density != nil {
		m.Density = float64(*e.density)
	}
	if !(m.YoungsModulus > 0) {
		return errors.New("the material has no Young's modulus: give --youngs-modulus")
	}
	return nil
}
