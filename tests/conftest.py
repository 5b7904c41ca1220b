"""Shared by all tests: property tests run the same everywhere, without deadlines."""

from hypothesis import HealthCheck, settings

settings.register_profile(
    "book", deadline=None, database=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow]
)
settings.load_profile("book")
