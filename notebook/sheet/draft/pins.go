package draft

import (
	"fmt"
	"regexp"
	"strings"

	"guardband/notebook/sheet"
)

// pinWords maps the types that sheets print to those of the language. A word
// that means more than one of them ("power") is not there: the person decides.
var pinWords = map[string]string{
	"supply": "supply", "s": "supply", "power supply": "supply", "power input": "supply", "supply input": "supply", "analog supply": "analog supply",
	"di": "input", "do": "output", "dio": "bidirectional", "di/do": "bidirectional", "di/o": "bidirectional",
	"b": "bidirectional", "bi": "bidirectional",
	"bi-directional": "bidirectional", "dig input": "input", "dig output": "output", "logic input": "input", "logic output": "output",
	"ain": "analog input", "aout": "analog output", "aio": "analog", "analog i/o": "analog", "ana": "analog",
	"a i": "analog input", "a o": "analog output",
	"i, pu": "input pull-up", "ipu": "input pull-up", "i, pd": "input pull-down", "ipd": "input pull-down",
	"o, od": "output open drain", "oc": "output open collector",
	"no connect.": "not connected", "n/c": "not connected", "输入": "input", "输出": "output", "电源": "supply",
	"地": "ground", "入力": "input", "出力": "output",
	"g": "ground", "gnd": "ground", "ground": "ground", "i": "input", "in": "input", "input": "input", "digital input": "input",
	"o": "output", "out": "output", "output": "output", "digital output": "output",
	"i/o": "bidirectional", "io": "bidirectional", "input/output": "bidirectional", "bidirectional": "bidirectional",
	"in/out": "bidirectional", "digital i/o": "bidirectional",
	"a": "analog", "analog": "analog", "analogue": "analog", "rf": "analog", "ai": "analog input",
	"ao": "analog output", "analog input": "analog input", "analog output": "analog output",
	"nc": "not connected", "n.c.": "not connected", "not connected": "not connected", "no connection": "not connected", "no connect": "not connected",
	"dnc": "do not connect", "do not connect": "do not connect", "reserved": "reserved", "clock": "clock", "clock input": "clock input",
	"passive": "passive", "supply output": "supply output", "power output": "supply output",
	"thermal pad": "thermal pad", "exposed pad": "thermal pad",
	"od": "output open drain", "open drain": "output open drain", "open-drain": "output open drain",
	"open drain output": "output open drain", "output, open drain": "output open drain",
	"output open drain": "output open drain", "open collector": "output open collector",
	"input, pull-up": "input pull-up", "input pull-up": "input pull-up", "input, pull-down": "input pull-down",
}

// powerWords are printed types that leave open whether the pin takes or gives
// a supply; a ground by its name is none of them.
var powerWords = map[string]bool{"p": true, "pwr": true, "power": true}

var (
	groundPin = pattern(`^[ADP]?(GND|VSS)[A-Z0-9]*$`)
	supplyPin = pattern(`^[ADP]?V(DD|CC|IN|S|BAT)[A-Z0-9]*$`)
	openPin   = pattern(`^(N\.?/?C\.?|NO CON\.?|NO CONNECT(ION)?|NOT CONNECTED)$`)
	plainPin  = pattern(`^[A-Za-z0-9_+~/.-]+$`)
)

// pinType gives the type of a drafted pin; "" where the sheet leaves it open.
func pinType(p sheet.DraftPin) string {
	printed := strings.ToLower(strings.Join(strings.Fields(p.Type), " "))
	name := strings.ToUpper(p.Name)
	if isPad(p) {
		if pinWords[printed] == "ground" || groundPin().MatchString(name) {
			return "thermal pad, ground"
		}
		return "thermal pad"
	}
	switch typ, ok := pinWords[printed]; {
	case typ == "supply" && groundPin().MatchString(name):
		return "ground"
	case ok:
		return typ
	case printed == "" && openPin().MatchString(name):
		return "not connected"
	case (printed == "" || powerWords[printed]) && groundPin().MatchString(name):
		return "ground"
	case powerWords[printed] && supplyPin().MatchString(name):
		return "supply"
	case printed == "":
		return saidType(p.Function, name)
	}
	return ""
}

// saidTypes are what the description of a pin calls it, in the words that end
// its first clause: "Serial clock input", "Supply voltage". An output of power, a
// feedback or a reference leaves the type open.
var saidTypes = []struct {
	words func() *regexp.Regexp
	typ   string
}{
	{pattern(`(?i)^(no connect|not connected|no connection|nc\b|no internal connection|空脚|悬空)`), "not connected"},
	{pattern(`(?i)^(do not connect|dnc\b)`), "do not connect"},
	{pattern(`(?i)(volt|power|regulat|convert|step-?(up|down)|current|boost|sense|feedback|reference|switch|drive|inductor|charge).*\b(in|out)put\b`), ""},
	{pattern(`(?i)\bopen[- ]drain\b.*\boutput|\boutput.*\bopen[- ]drain\b`), "output open drain"},
	{pattern(`(?i)\bopen[- ]collector\b.*\boutput|\boutput.*\bopen[- ]collector\b`), "output open collector"},
	{pattern(`(?i)\binput ?(/|and|or) ?output|\bbi-?directional|\bI/O\b`), "bidirectional"},
	{pattern(`(?i)\banalog(ue)? input$`), "analog input"},
	{pattern(`(?i)\banalog(ue)? output$`), "analog output"},
	{pattern(`(?i)\bclock input$`), "clock input"},
	{pattern(`(?i)\binput$`), "input"},
	{pattern(`(?i)\boutput$`), "output"},
	{pattern(`(?i)^(positive |main |digital |analog |logic )?(power )?supply( voltage)?( input)?$|^(power|VCC|VDD)$`), "supply"},
	{pattern(`(?i)^(power |signal |digital |analog |chip )?ground\b|^GND$`), "ground"},
}

