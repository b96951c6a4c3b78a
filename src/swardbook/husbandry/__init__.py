"""Pieces of ground, what was sown on them, and what was done and seen there."""
