"""Season plans for sheep: protection from flies, ticks, lice and scab, within the labels, at least cost."""
