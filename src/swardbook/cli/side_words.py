"""Mixtures side by side, in lines."""

from __future__ import annotations

from typing import TYPE_CHECKING

from swardbook.cli.output import table
from swardbook.cli.wrapping import under

if TYPE_CHECKING:
    from collections.abc import Iterable

    from swardbook.book.said import Sentence, Table
    from swardbook.book.side_by_side import SideBySide
    from swardbook.book.trial_choice import TrialChoice
    from swardbook.book.trials_together import TrialsTogether


def told_lines(told: Iterable[Sentence]) -> list[str]:
    """Lay sentences out as lines, each under its mark."""
    return [line for each in told for line in under(each.mark, each.words, 0)]


def table_lines(made: Table) -> list[str]:
    """Lay a table out as lines."""
    return table(made.heads, made.rows)


def side_lines(found: SideBySide, all_pairs: bool = False) -> list[str]:
    """Tell what a trial lets one say."""
    from swardbook.book import side_beside_words as beside
    from swardbook.book import side_words as words

    if found.said is None:
        return _described_lines(found)
    said = found.said
    lines = [*told_lines(words.head_told(found, said)), "",
             *table_lines(words.means_table(found, said)), ""]  # fmt: skip
    lines += told_lines([*words.gap_told(said), *words.verdict_told(said)])
    if all_pairs and said.pairs:
        lines += ["", "Every pair, the first ahead as found:"]
        lines += table_lines(words.pairs_table(said))
    lines += told_lines(words.planned_told(found))
    lines += ["", *told_lines(beside.check_told(found, said))]
    if found.crossings:
        lines += ["", *under("", beside.CROSSED, 0), *told_lines(beside.crossing_told(found))]
    apart = beside.liking_told(found, said)
    for told in (beside.plot_told(found, said), beside.beside_told(found, said), apart):
        lines += ["", *told_lines(told)] if told else []
    return [*lines, "", *told_lines(beside.scope_told(found))]


def _described_lines(found: SideBySide) -> list[str]:
    from swardbook.book import side_choice_words as words

    lines = [*told_lines([words.described_head(found)]), ""]
    lines += [*table_lines(words.described_table(found)), ""]
    return [*lines, *told_lines(words.described_told(found))]


def choice_lines(found: TrialChoice) -> list[str]:
    """Tell a choice over several traits."""
    from swardbook.book import side_choice_words as words

    return ["", *told_lines([words.choice_head(found)]), *table_lines(words.choice_table(found)),
            *told_lines(words.choice_told(found))]  # fmt: skip


def together_lines(found: TrialsTogether) -> list[str]:
    """Tell what holds over several trials."""
    from swardbook.book import side_choice_words as words

    return ["", *told_lines([words.together_head(found)]),
            *table_lines(words.together_table(found)),
            *told_lines(words.together_told(found))]  # fmt: skip
