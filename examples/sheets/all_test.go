package sheets

// All lists every sheet in the order written.
func All() []*Sheet {
	return []*Sheet{
		guideSheet(),

		controller32L(), regulatorL2(), chargerC1(), cell1865(), protectorP1(), switchS1(),
		converterB24(), bridgePB10(), memoryF2M(), calendarR7(), radioRX8(),
		crystal32k(), crystal32M(), connectorUC16(), clampE4(), transistorP12(), capacitor475(),

		fuseF8T(), varistorV14(), capacitorX2(), resistor12(), module5W(), relay16(), coupler4(),
		controller32G(), regulatorL5(), supervisorR29(), driver485(), transistorN30(),
		diodeS40(), clampT485(), terminalT508(), capacitorE227(), fan40(),
	}
}
