"""Pictures of values as SVG, each with its sentence and the table behind it."""
