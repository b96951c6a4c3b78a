"""A mixture by weight and by number, side by side."""

from __future__ import annotations

from swardbook.figures.picture import INK, PALE, Picture, Table, data, finish
from swardbook.handbook.species import find_species
from swardbook.seed import MixtureByNumber

OTHERS = "Others, not named"
WEIGHT, NUMBER = "By weight, as on the label", "By number of seeds"


def picture_of_mixture(mixture: MixtureByNumber, name: str = "", note: str = "") -> Picture:
    """Draw what a mixture is by weight beside what it is by number of seeds.

    Parameters
    ----------
    mixture : MixtureByNumber
        The mixture.
    name : str
        What it is called, if anything.
    note : str
        What has to stand beside it.
    """
    import altair as alt

    rows: list[dict[str, str | float]] = []
    table: list[tuple[str, ...]] = []
    order = _labels(mixture)
    for label, part in zip(order, mixture.parts, strict=True):
        weight, number = part.component.share_by_weight, part.share_by_number
        rows.append(_bar(label, WEIGHT, weight))
        rows.append(_bar(label, NUMBER, number, (part.share_low, part.share_high)))
        told = _range(part.share_low, part.share_high)
        table.append((label, _percent(weight), _percent(number), told))
    if mixture.others_by_weight:
        order.append(OTHERS)
        rows.append(_bar(OTHERS, WEIGHT, mixture.others_by_weight))
        table.append((OTHERS, _percent(mixture.others_by_weight), "not known", ""))
    marks = alt.Axis(values=list(range(0, 101, 20)))
    scale = alt.Scale(domain=[0, 118])
    across = alt.X("share:Q", title="% of the whole", scale=scale, axis=marks)
    down = alt.Y("part:N", sort=order, title=None)
    base = alt.Chart().encode(y=down)
    drawn = alt.layer(
        base.mark_bar(height=18, fill=PALE, stroke=INK, strokeWidth=1).encode(x=across),
        base.mark_rule(stroke=INK, strokeWidth=2).encode(x="low:Q", x2="high:Q"),
        base.mark_text(align="left", dx=7).encode(x="end:Q", text="said:N"),
    ).properties(width=215, height=40 * len(order))
    chart = drawn.facet(
        column=alt.Column("what:N", sort=[WEIGHT, NUMBER], title=None), data=data(rows)
    )
    heads = ("component", "by weight", "by number", "as varieties differ")
    key = "Bar: share of the whole."
    if any("low" in row for row in rows):
        key += " Line on the bar: where the share can lie, as seed sizes differ among varieties."
    return finish(
        chart, _sentence(mixture, name), key, [Table("By component", heads, tuple(table))]
    )


def _labels(mixture: MixtureByNumber) -> list[str]:
    """Name each part; two of one species by their variety, or by their place on the label."""
    names = [find_species(part.component.species).english for part in mixture.parts]
    twins = [names.count(name) > 1 for name in names]
    return [
        f"{name}, {part.component.cultivar or number}" if twin else name
        for number, (name, twin, part) in enumerate(
            zip(names, twins, mixture.parts, strict=True), 1
        )
    ]


def _bar(
    label: str, what: str, share: float, spread: tuple[float, float] | None = None
) -> dict[str, str | float]:
    bar: dict[str, str | float] = {
        "part": label,
        "what": what,
        "share": 100 * share,
        "said": _percent(share),
    }
    if spread is None or not _range(*spread):
        return {**bar, "end": 100 * share}
    low, high = (100 * each for each in spread)
    return {**bar, "low": low, "high": high, "end": high}


def _sentence(mixture: MixtureByNumber, name: str) -> str:
    many = max(mixture.parts, key=lambda part: part.share_by_number)
    species = find_species(many.component.species).english
    told = (
        f"{species} is {_percent(many.component.share_by_weight)} of the weight and"
        f" {_percent(many.share_by_number)} of the seeds."
    )
    return f"{name}. {told}" if name else told


def _range(low: float, high: float) -> str:
    if _percent(low) == _percent(high):
        return ""
    return f"{100 * low:.0f} to {_percent(high)}"


def _percent(share: float) -> str:
    return f"{100 * share:.0f} %"
