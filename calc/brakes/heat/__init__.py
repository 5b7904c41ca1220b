"""Heat: one stop, many stops, a lap, and what disc, pads, caliper and fluid make of it."""
