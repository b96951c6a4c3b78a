"""A command that records by itself and has plans under it: ``cut`` and ``cut plan``."""

from __future__ import annotations

from importlib import import_module

import click


class Recording(click.Group):
    """Records when called alone; what stands under it is imported when it is asked for."""

    module = ""
    plans: tuple[str, ...] = ()

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Give the names of what stands under it."""
        return list(self.plans)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Import one of them."""
        if cmd_name not in self.plans:
            return None
        found: click.Command = getattr(import_module(self.module), cmd_name.replace("-", "_"))
        return found

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """Offer the nearest name for one that is unknown."""
        if args and args[0] not in self.plans and not args[0].startswith("-"):
            from swardbook.foundation.errors import UnknownNameError

            ctx.fail(str(UnknownNameError(f"command under {ctx.info_name}", args[0], self.plans)))
        return super().resolve_command(ctx, args)


def is_recording() -> bool:
    """Tell whether the command was called alone, and so has to record.

    Raises
    ------
    click.UsageError
        If options of an entry stand before the name of a plan, where they would be lost.
    """
    context = click.get_current_context()
    if context.invoked_subcommand is None:
        return True
    said = [
        name
        for name in context.params
        if context.get_parameter_source(name) is click.core.ParameterSource.COMMANDLINE
    ]
    if said:
        raise click.UsageError(
            f"Options go behind {context.invoked_subcommand!r}; those before it are for recording."
        )
    return False
