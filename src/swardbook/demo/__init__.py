"""The made-up ground: everything a newcomer sees first."""
