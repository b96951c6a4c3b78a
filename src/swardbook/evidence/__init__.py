"""Estimates, intervals, comparisons and verdicts."""
