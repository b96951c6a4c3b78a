"""Programs that keep the house; not part of the package."""
