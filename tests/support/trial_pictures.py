"""Pictures of trials, from small made values."""

from datetime import date

from swardbook.figures.picture import Picture
from swardbook.figures.trial_means import MeanDrawn, picture_of_means
from swardbook.figures.trial_paths import Event, PathDrawn, picture_of_paths
from swardbook.figures.trial_values import ValuesDrawn, picture_of_values
from swardbook.husbandry.ground import Plot

DAYS = (date(2010, 10, 6), date(2011, 5, 18), date(2011, 9, 21))


def of_means() -> Picture:
    """Draw three mixtures and the unsown ground."""
    drawn = [
        MeanDrawn(name, value, value - 7, value + 7, marks, 4, name == "Unsown", f"{value:.0f}")
        for name, value, marks in (("Bobbin", 9.0, "a"), ("Thimble", 13.0, "ab"),
                                   ("Gatepost", 25.0, "b"), ("Unsown", 42.0, "c"))
    ]  # fmt: skip
    return picture_of_means(
        "Trial: too close to call among Bobbin, Thimble.", drawn, "% of the ground",
        "Mixtures that share a group mark, at the right, are not told apart.",
        "16 plots, adjusted for blocks; the plot is the unit.",
    )  # fmt: skip


def of_paths() -> Picture:
    """Draw three mixtures over three counts."""
    paths = [
        PathDrawn(name, DAYS, values)
        for name, values in (("Bobbin", (14.0, 33.0, 9.0)), ("Gatepost", (9.0, 27.0, 25.0)),
                             ("Unsown", (32.0, 61.0, 42.0)))
    ]  # fmt: skip
    events = (Event(date(2010, 9, 1), "sown"), Event(date(2011, 6, 9), "plot left out"))
    return picture_of_paths("Trial: 1 pair changed places.", paths, "%", events, gap=9.5)


def of_values() -> Picture:
    """Draw two blocks of three plots, one left out."""
    plots = tuple(
        Plot(f"{block}-{number:02d}", "Trial", block, number, name, row=block, column=number)
        for block in (1, 2)
        for number, name in enumerate(("Bobbin", "Thimble", "Gatepost"), 1)
    )
    figures = {plot.name: 10.0 * plot.block + plot.number for plot in plots}
    return picture_of_values(
        ValuesDrawn("Trial, plot by plot.", plots, figures, {"2-03": "fuel"}, "%")
    )
