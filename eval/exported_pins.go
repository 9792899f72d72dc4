package eval

import (
	"cmp"
	"fmt"
	"sort"
	"strings"

	"guardband/eval/circuit"
)

// placedPin is a pin or land as an exported file has it.
type placedPin struct {
	net, name string
	line      int
}

// pinDifferences compares the pins of a placed part with those of a file; the
// texts say what differs. Pins that may stay open and are not in the file are
// passed over.
func (c reader) pinDifferences(m *circuit.Component, file map[string]placedPin, names bool) []string {
	notes := map[string]*circuit.Pin{}
	var numbers []string
	for _, q := range m.Pins() {
		for _, n := range q.Row.Numbers {
			notes[n] = q
			numbers = append(numbers, n)
		}
	}
	if s := mirrored(m, numbers, notes, file); s != "" {
		return []string{s}
	}
	var out, wrong []string
	for _, n := range numbers {
		f, ok := file[n]
		q := notes[n]
		want := netName(m.DrawnNet(q))
		switch {
		case !ok && want == "" && circuit.MayStayOpen(q):
		case !ok:
			out = append(out, "pin "+n+" ("+q.Row.Name+") is missing")
		case !sameNetName(f.net, want):
			wrong = append(wrong, n)
		case names && f.name != "" && f.name != q.Row.Name && circuit.BareName(f.name) != circuit.BareName(q.Row.Name):
			out = append(out, fmt.Sprintf("pin %s is named %s in the file, %s in the notes", n, f.name, q.Row.Name))
		}
	}
	out = append(out, swapped(m, wrong, notes, file)...)
	var extra []string
	for n := range file {
		if notes[n] == nil {
			extra = append(extra, n)
		}
	}
	sort.Strings(extra)
	for _, n := range extra {
		out = append(out, "pin "+n+" on "+cmp.Or(file[n].net, "(left out)")+" is not in the notes")
	}
	return out
}

// swapped words the pins whose nets differ, a pair that changed places as one.
func swapped(m *circuit.Component, wrong []string, notes map[string]*circuit.Pin, file map[string]placedPin) []string {
	var out []string
	done := map[string]bool{}
	for i, a := range wrong {
		if done[a] {
			continue
		}
		na, fa := netName(m.DrawnNet(notes[a])), file[a].net
		partner := ""
		for _, b := range wrong[i+1:] {
			if nb := netName(m.DrawnNet(notes[b])); !done[b] && na != "" && nb != "" && sameNetName(fa, nb) &&
				sameNetName(file[b].net, na) {
				partner = b
				break
			}
		}
		if partner != "" {
			done[partner] = true
			out = append(out, fmt.Sprintf("pins %s (%s) and %s (%s) are swapped", a, notes[a].Row.Name, partner, notes[partner].Row.Name))
			continue
		}
		out = append(out, fmt.Sprintf("pin %s (%s) is on %s in the file, on %s in the notes", a, notes[a].Row.Name,
			cmp.Or(fa, "no net"), cmp.Or(na, "no net")))
	}
	return out
}

// mirrored finds a land pattern numbered the other way round: pin k of the file
// is pin s - k of the notes, for a part drawn from the wrong side. Only a part
// of four numbered pins and more, whose nets differ otherwise, is told so.
func mirrored(m *circuit.Component, numbers []string, notes map[string]*circuit.Pin, file map[string]placedPin) string {
	n, plain := 0, 0
	for _, s := range numbers {
		if k, ok := circuit.FirstNumber(s); ok && fmt.Sprint(k) == s {
			n = max(n, k)
			plain++
		}
	}
	if n < 4 || plain != n || n > 2048 {
		return ""
	}
	net := func(k int) string { return netName(m.DrawnNet(notes[fmt.Sprint(k)])) }
	straight := true
	for k := 1; k <= n && straight; k++ {
		straight = sameNetName(file[fmt.Sprint(k)].net, net(k))
	}
	if straight {
		return ""
	}
	for _, shift := range []int{0, n / 2, n / 4, 3 * n / 4} {
		all := true
		for k := 1; k <= n && all; k++ {
			all = sameNetName(file[fmt.Sprint(k)].net, net((n-k+shift)%n+1))
		}
		if all {
			return fmt.Sprintf("the pins are mirrored: pin 1 of the file is pin %d of the notes, counted the other way round", (n-1+shift)%n+1)
		}
	}
	return ""
}

func netName(n *circuit.Net) string {
	if n == nil {
		return ""
	}
	return n.Name
}

// sameNetName compares nets as files spell them: without case, without a
// leading slash; "" is no net.
func sameNetName(a, b string) bool {
	return strings.EqualFold(strings.TrimPrefix(a, "/"), strings.TrimPrefix(b, "/"))
}

// worded joins differences; a long list is cut with its count.
func worded(list []string) string {
	const most = 12
	if len(list) > most {
		return strings.Join(list[:most], "; ") + fmt.Sprintf("; and %d more", len(list)-most)
	}
	return strings.Join(list, "; ")
}