var clauseEnd = pattern(`[.;,(:]|（| (for|of|to|with|from|when|that|which|at|is|in) `)

// saidType gives the type that the description of a pin states; "" where it
// leaves it open.
func saidType(function, name string) string {
	clause := function
	if at := clauseEnd().FindStringIndex(clause); at != nil && at[0] > 0 {
		clause = clause[:at[0]]
	}
	clause = strings.TrimSuffix(strings.TrimSuffix(strings.TrimSpace(clause), " pin"), " terminal")
	for _, s := range saidTypes {
		switch {
		case !s.words().MatchString(clause):
		case s.typ == "supply" && !supplyPin().MatchString(name):
			return ""
		case s.typ == "output" && openOutput().MatchString(function): // said later on
			return ""
		default:
			return s.typ
		}
	}
	return ""
}

var openOutput = pattern(`(?i)\bopen[- ](drain|collector|source|emitter)|\btri-?state|\b(3|three)-?state`)

// isPad says whether a line is of the pad under the body.
func isPad(p sheet.DraftPin) bool {
	switch strings.ToUpper(strings.Trim(p.Number, " ()-.–")) {
	case "EP", "EPAD", "PAD", "THERMAL PAD", "EXPOSED PAD":
		return true
	}
	return false
}

// pins writes one block per package that the sheet numbers pins for.
func (n *noteWriter) pins(d sheet.Draft) {
	for from := 0; from < len(d.Pins); {
		to := from
		for to < len(d.Pins) && d.Pins[to].Table == d.Pins[from].Table {
			to++
		}
		n.pinTable(d, d.Pins[from:to], d.Pins[from].Table)
		from = to
	}
}

func (n *noteWriter) pinTable(d sheet.Draft, pins []sheet.DraftPin, table int) {
	several := d.Pins[0].Table != d.Pins[len(d.Pins)-1].Table
	name := pins[0].Package
	switch {
	case several && name == "" && table > 0:
		for _, p := range pins {
			n.remark("another table of pins: %s %s %s, %s %s", p.Number, p.Name, p.Type, p.Function, cite(p.Quoted))
		}
		return
	case several && name != "" && anyType(pins) && !strings.ContainsAny(name, ":[]#"):
		base, _, _ := strings.Cut(name, ",")
		// an argument is one word; names are compared without blanks and hyphens
		word := strings.ReplaceAll(strings.Join(strings.Fields(base), "-"), "-+-", "+")
		fmt.Fprintf(n.w, "pins %s:\n", word)
	case !anyType(pins):
		fmt.Fprintln(n.w, "# pins:") // a label without rows is an error
	default:
		fmt.Fprintln(n.w, "pins:")
	}
	seen := map[string]bool{}
	rows := n.pinRows(pins, seen)
	wide, broad := 0, 0
	for _, r := range rows {
		wide, broad = max(wide, min(len([]rune(r.numbers)), 14)), max(broad, min(len([]rune(r.name)), 12))
	}
	for _, r := range rows {
		if r.typ == "" {
			fmt.Fprintf(n.w, "  # %-*s  %-*s  %s\n", wide, r.numbers, broad, r.name, r.tail)
			continue
		}
		n.wrote.Pins++
		fmt.Fprintf(n.w, "  %-*s  %-*s  %s  %s\n", wide, r.numbers, broad, r.name, r.typ, r.tail)
	}
}

// pinRow is a row as it will be written; without a type it is a comment in its place.
type pinRow struct{ numbers, name, typ, tail string }

func (n *noteWriter) pinRows(pins []sheet.DraftPin, seen map[string]bool) []pinRow {
	var out []pinRow
	for _, p := range pins {
		r := pinRow{numbers: strings.Join(strings.FieldsFunc(p.Number,
			func(r rune) bool { return r == ' ' || r == ',' }), ","), name: strings.Join(strings.Fields(p.Name), " "),
			typ: pinType(p)}
		if r.name != "" && !plainPin().MatchString(r.name) && !strings.ContainsAny(r.name, `"#[]`) {
			r.name = `"` + r.name + `"`
		}
		if r.numbers == "" || r.name == "" || strings.ContainsAny(r.name, "#[]") || seen[r.numbers] || strings.Contains(r.numbers, ",to,") {
			n.remark("pin %s %s, printed type “%s”: %s %s", p.Number, p.Name, p.Type, p.Function, cite(p.Quoted))
			continue
		}
		seen[r.numbers] = true
		r.tail = cite(p.Quoted) + " " + Mark
		if r.typ == "" {
			r.tail = fmt.Sprintf("choose a type; printed: %s; %s  %s", orNothing(p.Type), orNothing(p.Function), cite(p.Quoted))
		}
		out = append(out, r)
	}
	return out
}

func anyType(pins []sheet.DraftPin) bool {
	for _, p := range pins {
		if pinType(p) != "" {
			return true
		}
	}
	return false
}

func orNothing(s string) string {
	if s == "" {
		return "nothing"
	}
	return s
}
