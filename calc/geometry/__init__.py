"""Suspension and steering geometry in three dimensions: points, members, what the wheel does, and what a change does to it."""
