package main

import (
	"crypto/sha256"
	"fmt"
	"io"
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

// origin says how a note was made. The files that it names are read again for their
// hashes: a note outlives the folder that it was made in.
func origin(cmd *cobra.Command) render.Origin {
	o := render.Origin{Version: version, Command: "swapworth " + cmd.Root().Annotations[typedCommand]}
	if cmd.Flags().Lookup("case") == nil { // the inputs of a comparison list its meshes
		for _, path := range cmd.Flags().Args() {
			if sum, err := hashOf(path); err == nil { // else it is no file, such as a section
				o.Files = append(o.Files, fmt.Sprintf("%s, SHA-256 %x", path, sum))
			}
		}
	}
	for _, name := range []string{"case", "materials", "mill-profile"} {
		for _, path := range flagWords(cmd, name) {
			if sum, err := hashOf(path); err == nil { // else the answer came without it
				o.Files = append(o.Files, fmt.Sprintf("%s, SHA-256 %x", path, sum))
			}
		}
	}
	return o
}

// hashOf is the SHA-256 of a file as stored.
func hashOf(path string) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	h := sha256.New()
	_, err = io.Copy(h, f)
	return h.Sum(nil), err
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
