"""One cache of compiled model code for the whole suite, in the clone; text as wide as a pipe's."""

import os
from pathlib import Path

os.environ.pop("COLUMNS", None)
os.environ.setdefault("SWARDBOOK_CACHE", str(Path(__file__).parents[1] / ".cache" / "swardbook"))
