package main

import (
	"regexp"
	"strings"

	"github.com/spf13/cobra"

	"swapworth/note"
	"swapworth/swap"
)

// version is printed in every design note.
const version = "0.1.0"

// typedCommand is the annotation of the root command that holds the command
// line as it was typed, quoted for a shell.
const typedCommand = "typed"

// about says how a note was made.
func about(cmd *cobra.Command, question swap.Case) note.About {
	return note.About{
		Version: version,
		Command: strings.TrimSpace("swapworth " + cmd.Root().Annotations[typedCommand]),
		Case:    question,
	}
}

// plainWord matches what a POSIX shell takes as it is.
var plainWord = regexp.MustCompile(`^[A-Za-z0-9_@%+=:,./-]+$`)

// quoted joins words so that a POSIX shell splits them again as they were.
func quoted(words []string) string {
	out := make([]string, len(words))
	for i, w := range words {
		out[i] = w
		if !plainWord.MatchString(w) {
			out[i] = "'" + strings.ReplaceAll(w, "'", `'\''`) + "'"
		}
	}
	return strings.Join(out, " ")
}
