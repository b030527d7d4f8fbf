"""What every test shares: Hypothesis takes its time, and draws the same examples on every computer."""

import os

from hypothesis import settings

settings.register_profile("sixface", deadline=None, derandomize=True)
settings.load_profile("sixface")

#: The desk's tests drive a browser; they run where they are asked for: SIXFACE_BROWSER=1, with Playwright and Chromium.
collect_ignore = [] if os.environ.get("SIXFACE_BROWSER") else ["desk"]
