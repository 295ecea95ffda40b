package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// Every figure that the README claims is one of docs/evidence.md, which a command
// writes, or of the code.
func TestTheReadmeClaimsWhatIsMeasured(t *testing.T) {
	read := func(name string) string {
		data, err := os.ReadFile(filepath.Join("..", "..", name))
		if err != nil {
			t.Fatal(err)
		}
		return strings.Join(strings.Fields(string(data)), " ")
	}
	readme, evidence := read("README.md"), read(filepath.Join("docs", "evidence.md"))
	all := regexp.MustCompile(`[0-9]+ of [0-9]+ inside, median [0-9.]+ %, worst [0-9.]+ %`).FindAllString(evidence, -1)
	if len(all) == 0 {
		t.Fatal("docs/evidence.md sums nothing up")
	}
	if last := all[len(all)-1]; !strings.Contains(readme, last) {
		t.Errorf("the evidence says %q, the README does not", last)
	}
	_, sure, _ := strings.Cut(readme, "## How sure it is")
	sure, _, _ = strings.Cut(sure, "## ")
	for _, claim := range regexp.MustCompile(`[0-9][0-9.]* %`).FindAllString(sure, -1) {
		if claim != "95 %" && !strings.Contains(evidence, claim) {
			t.Errorf("the README claims %q, which the evidence does not know", claim)
		}
	}
	if strings.Contains(readme, "20 000 draws") != strings.Contains(read(filepath.Join("swap", "internal", "draw", "draw.go")), "const Count = 20_000") {
		t.Error("the README's count of draws is not the program's")
	}
}
