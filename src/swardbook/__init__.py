"""Renovate a weedy lawn by number: what to do this week, why, and whether it works."""

__version__ = "0.1.0"
