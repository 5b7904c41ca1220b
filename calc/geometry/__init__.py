"""Suspension and steering geometry in three dimensions: points, members, what the wheel does, and what a change does to it.

``linkage`` is what a car is described with (``linkages`` has the kinds), ``motion.Corner`` and ``axle.Axle`` move it, ``readings`` says all of it by
name; ``centres``, ``roll``, ``anti``, ``steering``, ``bump_steer``, ``loads`` ask one thing each; ``moves`` and ``adjust`` change it; ``alignment``, ``planar``,
``survey``, ``spread``, ``fasteners`` are arithmetic. ``forms`` has the calculators.
"""
