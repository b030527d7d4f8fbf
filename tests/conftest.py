"""What every test shares: Hypothesis takes its time, and draws the same examples on every computer."""

from hypothesis import settings

settings.register_profile("sixface", deadline=None, derandomize=True)
settings.load_profile("sixface")
