// Package memory tells how much memory there is, so that what does not fit can be
// refused before it is tried: a program that runs out of memory ends without a word
// of its own.
package memory

import (
	"bufio"
	"fmt"
	"os"
	"strconv"
	"strings"
)

// Free returns the bytes that this program may still take: the least of what the
// system has available, what the limit of its address space leaves and what its
// control group leaves. It is 0 where none of them says.
func Free() int64 {
	least := int64(0)
	for _, n := range []int64{available(), addressSpace(), group()} {
		if n > 0 && (least == 0 || n < least) {
			least = n
		}
	}
	return least
}

// Text writes a number of bytes for reading.
func Text(bytes int64) string {
	switch b := float64(bytes); {
	case b < 1e9:
		return fmt.Sprintf("%.0f MB", b/1e6)
	case b < 1e11:
		return fmt.Sprintf("%.1f GB", b/1e9)
	default:
		return fmt.Sprintf("%.0f GB", b/1e9)
	}
}

// available is what the system could give, by /proc/meminfo.
func available() int64 { return field("/proc/meminfo", "MemAvailable:") * 1024 }

// field returns the number behind a word at the beginning of a line, 0 where there
// is none.
func field(path, word string) int64 {
	f, err := os.Open(path)
	if err != nil {
		return 0
	}
	defer f.Close() // only read from
	lines := bufio.NewScanner(f)
	for lines.Scan() {
		if rest, ok := strings.CutPrefix(lines.Text(), word); ok {
			return number(rest)
		}
	}
	return 0
}

// number reads the first word of a text, 0 where it is no number.
func number(text string) int64 {
	words := strings.Fields(text)
	if len(words) == 0 {
		return 0
	}
	n, err := strconv.ParseInt(words[0], 10, 64)
	if err != nil {
		return 0
	}
	return n
}

// group is what the control group leaves, of either version.
func group() int64 {
	text, err := os.ReadFile("/proc/self/cgroup")
	if err != nil {
		return 0
	}
	least := int64(0)
	for line := range strings.Lines(string(text)) {
		parts := strings.SplitN(strings.TrimSpace(line), ":", 3)
		if len(parts) != 3 {
			continue
		}
		limit, used := "/sys/fs/cgroup"+parts[2]+"/memory.max", "/sys/fs/cgroup"+parts[2]+"/memory.current"
		if parts[1] == "memory" {
			limit = "/sys/fs/cgroup/memory" + parts[2] + "/memory.limit_in_bytes"
			used = "/sys/fs/cgroup/memory" + parts[2] + "/memory.usage_in_bytes"
		} else if parts[1] != "" {
			continue
		}
		if n := whole(limit) - whole(used); whole(limit) > 0 && n > 0 && (least == 0 || n < least) {
			least = n
		}
	}
	return least
}

func whole(path string) int64 {
	text, err := os.ReadFile(path)
	if err != nil {
		return 0
	}
	return number(string(text))
}
