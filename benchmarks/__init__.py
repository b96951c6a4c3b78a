"""Ratios measured in one run; never a wall time asserted in a test."""
