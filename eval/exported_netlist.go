package eval

import (
	"strings"
)

// refColumns and padColumns are how many columns an access record has for the
// designator and for the pin: longer ones are cut.
const refColumns, padColumns = 6, 4

// testNode is one access point of a test netlist that belongs to a part's pin.
type testNode struct {
	net, ref, pin string
	line          int
	cut           bool // the name of the net fills its columns and may be longer
}

// readTestNetlist reads the nodes of a board's test netlist, IPC-D-356A:
// records of fixed columns, the operation code in 1-3 (317 a hole, 327 a
// surface land), the net's name in 4-17, the designator in 21-26, a dash in 27,
// the pin in 28-31. A parameter record `P  NNAMEnnnnn` gives a name that is
// longer than 14 characters. Vias and points without a designator are left out.
// It also counts the access records it read, and gives the line of the first
// that is not in its columns, 0 if all are.
func readTestNetlist(data []byte) (nodes []testNode, records, odd int) {
	long := map[string]string{}
	for i, line := range strings.Split(string(data), "\n") {
		line = strings.TrimRight(line, "\r ")
		switch {
		case strings.HasPrefix(line, "P "):
			if name, full, ok := longName(line); ok {
				long[name] = full
			}
		case strings.HasPrefix(line, "317"), strings.HasPrefix(line, "327"):
			records++
			n, ok, fits := testRecord(line)
			if n.line = i + 1; ok {
				nodes = append(nodes, n)
			} else if !fits && odd == 0 {
				odd = n.line
			}
		}
	}
	for i := range nodes {
		if full := long[nodes[i].net]; full != "" {
			nodes[i].net, nodes[i].cut = full, false
		}
	}
	return nodes, records, odd
}

// longName reads "P  NNAME00001 LONG_NAME".
func longName(line string) (name, full string, ok bool) {
	f := strings.Fields(line)
	if len(f) < 3 || !strings.HasPrefix(f[1], "NNAME") {
		return "", "", false
	}
	return f[1], strings.Join(f[2:], " "), true
}

// testRecord reads one access record. ok is false for one that is of no pin;
// fits says whether its designator and pin are in their columns.
func testRecord(line string) (n testNode, ok, fits bool) {
	n = testNode{net: columnsText(line, 4, 17), ref: columnsText(line, 21, 26), pin: columnsText(line, 28, 31)}
	dash := columnsText(line, 27, 27)
	if n.ref == "" || n.ref == "VIA" || n.pin == "" || dash != "-" {
		return n, false, n.ref == "" || n.ref == "VIA" || n.pin == "" && (dash == "" || dash == "-")
	}
	n.cut = len(columnsText(line, 4, 17)) == 14
	if n.net == "N/C" {
		n.net = ""
	}
	return n, true, true
}

// columnsText is what stands in columns i to j, counted from 1.
func columnsText(line string, i, j int) string {
	if len(line) < i {
		return ""
	}
	return strings.TrimSpace(line[i-1 : min(j, len(line))])
}
