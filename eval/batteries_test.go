package eval

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/circuit"
	"guardband/eval/record"
)

// TestBatteryTitles: what titles of parts call for; "?" behind a caution says
// that the words do not settle it. Codes of IEC 60086-1 (primary cells), IEC
// 61960-3 (lithium-ion) and IEC 61951-2 (nickel), as far as they are remembered.
func TestBatteryTitles(t *testing.T) {
	const li, prim, cell, lead, ni = circuit.LithiumIon, circuit.PrimaryLithium, circuit.PrimaryCell, circuit.LeadAcid, circuit.NickelCell
	for _, x := range []struct{ title, want string }{
		{"lithium thionyl chloride cell", prim}, {"lithium manganese dioxide, not rechargeable, cell",
			prim}, {"lithium manganese dioxide battery", prim}, {"primary lithium battery", prim},
		{"lithium iron disulfide cell, AA", prim}, {"lithium carbon monofluoride cell",
			prim}, {"Li/SOCl2 cell, 3.6 V", prim}, {"Li-MnO2 cell 3 V", prim}, {"lithium metal cell", prim},
		{"lithium cell, non-rechargeable", prim}, {"lithium cell 3 V", prim + "?"}, {"lithium battery pack",
			prim + "?"}, {"lithium coin cell", prim + "?"}, {"coin cell 3 V", prim + "?"},
		{"lithium-ion cell, not rechargeable", prim}, {"ER14505 cell", prim}, {"CR2032 coin cell", prim}, {"CR2032",
			prim}, {"BR2325 cell", prim}, {"CR123A battery", prim}, {"FR6 cell", prim}, {"holder for a CR2032 " +
			"cell", prim},
		{"lithium-ion cell 2600 mAh", li}, {"lithium ion battery pack 2S", li}, {"Li-ion cell",
			li}, {"Li-Ion 18650 cell", li}, {"ICR18650 cell", li}, {"INR18650-26 cell", li}, {"INR21700 battery", li},
		{"lithium polymer cell", li}, {"LiPo battery, 500 mAh", li}, {"Li-Po pouch cell",
			li}, {"lithium iron phosphate cell", li}, {"LiFePO4 battery", li}, {"IFR26650 cell", li}, {"lithium " +
			"titanate cell", li}, {"LTO battery", li},
		{"rechargeable lithium cell", li}, {"LIR2032 coin cell, rechargeable", li}, {"ML2020 coin cell",
			li}, {"linear charger for one lithium-ion cell", li}, {"protector for one lithium-ion cell, switches " +
			"inside", li}, {"charger for lithium cells", li},
		{"18650 cell", cell + "?"}, {"18650 cell, rechargeable", cell + "?"}, {"battery 9 V",
			cell + "?"}, {"rechargeable battery pack", cell + "?"},
		{"LR6 cell", cell}, {"LR44 button cell", cell}, {"SR44 button cell, silver oxide",
			cell}, {"PR48 zinc-air button cell", cell}, {"alkaline battery, AAA", cell}, {"zinc-carbon cell " +
			"R20", cell}, {"primary battery 4.5 V", cell}, {"silver oxide cell", cell},
		{"alkaline cell, rechargeable", cell + "?"},
		{"sealed lead-acid battery 12 V 7 Ah", lead}, {"VRLA battery 6 V", lead}, {"AGM battery",
			lead}, {"NiMH cell, AA", ni}, {"Ni-MH battery pack 4.8 V", ni}, {"nickel metal hydride cell", ni}, {"NiCd " +
			"battery", ni}, {"HR6 cell", ni},
		{"load cell amplifier", ""}, {"solar cell 5 V", ""}, {"fuel cell", ""}, {"battery holder, 2 x AA",
			""}, {"battery connector", ""}, {"battery monitor", ""}, {"push button", ""}, {"lithium-ion capacitor 3.8 " +
			"V", ""},
		{"controller with SR latch", ""}, {"resistor R6", ""}, {"thermometer on a two-wire bus", ""}, {"photocell", ""},
	} {
		hazard, settled, _ := circuit.BatteryOf(x.title)
		if !settled {
			hazard += "?"
		}
		require.Equal(t, x.want, hazard, x.title)
	}
	for title, coin := range map[string]bool{"CR2032": true, "LR44 button cell": true, "CR123A battery": false,
		"ICR18650 cell": false, "LR6 cell": false, "SR626 cell": true, "LR61 cell": false, "lithium coin " +
			"cell": true, "BR2325 cell": true, "ER14505 cell": false} {
		_, _, got := circuit.BatteryOf(title)
		require.Equal(t, coin, got, title)
	}
}

// batteryCautions are the cautions of a design with one part.
func batteryCautions(t *testing.T, part string) (hazards []string, text string, r *record.Record) {
	r = compileText(t, "```part BAT\n"+part+"pins: none\n```\n\n```circuit\nB1  BAT\n```\n")
	for _, k := range r.Safety {
		hazards = append(hazards, k.Hazard)
		text += strings.Join(k.Text, " ")
	}
	return hazards, text, r
}

// TestBatteryHazardDecides: the hazard of a part decides over its title, and
// two that exclude each other are never printed for one part.
func TestBatteryHazardDecides(t *testing.T) {
	got, text, _ := batteryCautions(t, "title: lithium-ion cell\nhazard: primary lithium battery\n")
	require.Equal(t, []string{circuit.PrimaryLithium}, got)
	require.NotContains(t, text, "Charge it only inside")
	got, _, _ = batteryCautions(t, "title: CR2032 cell\nhazard: lithium-ion battery\n")
	require.Equal(t, []string{"coin or button cell", circuit.LithiumIon}, got)
	got, text, r := batteryCautions(t, "title: cell\nhazard: lithium-ion battery, primary lithium battery\n")
	require.Equal(t, []string{circuit.PrimaryLithium}, got)
	require.NotContains(t, text, "Charge it only inside")
	require.NotZero(t, r.Summary.Errors)
	got, _, r = batteryCautions(t, "title: lithium cell 3 V\n")
	require.Equal(t, []string{circuit.PrimaryLithium}, got)
	require.Contains(t, r.Diagnostics[len(r.Diagnostics)-1].Hint, "kind:")
	got, _, _ = batteryCautions(t, "title: lithium cell 3 V\nkind: lithium-ion cell\n")
	require.Equal(t, []string{circuit.LithiumIon}, got)
	got, text, _ = batteryCautions(t, "title: coin cell\nkind: CR2032\n")
	require.Equal(t, []string{"coin or button cell", circuit.PrimaryLithium}, got)
	require.Contains(t, text, "get emergency medical help at once")
	require.Contains(t, text, "qualified person")
}
