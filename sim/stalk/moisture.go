package stalk

// WetBasis is moisture as kg of water per kg of wet stalk, 0 to below 1.
type WetBasis float64

// DryBasis is moisture as kg of water per kg of dry matter, 0 or more.
type DryBasis float64

// DryBasis converts w to kg water per kg dry matter: M = w/(1-w).
func (w WetBasis) DryBasis() DryBasis { return DryBasis(w / (1 - w)) }

// WetBasis converts m to kg water per kg wet stalk: w = M/(1+M).
func (m DryBasis) WetBasis() WetBasis { return WetBasis(m / (1 + m)) }
