package sim

import (
	"drystalk/sim/charge"
	"drystalk/sim/knowledge"
	"drystalk/sim/stalk"
)

// DefaultParameters returns the documented modes of what nobody has measured here.
func DefaultParameters() Parameters {
	return Parameters{
		OutputFactor: knowledge.Mode(knowledge.OutputFactor), AcceptedShare: knowledge.Mode(knowledge.AcceptedShare),
		Stalk: stalk.Default(), Cabinet: charge.Default(),
		StoreExchangeOpenPerH:   knowledge.Mode(knowledge.StoreOpenPerH),
		StoreExchangeSealedPerH: knowledge.Mode(knowledge.StoreSealedPerH),
		ClearRoofSunFactor:      knowledge.Mode(knowledge.ClearRoofSun),
		SolidRoofSunFactor:      knowledge.Mode(knowledge.SolidRoofSun),
		SolidRoofAirFactor:      knowledge.Mode(knowledge.SolidRoofAir),
		RainsHumidityPoints:     knowledge.Mode(knowledge.RainsHumidity),
	}
}
