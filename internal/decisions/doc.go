// Package decisions holds the program against decisions that were worked by hand: its
// tests read them from testdata/decisions.
package decisions
