"""Codes that change with time: the vectors of the standard, for SHA-1 and eight digits."""

from __future__ import annotations

import base64
from functools import partial

from swardbook.book.second_factor import code_at
from swardbook.foundation.provenance import Grade
from swardbook.handbook.parameters import value
from tests.support.checks import Check

SECRET = base64.b32encode(b"12345678901234567890").decode("ascii")
VECTORS = (
    (59, 94_287_082), (1_111_111_109, 7_081_804), (1_111_111_111, 14_050_471),
    (1_234_567_890, 89_005_924), (2_000_000_000, 69_279_037), (20_000_000_000, 65_353_130),
)  # fmt: skip
"""Seconds since 1970, and the code."""


def _code(seconds: int) -> float:
    return float(code_at(SECRET, seconds // int(value("second_factor_step_s")), digits=8))


CHECKS = [
    Check(
        f"second-factor-{seconds}", f"One-time code {seconds} s after 1970 began", "mraihi_2011",
        "appendix B, SHA-1", code, 0, Grade.PUBLISHED, partial(_code, seconds),
    )
    for seconds, code in VECTORS
]  # fmt: skip
