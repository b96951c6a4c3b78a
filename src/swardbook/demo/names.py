"""Names of the made-up ground that several modules need."""

from __future__ import annotations

from datetime import date

MAIN = "Main court"
SHORT = "Short court"
SURROUND = "Surround"
APRON = "Pavilion apron"
LIME_WALK = "Lime Walk"
TRIAL = "Trial ground"
NURSERY = "Turf nursery"

INES = "Ines"
BRAM = "Bram"
ODALYS = "Odalys"
TOBIAH = "Tobiah"
MAREN = "Maren"
CREW = "the crew"

MEADOW_GRASS = "annual meadow-grass"
FOG = "yorkshire fog"

TODAY = date(2011, 10, 8)
"""The made-up book's own today."""
