package joint_test

import (
	"fmt"
	"os"

	"swapworth/materials"
	"swapworth/swap/joint"
)

func ExampleEngagement() {
	thread, _ := joint.ParseThread("M5")
	class, _ := joint.ParseClass("8.8")
	for _, name := range []string{"S235", "6061-T6", "POM"} {
		m, _ := materials.Default().Find(name)
		length, err := joint.Engagement(thread, class, m)
		if err != nil {
			fmt.Fprintln(os.Stderr, err)
			return
		}
		fmt.Printf("%s: %.1f mm\n", name, length)
	}
	// Output:
	// S235: 5.5 mm
	// 6061-T6: 6.8 mm
	// POM: 30.4 mm
}
