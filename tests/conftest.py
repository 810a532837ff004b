"""For all tests: no property has a time limit, as how long one takes is the machine's matter."""

from hypothesis import settings

settings.register_profile("house", deadline=None)
settings.load_profile("house")
