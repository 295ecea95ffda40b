package main

import (
	"crypto/sha256"
	"fmt"
	"os"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"swapworth/note/render"
)

// version is printed in every design note.
const version = "0.1.0"

// typedCommand is the annotation of the root command that holds the command
// line as it was typed, quoted for a shell.
const typedCommand = "typed"

// origin says how a note was made.
func origin(cmd *cobra.Command) render.Origin {
	o := render.Origin{Version: version, Command: "swapworth " + cmd.Root().Annotations[typedCommand]}
	for _, name := range []string{"case", "materials", "mill-profile"} {
		for _, path := range flagWords(cmd, name) {
			if data, err := os.ReadFile(path); err == nil { // else the answer came without it
				o.Files = append(o.Files, fmt.Sprintf("%s, SHA-256 %x", path, sha256.Sum256(data)))
			}
		}
	}
	return o
}

// flagWords returns the words that a flag was given, none where it was not.
func flagWords(cmd *cobra.Command, name string) []string {
	f := cmd.Flags().Lookup(name)
	if f == nil || !f.Changed {
		return nil
	}
	if several, ok := f.Value.(pflag.SliceValue); ok {
		return several.GetSlice()
	}
	return []string{f.Value.String()}
}
