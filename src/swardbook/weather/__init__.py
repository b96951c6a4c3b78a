"""Daily weather as checked arrays, and what follows from it."""
