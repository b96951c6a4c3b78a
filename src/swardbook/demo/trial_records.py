"""The made-up trial as records: plots, sowings, counts, and the two things that went wrong."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import date

from swardbook.demo.names import BRAM, FOG, INES, MEADOW_GRASS, ODALYS, TRIAL
from swardbook.demo.trial_generator import (
    OCCASIONS,
    POINTS,
    Place,
    Trial,
    TrialRow,
    adding_up,
    draw_trial,
)
from swardbook.demo.writing import done, identity
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import Plot
from swardbook.husbandry.happenings import Changed, Count, Sow
from swardbook.husbandry.worked_out import WorkedOut
from swardbook.observations.counts import Method, PlaceCount

PLANNED_ON = "2010-08-28"
SOWN_ON = "2010-09-01"
FOUND_ON = "2010-11-17"
SPILT_ON = date(2011, 6, 9)
KINDS = {
    "sown": "sown", "amg": MEADOW_GRASS, "fog": FOG, "broad": "broad-leaved", "moss": "moss",
    "bare": "bare",
}  # fmt: skip
PLOT_M2 = 3.0
RATES = {
    # mixture: (lot, g/m²)
    "Bobbin": ("BB-0417", 30.0), "Thimble": ("TH-1182", 9.0), "Candlewick": ("CW-0093", 35.0),
    "Gatepost": ("GP-2240", 35.0), "Teacake": ("TC-0771", 35.0), "Wheelbarrow": ("WB-0318", 35.0),
    "Pocketwatch": ("PW-0555", 30.0), "Umbrella": ("UM-0644", 35.0), "Haystack": ("HS-1009", 45.0),
}  # fmt: skip


def plot_name(place: Place) -> str:
    """Name a plot by its block and number, such as ``3-08``."""
    return f"{place[0]}-{place[1]:02d}"


def plots() -> tuple[Plot, ...]:
    """Give the 40 plots as they stand: planned, and as it happened."""
    trial = draw_trial()
    return tuple(
        Plot(
            plot_name(place), TRIAL, place[0], place[1], planned,
            sown="Pocketwatch" if place == trial.mis_sown else "",
            left_out_from=SPILT_ON if place == trial.spoiled else None,
            why_left_out="Fuel spilt, 0.8 m² dead." if place == trial.spoiled else "",
            row=2 * (place[0] - 1) + (place[1] - 1) // 5 + 1, column=(place[1] - 1) % 5 + 1,
        )
        for place, planned in trial.plan.items()
    )  # fmt: skip


def trial_entries() -> list[DiaryEntry]:
    """Write the plan, the sowing, its correction, the spoiled plot and the six counts."""
    trial = draw_trial()
    return [_set_out(), *_sowings(trial), *_corrections(trial), _spoiled(trial), *_counts(trial)]


def _set_out() -> DiaryEntry:
    """Write the plan that the plots were pegged out by; it was drawn with another program."""
    entries = [[name, lot, rate] for name, (lot, rate) in RATES.items()] + [["Unsown", "", 0.0]]
    what = WorkedOut(
        "trial set-out", "10 entries, 40 plots, 4 blocks",
        {"mixtures": json.dumps([lot for lot, _ in RATES.values()]), "control": "yes",
         "ends": "wet south, dry north", "across": "west, east"},
        {"draws": 1.0, "blocks": 4.0, "rows": 2.0, "plot_width_m": 1.5, "plot_length_m": 2.0,
         "passes": 3.0, "overlap_m": 0.015, "path_m": 0.75, "guard_m": 1.0, "efficiency": 1.0},
        {"design": "randomised blocks", "entries": json.dumps(entries), "within": "[]",
         "once": "[]", "order": "shuffled", "trait": "cover of annual meadow-grass"},
    )  # fmt: skip
    return done(PLANNED_ON, TRIAL, what, INES, note="Pegged out with two tapes.")


def _sow(mixture: str, places: list[Place]) -> Sow:
    lot, rate = RATES[mixture]
    area = PLOT_M2 * len(places)
    return Sow(lot, rate, area, rate * area, "seedbed", watered=True)


def _sown_key(mixture: str) -> str:
    return f"{SOWN_ON} {TRIAL} sow {mixture}"


def _places(trial: Trial, mixture: str) -> list[Place]:
    return [place for place, planned in trial.plan.items() if planned == mixture]


def _note(mixture: str, places: list[Place]) -> str:
    return f"{mixture} on plots {', '.join(plot_name(place) for place in places)}."


def _sowings(trial: Trial) -> list[DiaryEntry]:
    entries = []
    for mixture in RATES:
        places = _places(trial, mixture)
        entry = done(
            SOWN_ON, TRIAL, _sow(mixture, places), INES, hours=0.5, note=_note(mixture, places)
        )
        entries.append(replace(entry, id=identity(_sown_key(mixture))))
    return entries


def _corrections(trial: Trial) -> list[DiaryEntry]:
    """Put right what the weights of the leftovers gave away; the old entries are kept."""
    name = plot_name(trial.mis_sown)
    why = f"Leftovers on 17 November: Pocketwatch 90 g light, Teacake 105 g heavy; so {name}."
    as_sown = {
        "Teacake": [p for p in _places(trial, "Teacake") if p != trial.mis_sown],
        "Pocketwatch": [*_places(trial, "Pocketwatch"), trial.mis_sown],
    }
    entries = []
    for mixture, places in as_sown.items():
        entry = done(
            SOWN_ON, TRIAL, _sow(mixture, places), INES, hours=0.5,
            note=f"{_note(mixture, places)} {why}", written_on=FOUND_ON,
        )  # fmt: skip
        entries.append(
            replace(
                entry,
                id=identity(f"{_sown_key(mixture)} put right"),
                corrects=identity(_sown_key(mixture)),
            )
        )
    changed = Changed(f"plot {name}", "Teacake, as planned", "Pocketwatch, as sown", why)
    return [*entries, done(FOUND_ON, TRIAL, changed, INES, hours=0.5)]


def _spoiled(trial: Trial) -> DiaryEntry:
    name = plot_name(trial.spoiled)
    why = "Fuel spilt while filling the mower: 0.8 m² dead."
    return done(SPILT_ON.isoformat(), TRIAL, Changed(f"plot {name}", "in", "left out", why), BRAM)


def _counts(trial: Trial) -> list[DiaryEntry]:
    """Write one entry for each counter on each of the six days."""
    grouped: dict[tuple[int, str], list[TrialRow]] = {}
    for row in trial.rows:
        grouped.setdefault((row.occasion, row.counter), []).append(row)
    entries = []
    for (occasion, counter), rows in grouped.items():
        count = Count(tuple(_place_count(row) for row in rows), OCCASIONS[occasion])
        hours = round(len(rows) * 1.25 / 60, 1)
        who = counter if counter == ODALYS else INES
        entries.append(done(rows[0].day.isoformat(), TRIAL, count, who, hours=hours))
    return entries


def _place_count(row: TrialRow) -> PlaceCount:
    found = {KINDS[kind]: float(n) for kind, n in adding_up(row.hits).items()}
    return PlaceCount(
        plot_name((row.block, row.plot)), Method.POINTS, found, POINTS, row.counter, row.placement
    )
