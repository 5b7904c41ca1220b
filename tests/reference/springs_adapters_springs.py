"""Adapters for the topics of springs, ride, bars and dampers: see ``springs_case`` for their shape."""

from tests.reference.springs_case import Adapter, Bad

ADAPTERS: dict[str, Adapter] = {}
BAD: dict[str, Bad] = {}
