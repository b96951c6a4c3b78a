"""A verb that records, with questions of its own under it: ``feed``, and ``feed plan``."""

from __future__ import annotations

import click


class Verb(click.Group):
    """A group that records by its own options where no command of it is named."""

    def __init__(self, *args: object, **attrs: object) -> None:
        attrs["invoke_without_command"] = True
        super().__init__(*args, **attrs)  # type: ignore[arg-type]
        self.subcommand_metavar = "[COMMAND ...]"


def is_asked_further() -> bool:
    """Tell whether a command under the verb is asked, so that nothing is to be recorded."""
    return click.get_current_context().invoked_subcommand is not None
