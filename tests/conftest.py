"""What every test shares: how Hypothesis looks for counter-examples."""

import os

from hypothesis import settings

# A slow machine is no failure, so no example has a time limit; the CI run is repeatable.
settings.register_profile("local", deadline=None)
settings.register_profile("ci", deadline=None, derandomize=True)
settings.load_profile("ci" if os.environ.get("CI") else "local")
