"""A picture or a voice note that was kept as it is, with nothing measured in it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar
from uuid import UUID

PICTURE, VOICE_NOTE = "picture", "voice note"


@dataclass(frozen=True, slots=True)
class Attachment:
    """A picture or a voice note: of a peg, of a plot, or beside another entry.

    Parameters
    ----------
    what : str
        ``picture`` or ``voice note``.
    file : str
        SHA-256 of the file as it came, by which its copies are kept.
    ending : str
        Ending of the kept file, by its content: ``jpg``, ``webm`` and so on.
    of : UUID or None
        The entry it belongs to; it may be written before that one.
    peg, plot : str
        What it shows; empty where that is not said.
    taken_at : str
        Moment by the camera's clock, ISO, without a zone; empty if not written.
    """

    kind: ClassVar[str] = "attachment"
    what: str = PICTURE
    file: str = ""
    ending: str = ""
    of: UUID | None = None
    peg: str = ""
    plot: str = ""
    taken_at: str = ""
