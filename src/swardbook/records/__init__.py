"""The one database: the only package that speaks SQL."""
