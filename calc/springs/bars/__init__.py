"""Anti-roll bars, their blades, and what springs, bars and tyres give in roll."""
