package eval

// powerChecks are about supplies, regulators, passives and what switches
// current.
func powerChecks() []*builtin {
	return []*builtin{application, decoupling, regulator, crystal, resistorStress, capacitorVoltage, gateDrive,
		ledCurrent, coilPullIn, diodeStress, switchOff, inductorPeak,
		suppressorClamp, feedbackDivider, chargeLimits, baseCurrent, bodyDiode, usbContacts, lifecycle}
}
