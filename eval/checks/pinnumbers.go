package checks

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strconv"

	"guardband/eval/circuit"
	"guardband/eval/lists"
)

// numberedPins are the pins of a placed part by number, with the nets they are drawn on and those of a file.
type numberedPins struct {
	m       *circuit.Component
	notes   map[string]*circuit.Pin
	numbers []string
	file    map[string]lists.Pin
}

func (x *numberedPins) net(number string) string {
	return circuit.NetName(x.m.DrawnNet(x.notes[number]))
}

// text is a pin in words.
func (x *numberedPins) text(number string) string {
	return number + " (" + x.notes[number].Row.Name + ")"
}

// pinDifferences compares the pins of a placed part with those of a file; the texts say what differs. Pins that may
// stay open and are not in the file are passed over.
func pinDifferences(m *circuit.Component, file map[string]lists.Pin, names bool) (out []string) {
	x := &numberedPins{m: m, notes: map[string]*circuit.Pin{}, file: file}
	for _, q := range m.Pins() {
		for _, n := range q.Row.Numbers {
			x.notes[n] = q
			x.numbers = append(x.numbers, n)
		}
	}
	if s := x.mirrored(); s != "" {
		return []string{s}
	}
	var wrong []string
	for _, n := range x.numbers {
		f, ok := file[n]
		q, want := x.notes[n], x.net(n)
		switch {
		case !ok && want == "" && circuit.MayStayOpen(q):
		case !ok:
			out = append(out, "pin "+x.text(n)+" is missing")
		case !lists.SameNet(f.Net, want):
			wrong = append(wrong, n)
		case names && f.Name != "" && f.Name != q.Row.Name && circuit.BareName(f.Name) != circuit.BareName(q.Row.Name):
			out = append(out, fmt.Sprintf("pin %s is named %s in the file, %s in the notes", n, f.Name, q.Row.Name))
		}
	}
	out = append(out, x.swapped(wrong)...)
	for _, n := range slices.Sorted(maps.Keys(file)) {
		if x.notes[n] == nil {
			out = append(out, "pin "+n+" on "+cmp.Or(file[n].Net, "(left out)")+" is not in the notes")
		}
	}
	return out
}

// swapped words the pins whose nets differ, a pair that changed places as one.
func (x *numberedPins) swapped(wrong []string) (out []string) {
	for len(wrong) > 0 {
		a, net := wrong[0], x.file[wrong[0]].Net
		wrong = wrong[1:]
		i := slices.IndexFunc(wrong, func(b string) bool {
			return x.net(a) != "" && x.net(b) != "" && lists.SameNet(net, x.net(b)) && lists.SameNet(x.file[b].Net, x.net(a))
		})
		if i < 0 {
			out = append(out, fmt.Sprintf("pin %s is on %s in the file, on %s in the notes", x.text(a), cmp.Or(net, "no net"), cmp.Or(x.net(a), "no net")))
			continue
		}
		out = append(out, "pins "+x.text(a)+" and "+x.text(wrong[i])+" are swapped")
		wrong = slices.Delete(wrong, i, i+1)
	}
	return out
}

// mirrored finds a land pattern numbered the other way round: pin k of the file is pin s - k of the notes, for a part
// drawn from the wrong side. Only a part of four numbered pins and more, whose nets differ otherwise, is told so.
func (x *numberedPins) mirrored() string {
	n, plain := 0, 0
	for _, s := range x.numbers {
		if k, err := strconv.Atoi(s); err == nil && strconv.Itoa(k) == s {
			n, plain = max(n, k), plain+1
		}
	}
	if n < 4 || plain != n || n > 2048 {
		return ""
	}
	// as says that pin k of the file is on the net of pin at(k) of the notes, all of them.
	as := func(at func(k int) int) bool {
		for k := 1; k <= n; k++ {
			if !lists.SameNet(x.file[fmt.Sprint(k)].Net, x.net(fmt.Sprint(at(k)))) {
				return false
			}
		}
		return true
	}
	if as(func(k int) int { return k }) {
		return ""
	}
	for _, shift := range []int{0, n / 2, n / 4, 3 * n / 4} {
		if as(func(k int) int { return (n-k+shift)%n + 1 }) {
			return fmt.Sprintf("the pins are mirrored: pin 1 of the file is pin %d of the notes, counted the other way round", (n-1+shift)%n+1)
		}
	}
	return ""
}
