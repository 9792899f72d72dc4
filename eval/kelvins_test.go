package eval

import (
	"testing"

	"guardband/eval/record"
)

// A number in kelvins is a difference unless its name or its use says otherwise.
func TestKelvinsAreDifferences(t *testing.T) {
	checkVerdicts(t, []verdictCase{
		{"rise", "T_RISE = 20 K to 30 K ¶ criterion: T_RISE <= 20 °C", record.Open, "e.g. 20 K", "type-point"},
		{"rise, the other hint", "T_RISE = 20 K to 30 K ¶ criterion: T_RISE <= 20 °C", record.Open, "state it on a scale, e.g. 20 °C", "type-point"},
		{"rise, turned", "T_RISE = 20 K to 30 K ¶ criterion: 20 °C >= T_RISE", record.Open, "e.g. 20 K", "type-point"},
		{"rise of one number", "T_RISE = 30 K ¶ criterion: T_RISE <= 20 °C", record.Open, "e.g. 20 K", "type-point"},
		{"rise with a tolerance", "T_RISE = 30 K ± 1 K ¶ criterion: T_RISE <= 20 °C", record.Open, "e.g. 20 K", "type-point"},
		{"rise inside a range", "T_RISE = 20 K to 30 K ¶ criterion: T_RISE inside 0 °C to 20 °C", record.Open, "e.g. 20 K", "type-point"},
		{"literal", "T = 20 °C to 30 °C ¶ criterion: T <= 400 K", record.Open, "is a temperature difference", "type-point"},
		{"fact", "part P ¶ spec dT = max 30 K ¶ circuit ¶ U1  P ¶ criterion: U1.dT <= 20 °C", record.Open,
			"is a temperature difference", "type-point"},
		{"column", "part P ¶ spec dT = max 30 K ¶ circuit ¶ U1  P ¶ criterion: U1.dT.max <= 20 °C", record.Open,
			"is a temperature difference", "type-point"},
		{"limit", "T = 20 °C ¶ part P ¶ operating dT = max 300 K ¶ circuit ¶ U1  P ¶ criterion: T inside U1.operating.dT",
			record.Open, "is a temperature difference", "type-point"},
		{"difference", "T_RISE = 20 K to 30 K ¶ criterion: T_RISE <= 40 K", record.Passed, "", ""},
		{"added", "T = 20 °C ¶ T_RISE = 20 K to 30 K ¶ criterion: T + T_RISE <= 50 °C", record.Passed, "", ""},
		{"symbol", "T_J = 300 K ± 5 K ¶ criterion: T_J <= 40 °C", record.Passed, "", ""},
		{"symbol of a fact", "T = 20 °C ¶ part P ¶ absmax T_STG = 230 K to 400 K ¶ circuit ¶ U1  P ¶ criterion: T inside U1.absmax.T_STG",
			record.Passed, "", ""},
		{"condition", "part P ¶ spec I = max 1 A at T_A <= 330 K ¶ circuit ¶ U1  P  in use: T_A = 20 °C ¶ criterion: U1.I <= 2 A",
			record.Passed, "", ""},
		{"use", "part P ¶ spec I = max 1 A at T_A <= 60 °C ¶ circuit ¶ U1  P  in use: T_A = 300 K ¶ criterion: U1.I <= 2 A", record.Passed, "", ""},
		{"in a product", "T = 300 K ± 1 K ¶ V = k_B * T / q_e ¶ criterion: T <= 40 °C", record.Passed, "", ""},
		{"in a quotient", "T = 300 K ± 1 K ¶ E = 1 J ¶ X = E / (2 * (k_B * T)) ¶ criterion: T <= 40 °C", record.Passed, "", ""},
		{"rise over a thermal resistance",
			"T_RISE = 20 K to 30 K ¶ R_θJA = 100 K/W ¶ P = T_RISE / R_θJA ¶ criterion: T_RISE <= 20 °C", record.Open, "e.g. 20 K", "type-point"},
		{"rise times a coefficient", "T_RISE = 20 K to 30 K ¶ D = 50 ppm/K * T_RISE ¶ criterion: 20 °C >= T_RISE",
			record.Open, "e.g. 20 K", "type-point"},
		{"rise in a criterion's quotient",
			"T_RISE = 20 K to 30 K ¶ criterion: T_RISE / 100 K/W <= 1 W ¶ criterion: T_RISE inside 0 °C to 20 °C",
			record.Open, "e.g. 20 K", "type-point"},
		{"rise over another rise", "T_RISE = 20 K to 30 K ¶ T_2 = 40 K ¶ X = T_RISE / T_2 ¶ criterion: T_RISE <= 20 °C",
			record.Open, "e.g. 20 K", "type-point"},
		{"rise of a fact over a thermal resistance",
			"part P ¶ spec dT = max 30 K ¶ spec R_θ = 10 K/W ¶ circuit ¶ U1  P ¶ W = U1.dT / U1.R_θ ¶ criterion: U1.dT <= 20 °C",
			record.Open, "is a temperature difference", "type-point"},
		{"in a criterion's product", "T = 300 K ± 1 K ¶ criterion: k_B * T / q_e <= 30 mV ¶ criterion: T <= 40 °C", record.Passed, "", ""},
	})
}
