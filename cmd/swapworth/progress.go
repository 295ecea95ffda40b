package main

import (
	"os"
	"time"

	"github.com/schollz/progressbar/v3"
	"github.com/spf13/cobra"
	"golang.org/x/term"
)

// progress shows how far long work has come, on stderr, once it has taken a
// second and only where a person can see it.
type progress struct{ bar *progressbar.ProgressBar }

const progressSteps = 1000

func newProgress(cmd *cobra.Command, what string) *progress {
	err, isFile := cmd.ErrOrStderr().(*os.File)
	seen := isFile && term.IsTerminal(int(err.Fd()))
	return &progress{progressbar.NewOptions(progressSteps,
		progressbar.OptionSetWriter(cmd.ErrOrStderr()),
		progressbar.OptionSetVisibility(seen),
		progressbar.OptionSetDescription(what),
		progressbar.OptionSetPredictTime(true),
		progressbar.OptionThrottle(200*time.Millisecond),
		progressbar.OptionClearOnFinish(),
	)}
}

// set shows a share from 0 to 1. It may be called from several goroutines.
func (p *progress) set(share float64) { _ = p.bar.Set(int(share * progressSteps)) }

// done clears the line.
func (p *progress) done() { _ = p.bar.Finish() }
