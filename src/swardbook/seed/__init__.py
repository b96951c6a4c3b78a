"""Seed arithmetic: lots, mixtures, rates, orders and the gates a lot must pass."""
