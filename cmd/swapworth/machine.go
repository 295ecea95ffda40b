package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"swapworth/internal/files"
	"swapworth/swap/casefile"
	"swapworth/swap/mill"
)

// newMachine builds the command that keeps what stays the same from part to part.
func newMachine() *cobra.Command {
	var over casefile.Kept
	var remove bool
	cmd := &cobra.Command{
		Use:   "machine [NAME ...]",
		Short: "Keep what stays the same from part to part",
		Long: "machine keeps what belongs to your machine and your shop and not to one part:\n" +
			"moving mass, drive, mill, what an hour is worth, units, your own materials.\n" +
			"Flags change it, and without any it is shown. Every command takes from it what\n" +
			"neither a case file nor a flag says, and its note names what it took;\n" +
			"--no-machine leaves it out. --remove forgets the fields that are named, or all.\n\n" +
			"It is kept in\n  " + keptFile(),
		Example: "  swapworth machine --moving-mass 1.2kg --pulley 20x2mm --hourly-value 25\n" +
			"  swapworth machine\n" +
			"  swapworth machine --remove pulley drive-inertia",
		RunE: func(cmd *cobra.Command, args []string) error {
			path, err := casefile.KeptFile()
			if err != nil {
				return fmt.Errorf("no configuration folder to keep the machine in: %w", err)
			}
			edits := len(over.Fields()) > 0
			switch {
			case remove && edits:
				return usageError{errors.New("--remove goes with no other flag: remove first, then set")}
			case remove && len(args) == 0:
				return forget(cmd, path)
			case !remove && len(args) > 0:
				return usageError{fmt.Errorf("%q: expected flags such as --moving-mass 1.2kg, or --remove and names", args[0])}
			}
			kept, err := casefile.ReadKept(path)
			if err != nil {
				return err
			}
			if !remove && !edits {
				return showKept(cmd, path, kept)
			}
			if err := fromAnywhere(&over); err != nil {
				return err
			}
			if kept, err = kept.Over(over).Without(args...); err != nil {
				return usageError{err}
			}
			if err := kept.Check(); err != nil {
				return err
			}
			if err := kept.Write(path); err != nil {
				return err
			}
			return showKept(cmd, path, kept)
		},
	}
	cmd.ValidArgsFunction = words(casefile.KeptNames()...) // of --remove
	f := cmd.Flags()
	textFlag(f, &over.MovingMass, "moving-mass", "mass", "mass of everything that moves, stock parts included (default unit g)")
	textFlag(f, &over.DriveInertia, "drive-inertia", "inertia", "moment of inertia of what the motor of a linear axis turns, its rotor first, such as \"68 g cm2\" (default unit kg mm2)")
	textFlag(f, &over.TravelPerTurn, "travel-per-turn", "length", "how far one turn of the motor moves the axis (default unit mm)")
	textFlag(f, &over.Pulley, "pulley", "teeth x pitch", "the same by the pulley on the motor and the pitch of its belt, such as 20x2mm")
	textFlag(f, &over.DriveLimited, "drive-limited", "force|speed|unknown", "what the drive cannot go beyond: its force, or the speed and acceleration that its controller sets")
	wordFlag(f, &over.MillProfile, "mill-profile", "file", "profile of your mill, TOML (swapworth init --mill writes one)")
	textFlag(f, &over.HourlyValue, "hourly-value", "number", "what an hour of yours is worth, in your currency")
	wordFlag(f, &over.Currency, "currency", "name", "what your prices are called, such as EUR; nothing is converted")
	textFlag(f, &over.Unit, "unit", "unit", "unit of the coordinates in your STL files: mm, cm, m or in")
	textFlag(f, &over.Units, "units", "units", "units that answers are written in: metric or imperial")
	f.StringArrayVar(&over.Materials, "materials", nil, "tables of your own materials, TOML `FILE`s")
	f.BoolVar(&remove, "remove", false, "forget the fields named after it, or everything")
	return cmd
}

func keptFile() string {
	path, err := casefile.KeptFile()
	if err != nil {
		return "machine.toml in the swapworth folder of your configuration folder"
	}
	return path
}

// forget removes the machine file.
func forget(cmd *cobra.Command, path string) error {
	switch err := os.Remove(path); {
	case errors.Is(err, os.ErrNotExist):
		fmt.Fprintln(cmd.OutOrStdout(), "nothing is kept")
	case err != nil:
		return fmt.Errorf("machine file %w", err)
	default:
		fmt.Fprintf(cmd.OutOrStdout(), "removed %s\n", files.Show(path))
	}
	return nil
}

func showKept(cmd *cobra.Command, path string, kept casefile.Kept) error {
	w := cmd.OutOrStdout()
	fields := kept.Fields()
	if len(fields) == 0 {
		fmt.Fprintf(w, "nothing is kept in %s\nkeep it with flags, such as: swapworth machine --moving-mass 1.2kg --hourly-value 25\n", files.Show(path))
		return nil
	}
	fmt.Fprintf(w, "%s keeps\n", files.Show(path))
	for _, f := range fields {
		fmt.Fprintf(w, "  %s\n", f)
	}
	return nil
}

// fromAnywhere lets files be found from wherever the program is run, and reads them.
func fromAnywhere(k *casefile.Kept) (err error) {
	if k.MillProfile != nil {
		if *k.MillProfile, err = filepath.Abs(*k.MillProfile); err != nil {
			return err
		}
		if _, err = mill.LoadProfile(*k.MillProfile); err != nil {
			return err
		}
	}
	for i, p := range k.Materials {
		if k.Materials[i], err = filepath.Abs(p); err != nil {
			return err
		}
	}
	return nil
}
