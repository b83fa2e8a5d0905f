"""What holds for every test: no screen, no network of settings, small examples by default."""

import os

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
os.environ.setdefault("MPLBACKEND", "Agg")

from hypothesis import HealthCheck, settings

settings.register_profile("quick", max_examples=50, deadline=None, derandomize=True)
settings.register_profile(
    "thorough", max_examples=2000, deadline=None, suppress_health_check=[HealthCheck.too_slow]
)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "quick"))
