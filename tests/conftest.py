"""Settings that all tests share."""

from __future__ import annotations

import os

from hypothesis import HealthCheck, settings

# `ci` gives the same examples on every run; `deep` is for a night with a seed:
# pytest --hypothesis-profile=deep --hypothesis-seed=N
settings.register_profile(
    "ci",
    derandomize=True,
    print_blob=False,
    deadline=None,
    database=None,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.register_profile("local", parent=settings.get_profile("ci"), derandomize=False)
settings.register_profile(
    "deep", parent=settings.get_profile("ci"), derandomize=False, max_examples=20_000
)
settings.load_profile(os.environ.get("SHUTPROOF_HYPOTHESIS", "ci"))
