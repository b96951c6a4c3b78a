"""Many grounds written into a new book at once, such as a firm's made-up lawns."""

from swardbook.records.bulk import FilledGround, fill_grounds

__all__ = ["FilledGround", "fill_grounds"]
