"""Open a sealed guess."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.doors import Door, door_options
from swardbook.cli.guess_words import middle, name_of, said, settled_lines, short, shown_payload
from swardbook.cli.picturing import check_places, picture_option, with_picture
from swardbook.cli.wrapping import under
from swardbook.foundation.dates import say

if TYPE_CHECKING:
    from pathlib import Path

    from swardbook.book.guesses import Basis, Guess
    from swardbook.book.sealed import Unsealed
    from swardbook.figures.picture import Picture


@click.command()
@click.argument("guess")
@picture_option("the guess, opened, among the counts so far")
@door_options
def command(door: Door, guess: str, picture: Path | None) -> None:
    """Open a sealed guess, by the beginning of its id, with all it rests on.

    Opened before its count is due, that is kept beside it. A guess is never changed by it.
    """
    from swardbook.book.sealed import unseal

    check_places(picture)
    book = door.book()
    opened = unseal(book, guess)

    def draw() -> Picture:
        from swardbook.book.guess_pictures import draw_guess

        return draw_guess(book, opened.shown.guess, is_told=True)

    door.show(*with_picture(picture, draw, _payload(opened), _lines(opened)), book)


def _payload(opened: Unsealed) -> dict[str, Any]:
    from dataclasses import asdict

    from swardbook.cli.guess_words import guess_payload

    guess = opened.shown.guess
    basis = guess.basis
    return {
        "guess": shown_payload(opened.shown) | guess_payload(guess, figures=True),
        "opened_days_early": opened.days_early,
        "foretells": guess.foretells,
        "levels": list(guess.levels),
        "quantiles": list(guess.quantiles),
        "place_names": list(guess.places),
        "counter": guess.counter or None,
        "diary_entries": guess.diary_entries,
        "diary_checksum": guess.diary_head,
        "swardbook_version": guess.version,
        "rests_on": None if basis is None else _plain(asdict(basis)),
    }


def _plain(held: dict[str, Any]) -> dict[str, Any]:
    return {
        key: each.isoformat() if hasattr(each, "isoformat") else each for key, each in held.items()
    }


def _lines(opened: Unsealed) -> list[str]:
    guess = opened.shown.guess
    lines = under(short(guess), f"{name_of(guess)}.", 0)
    if opened.days_early:
        lines += under("", f"Opened {opened.days_early} days before its count is due. That is kept"
                       " beside it.", 0)  # fmt: skip
    lines += ["", *under("", f"Sealed on {say(guess.sealed_on)}: {said(guess)}. It foretells"
                         f" {guess.foretells}. Scored as {guess.means}.", 0)]  # fmt: skip
    if guess.basis is not None:
        lines += _rests_on(guess, guess.basis)
    lines += under("-", f"Diary: {guess.diary_entries} entries then, checksum"
                   f" {guess.diary_head[:12]}. swardbook {guess.version}.", 0)  # fmt: skip
    if opened.shown.settled is not None:
        return [*lines, "", *settled_lines(opened.shown)]
    waits = opened.shown.waits or "Its count has come: swardbook settle."
    return [*lines, "", *under("", waits, 0)]


def _rests_on(guess: Guess, basis: Basis) -> list[str]:
    weather = basis.weather_name.rstrip(".")
    parts = (
        f"Way of working: {basis.programme['name'].lower()}. Middle {middle(guess)}.",
        f"{basis.label.capitalize()}: {basis.draws:,} draws, fewest effective"
        f" {basis.effective_draws:,.0f}. Model {basis.kernel[:12]}.",
        f"Weather read: {say(basis.weather_first)} to {say(basis.weather_last)}, checksum"
        f" {basis.weather_fingerprint[:12]}. {weather}.",
    )
    return [line for part in parts for line in under("-", part, 0)]
