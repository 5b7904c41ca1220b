"""Brakes: from the pedal to the tyre, and the balance between the axles."""
