"""Springs, wheel rate and ride."""
