package sheets

// The table forms of the invented issuers. They differ in order of columns
// and in wording as data sheets do.

// electrical is the form with the parameter first.
func electrical(caption string, rows ...string) Table {
	return Table{caption, "Parameter | Symbol | Conditions | Min | Typ | Max | Unit",
		[]float64{3.6, 1.3, 3.4, 1, 1, 1, 0.9}, rows}
}

// symbolFirst is the form with the symbol first and the conditions last but units.
func symbolFirst(caption string, rows ...string) Table {
	return Table{caption, "Symbol | Parameter | Min | Typ | Max | Unit | Conditions",
		[]float64{1.3, 3.6, 1, 1, 1, 0.9, 3.4}, rows}
}

// ratings is a table of absolute maximum ratings.
func ratings(rows ...string) Table {
	return Table{"", "Rating | Symbol | Min | Max | Unit", []float64{4.5, 1.5, 1.4, 1.7, 1}, rows}
}

// operating is a table of recommended operating conditions.
func operating(rows ...string) Table {
	return Table{"Recommended operating conditions", "Parameter | Symbol | Min | Typ | Max | Unit",
		[]float64{4.5, 1.5, 1.2, 1.2, 1.2, 1}, rows}
}

// nominal is a table of what a part is made for; tolerances stand elsewhere.
func nominal(rows ...string) Table {
	return Table{"Rated values", "Parameter | Symbol | Value | Unit", []float64{4.5, 1.5, 1.4, 1}, rows}
}

// pins is a table of pins.
func pins(caption string, rows ...string) Table {
	return Table{caption, "Pin | Name | Type | Function", []float64{0.8, 1.1, 1.7, 5}, rows}
}

// ordering lists order codes.
func ordering(rows ...string) Table {
	return Table{"Ordering information", "Order code | Option | Package | Packing",
		[]float64{2.6, 2.4, 2.4, 1.6}, rows}
}

// codes explains the fields of an order code.
func codes(caption string, rows ...string) Table {
	return Table{caption, "Field | Code | Meaning", []float64{1.6, 1.2, 4}, rows}
}

const stress = "Stress beyond these ratings may damage the device. They are stress ratings only; " +
	"operation outside the recommended operating conditions is not implied."

// history is a last page with the editions of a sheet.
func history(rows ...string) Page {
	return Page{"Revision history", []Item{
		Table{"", "Revision | Date | Change", []float64{1, 1.4, 5}, rows},
		Text("The revision is printed on every page. Compare it with the edition your own notes cite " +
			"before a figure is taken over."),
	}}
}

// handling is a page on soldering and storage; every chip sheet has one.
func handling(name, level string) Page {
	return Page{"Handling and soldering", []Item{
		Text("The " + name + " is delivered in a moisture barrier bag. " + level + " After the bag has been " +
			"opened keep to the floor life of that level or bake the parts before reflow."),
		Bullets{
			"Electrostatic discharge: handle at a grounded work place.",
			"Reflow: lead-free profile, not more than three passes.",
			"Hand soldering: ten seconds per lead at the usual tip temperature; never cool a lead with a wet sponge.",
			"Cleaning: no ultrasonic bath for parts with a cavity.",
		},
		Text("Inspect the solder of pads under the body by X-ray or by a cut on the first board of a lot. " +
			"A pad that carries heat or ground wants paste on half to three quarters of its area, divided into windows."),
	}}
}

// layoutAdvice is a page of layout hints.
func layoutAdvice(name string, hints ...string) Page {
	return Page{"Layout", []Item{
		Text("What follows is advice for the board around the " + name + ". It guarantees nothing: the figures that " +
			"are guaranteed stand in the tables of characteristics."),
		Bullets(hints),
		Text("Keep the return current of every loop under its outgoing track. Where two grounds meet, let them meet in one place, " +
			"near the part that measures the smallest signal."),
	}}
}
