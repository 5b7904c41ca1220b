"""Shared by all tests: property tests run the same everywhere, without deadlines."""

from hypothesis import HealthCheck, settings

settings.register_profile(
    "book", deadline=None, database=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow]
)
settings.load_profile("book")


def pytest_addoption(parser):
    parser.addoption("--update-golden", action="store_true", help="write the golden files anew; then read the diff")
