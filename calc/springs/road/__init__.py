"""Ride: what the body and the wheels do on a road."""
