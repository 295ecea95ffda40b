package page

import (
	"net"
	"strconv"
)

// localHosts lists what a browser on this machine may call a port of it.
func localHosts(port int) []string {
	var out []string
	for _, name := range []string{"127.0.0.1", "localhost", "::1"} {
		out = append(out, net.JoinHostPort(name, strconv.Itoa(port)))
	}
	return out
}
