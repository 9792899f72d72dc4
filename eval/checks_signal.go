package eval

// signalChecks are about pins that talk to one another: levels, pulls,
// straps, addresses, sequence; and the notes against exported files.
func signalChecks() []*builtin {
	return []*builtin{
		exposedPad, drivers, pinFunctions, unusedInputs, logicLevel, pullUp, strapLevel, inputAboveSupply, backPowering,
		busAddress, supplySequence, brownOut, pinList, partsFile, netlistFile,
	}
}
