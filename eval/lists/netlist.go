package lists

import (
	"strings"
)

// RefColumns and PadColumns are how many columns an access record has for the designator and for the pin: longer ones
// are cut.
const RefColumns, PadColumns = 6, 4

// readNetlist reads the pins of a board's test netlist, IPC-D-356A: records of fixed columns, the operation code in 1-3
// (317 a hole, 327 a surface land), the net's name in 4-17, the designator in 21-26, a dash in 27, the pin in 28-31. A
// parameter record `P  NNAMEnnnnn` gives a name that is longer than 14 characters. Vias and points without a designator
// are left out.
func readNetlist(name, text string) (rows []Row, faults []Fault) {
	const settle = "export the board's test netlist in the form of IPC-D-356A"
	long, records := map[string]string{}, 0
	for i, line := range strings.Split(text, "\n") {
		if f := strings.Fields(line); strings.HasPrefix(line, "P ") && len(f) > 2 && strings.HasPrefix(f[1], "NNAME") {
			long[f[1]] = strings.Join(f[2:], " ")
		}
		if !strings.HasPrefix(line, "317") && !strings.HasPrefix(line, "327") {
			continue
		}
		records++
		columns := func(from, to int) string { return strings.TrimSpace(line[min(from-1, len(line)):min(to, len(line))]) }
		net, ref, dash, pin := columns(4, 17), columns(21, 26), columns(27, 27), columns(28, 31)
		switch {
		case ref == "", ref == "VIA", pin == "" && (dash == "" || dash == "-"):
		case pin == "" || dash != "-":
			if len(faults) == 0 {
				faults = []Fault{{Code: "exported-form", Msg: "the designator and the pin are not in their columns", Hint: settle, Line: i + 1}}
			}
		case net == "N/C":
			rows = append(rows, Row{Line: i + 1, Cells: map[string]string{"designator": ref, "pin": pin}})
		default:
			rows = append(rows, Row{Line: i + 1, Cells: map[string]string{"designator": ref, "pin": pin, "net": net}, Cut: len(net) == 14})
		}
	}
	for i := range rows {
		if full := long[rows[i].Cells["net"]]; full != "" {
			rows[i].Cells["net"], rows[i].Cut = full, false
		}
	}
	if records == 0 {
		faults = []Fault{{Code: "exported-form", Msg: "`" + name + "` has no access record (317 or 327) of a test netlist", Hint: settle}}
	}
	return rows, faults
}
