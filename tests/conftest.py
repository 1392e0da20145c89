"""What every test shares: the order they run in, how Hypothesis looks for counter-examples."""

import os

import pytest
from hypothesis import settings

# A slow machine is no failure, so no example has a time limit; the CI run is repeatable.
settings.register_profile("local", deadline=None)
settings.register_profile("ci", deadline=None, derandomize=True)
settings.load_profile("ci" if os.environ.get("CI") else "local")


@pytest.hookimpl(trylast=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Run what needs a browser last, whatever the order of the rest.

    The browser's driver keeps an event loop in the thread of the tests, in which no other loop can
    run, from the first test of a browser to the end.
    """
    items.sort(key=lambda item: "tests/web/" in item.path.as_posix())
