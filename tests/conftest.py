"""One cache of compiled model code for the whole suite; it lies in the clone, not in a home."""

import os
from pathlib import Path

os.environ.setdefault("SWARDBOOK_CACHE", str(Path(__file__).parents[1] / ".cache" / "swardbook"))
