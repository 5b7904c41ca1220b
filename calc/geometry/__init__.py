"""Suspension and steering geometry."""
