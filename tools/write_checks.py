"""Write `docs/reference/checks.csv`: every published value, and what swardbook gets."""

from __future__ import annotations

import csv
import sys
from pathlib import Path

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT))

from tests.support.checks import all_checks  # noqa: E402

from swardbook.handbook.sources import source  # noqa: E402

HEADS = (
    "id", "what", "source", "how_read", "place", "expected", "got", "tolerance", "grade", "ok"
)  # fmt: skip


def main() -> int:
    """Write one row a check; 1 if any is off."""
    rows = []
    for check in all_checks():
        got = float(check.got())
        ok = abs(got - check.expected) <= check.tolerance
        rows.append(
            (check.id, check.what, check.source, source(check.source).how_read, check.place,
             f"{check.expected:g}", f"{got:.6g}", f"{check.tolerance:g}", check.grade.value,
             "yes" if ok else "NO")
        )  # fmt: skip
    with (ROOT / "docs" / "reference" / "checks.csv").open(
        "w", encoding="utf-8", newline=""
    ) as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(HEADS)
        writer.writerows(rows)
    off = [row for row in rows if row[-1] != "yes"]
    print(f"{len(rows)} checks written, {len(off)} off")
    return 1 if off else 0


if __name__ == "__main__":
    sys.exit(main())
