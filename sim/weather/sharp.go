package weather

// Sharp tells whether the rains of a place are sharp: its four wettest months in a row have more
// than eight times the mean rain of the others. Weather of normals alone errs there.
func (n Normals) Sharp() bool { return n.seasonality() > sharpSeasonality }
