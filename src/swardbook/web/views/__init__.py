"""The views, by what they show."""
