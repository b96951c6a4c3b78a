"""What is kept of a secret that need not be kept itself."""

from __future__ import annotations

from hashlib import sha256


def fingerprint(text: str) -> str:
    """Hash a token, or a name or an address of wrong log-ins."""
    return sha256(text.encode()).hexdigest()
