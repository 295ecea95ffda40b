package main

import (
	"fmt"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"swapworth/swap"
	"swapworth/swap/casefile"
)

// noMachine is the flag that leaves the machine file unread.
const noMachine = "no-machine"

func registerNoMachine(f *pflag.FlagSet) {
	f.Bool(noMachine, false, "leave out what swapworth machine keeps")
}

// recall reads the machine that the person keeps, nothing where there is none.
func recall(cmd *cobra.Command) (casefile.Kept, string, error) {
	path, err := casefile.KeptFile()
	if err != nil { // there is no configuration folder, so nothing is kept
		return casefile.Kept{}, "", nil
	}
	if f := cmd.Flags().Lookup(noMachine); f == nil || f.Value.String() == "true" {
		return casefile.Kept{}, path, nil
	}
	kept, err := casefile.ReadKept(path)
	return kept, path, err
}

// remembered says what of a machine file a run used, nil where that is nothing.
func remembered(path string, used casefile.Kept) *swap.Remembered {
	if fields := used.Fields(); len(fields) > 0 {
		return &swap.Remembered{File: path, Fields: fields}
	}
	return nil
}

// untyped sets a flag that nobody typed to a kept value, and returns the value where it
// was taken.
func untyped[T fmt.Stringer](cmd *cobra.Command, name string, kept *T) (taken *T, err error) {
	f := cmd.Flags().Lookup(name)
	if kept == nil || f == nil || f.Changed {
		return nil, nil
	}
	if err := f.Value.Set((*kept).String()); err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	return kept, nil
}

// recallFlags gives the flags that nobody typed what the machine file says of them, and
// returns what that was. Commands with a case lay the machine below it instead.
func recallFlags(cmd *cobra.Command) (*swap.Remembered, error) {
	if cmd.Flags().Lookup("case") != nil {
		return nil, nil
	}
	kept, path, err := recall(cmd)
	if err != nil {
		return nil, err
	}
	var used casefile.Kept
	if used.Units, err = untyped(cmd, "units", kept.Units); err == nil {
		used.Unit, err = untyped(cmd, "unit", kept.Unit)
	}
	if err != nil {
		return nil, fmt.Errorf("machine file %s: %w", path, err)
	}
	if tables := cmd.Flags().Lookup("materials"); tables != nil && len(kept.Materials) > 0 {
		if list, ok := tables.Value.(pflag.SliceValue); ok {
			if err := list.Replace(append(kept.Materials, list.GetSlice()...)); err != nil {
				return nil, err
			}
			used.Materials = kept.Materials
		}
	}
	return remembered(path, used), nil
}
