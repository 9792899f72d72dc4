// Package checks has the built-in checks: claims that nobody has to write, made
// of facts and placement.
package checks

import (
	"guardband/eval"
	"guardband/eval/circuit"
)

// board is what a check sees: the circuit, and what the notes tell of it.
type board struct {
	*circuit.Circuit
	eval.Board
}

// on is a check of this package as eval runs it.
func on(f func(c *board, k *eval.Check)) func(eval.Board, *eval.Check) {
	return func(b eval.Board, k *eval.Check) { f(&board{b.Placed(), b}, k) }
}

// All lists the checks in the order their claims appear: parts as bought and
// drawn, and their limits; pins that talk to one another; the notes against
// exported files; supplies, passives and what switches current.
func All() []*eval.Check {
	return []*eval.Check{
		supplyRange, absoluteMaximum, operatingConditions, statedUse, orderCodes, pinMap, sixSectionsNoted,
		exposedPad, drivers, pinFunctions, unusedInputs, logicLevel, pullUp, strapLevel, inputAboveSupply, backPowering,
		busAddress, supplySequence, brownOut, pinList, partsFile, netlistFile,
		application, decoupling, regulator, crystal, resistorStress, capacitorVoltage, gateDrive, ledCurrent, coilPullIn,
		diodeStress, switchOff, inductorPeak, suppressorClamp, feedbackDivider, chargeLimits, baseCurrent, bodyDiode,
		usbContacts, lifecycle, eval.LimitCoverage,
	}
}
