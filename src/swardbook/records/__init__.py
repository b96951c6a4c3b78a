"""The one database: the only package that speaks SQL."""

from swardbook.records import engine

engine.choose()
