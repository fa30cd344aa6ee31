package report

import "drystalk/tongue"

// The cautions of a dryer.
const (
	smoke tongue.Text = "Furnace and smoke: carbon monoxide has no smell and kills. Never fire in or beside a closed room with people; chimney to the open air, no flue gas into the stalk chamber, a CO alarm where people sleep or work near. Local codes and licensed installers decide (guidance: NFPA 211, EN 15287, EN 50291)."
	fire  tongue.Text = "Fire: dry stalks are kindling. Spark screen, clearance, a temperature limit, someone in attendance, water or an extinguisher at the door, no smoking (guidance: NFPA 86, local fire code). Damp heaps can heat up by themselves: do not bundle or stack above 18 % moisture."
	burns tongue.Text = "Burns and heat: wait until the chamber is at 45 °C or less; gloves, drinking water, shade."
	dust  tongue.Text = "Dust and mould: do not brush musty stalks indoors; ventilate, wear a respirator (FFP2, N95 or better) and gloves; people with asthma stay away. The mould index is a planning aid, no health clearance."
)

// FireCautions are those of the cautions that whoever works at a dryer must know.
func FireCautions() []string {
	return []string{smoke.String(), fire.String(), burns.String(), dust.String()}
}

// Cautions are shown with every report: general information, no design, no permit,
// no substitute for the authority in charge or a licensed engineer.
func Cautions() []string {
	return []string{
		tongue.Say("These are planning estimates, not guarantees. Rates of drying and mould rest on few published figures and on assumptions named above; time a few loads of your own before you buy."),
		smoke.String(), fire.String(), burns.String(), dust.String(),
		tongue.Say("Open water: life-jackets, never alone, no cutting in floods, lightning, heavy rain or fast current; wash after contact with polluted water. Ask the waterway and fisheries authority. Never harvest sprayed or closed stands. Heavy wet racks and roofs need a competent builder."),
		tongue.Say("The plant spreads: do not carry live plants, or pieces of them, to clean waters; clean boats, tools, bags and dryers before they are moved to another water."),
		tongue.Say("Debt: a loan is owed in bad seasons too. Borrow only what the group can pay back if months are missed, and let nobody pledge house or field for it."),
		tongue.Say("Night work and children's work: keep to the law; no child labour (ILO C138, C182)."),
		tongue.Say("Shipping: a charge in a dryer is no certified phytosanitary treatment; the importing country's rules decide (IPPC ISPM 12)."),
	}
}

// CautionLine returns the cautions that stand beside every answer, in one line: on the fire, on the
// water, and on debt where a loan is spoken of.
func CautionLine(loan bool) string {
	s := tongue.Say("Planning estimates, not guarantees. Carbon monoxide has no smell and kills: never fire in or beside a closed room. No cutting in floods, lightning or heavy rain, nor from sprayed or closed stands.")
	if loan {
		s += tongue.Say(" A loan is owed in bad seasons too.")
	}
	return s
}
