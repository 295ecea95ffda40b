package casefile

import _ "embed"

// Template is a commented case file with every key in it.
//
//go:embed template.toml
var Template string
