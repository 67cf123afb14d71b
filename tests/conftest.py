"""For all tests: what Hypothesis draws is the same in every run of the same test, so that a run that passes passes again.

`make test ARGS=--hypothesis-profile=default` draws anew, to look for what nobody has met yet.
"""

from hypothesis import settings

settings.register_profile("alike", derandomize=True)
if settings.get_current_profile_name() == "default":
    settings.load_profile("alike")
