"""A busy machine is no counter-example: laws are tested without a deadline."""

from hypothesis import settings

settings.register_profile("house", deadline=None)
settings.load_profile("house")
