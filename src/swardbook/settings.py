"""One frozen `Settings`, read once at the front door and passed on."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

from swardbook.foundation.errors import BadInputError
from swardbook.foundation.units import read_units


@dataclass(frozen=True, slots=True)
class Setting:
    """One row of the table of settings."""

    name: str
    environment: str
    default: str
    help: str


SETTINGS = (
    Setting("home", "SWARDBOOK_HOME", "", "Folder of the book; empty: the platform's data folder."),
    Setting(
        "cache",
        "SWARDBOOK_CACHE",
        "",
        "Folder for what can be made again; empty: the platform's cache folder.",
    ),
    Setting("database", "SWARDBOOK_DATABASE", "", "Another database; empty: one SQLite file."),
    Setting(
        "copies",
        "SWARDBOOK_COPIES",
        "",
        "Folder for safe copies, best on another disk; empty: copies, beside the book.",
    ),
    Setting(
        "copies_kept",
        "SWARDBOOK_COPIES_KEPT",
        "",
        "How many daily, weekly and monthly copies stay, such as 7,5,12; empty: the handbook's.",
    ),
    Setting("ground", "SWARDBOOK_GROUND", "", "Which ground of a book that holds several."),
    Setting("draws", "SWARDBOOK_DRAWS", "4096", "Draws of a look-ahead; a multiple of 64."),
    Setting("debug", "SWARDBOOK_DEBUG", "", "Anything: a fault is printed in full, to report it."),
    Setting(
        "log",
        "SWARDBOOK_LOG",
        "",
        "json: one line to standard error for each answer of the pages, without who asked or what.",
    ),
    Setting("threads", "SWARDBOOK_THREADS", "2", "Threads of a look-ahead; results do not change."),
    Setting("units", "SWARDBOOK_UNITS", "", "metric, imperial or us; empty: as the book says."),
    Setting(
        "decimal_mark", "SWARDBOOK_DECIMAL_MARK", "", "point or comma; empty: as the book says."
    ),
    Setting(
        "weather_address",
        "SWARDBOOK_WEATHER_ADDRESS",
        "",
        "A daily weather service: https://, with {latitude}, {longitude}, {first}, {last} and"
        " {key} where they go; empty: nothing is fetched.",
    ),
    Setting("weather_key", "SWARDBOOK_WEATHER_KEY", "", "The key of that service, if it has one."),
    Setting(
        "weather_credit",
        "SWARDBOOK_WEATHER_CREDIT",
        "",
        "What that service wants said wherever its weather is shown.",
    ),
    Setting(
        "weather_hours",
        "SWARDBOOK_WEATHER_HOURS",
        "6",
        "Hours for which a fetched answer is taken as fresh.",
    ),
    Setting(
        "weather_daily",
        "SWARDBOOK_WEATHER_DAILY",
        "",
        "Anything: weather is fetched each night while pages are served.",
    ),
    Setting(
        "night_draws", "SWARDBOOK_NIGHT_DRAWS", "512",
        "Draws of a look-ahead made at night; a multiple of 64.",
    ),
    Setting(
        "night_days", "SWARDBOOK_NIGHT_DAYS", "7",
        "Days for which a look-ahead of the night stands where nothing was written; 0: none.",
    ),
    Setting(
        "lease", "SWARDBOOK_LEASE", "60",
        "Seconds for which a job is held by its worker without word from it.",
    ),
    Setting(
        "attempts", "SWARDBOOK_ATTEMPTS", "3", "How often a job is begun before it has failed."
    ),
    Setting(
        "strict", "SWARDBOOK_STRICT", "",
        "Anything: the model rounds alike on all processors, somewhat slower; other bits.",
    ),
    Setting(
        "invitation_days", "SWARDBOOK_INVITATION_DAYS", "",
        "Days that an invitation holds; empty: as the handbook says.",
    ),
    Setting(
        "left_behind_days", "SWARDBOOK_LEFT_BEHIND_DAYS", "",
        "Days in which what waits on the phone of who has left is taken; empty: the handbook's.",
    ),
    Setting(
        "who_saw_days", "SWARDBOOK_WHO_SAW_DAYS", "",
        "Days for which is kept who opened pages with personal data; empty: the handbook's.",
    ),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class WeatherService:
    """A service that is asked for daily weather.

    Parameters
    ----------
    address : str
        Where, with words in braces for what goes in.
    key : str
        Its key; never shown.
    credit : str
        What is to be said wherever its weather is shown.
    hours : int
        For how long an answer is fresh. [h]
    is_daily : bool
        Whether it is asked each night while pages are served.
    """

    address: str
    key: str = field(default="", repr=False)
    credit: str = ""
    hours: int = 6
    is_daily: bool = False


@dataclass(frozen=True, slots=True)
class PeopleDays:
    """For how many days something of people holds or is kept; 0: as the handbook says.

    Parameters
    ----------
    invitation : int
        An invitation holds. [d]
    left_behind : int
        What waits on the phone of somebody who has left is taken. [d]
    who_saw : int
        Is kept who opened pages with personal data. [d]
    """

    invitation: int = 0
    left_behind: int = 0
    who_saw: int = 0


@dataclass(frozen=True, slots=True)
class MachineWork:
    """How the machine's own work is done.

    Parameters
    ----------
    draws : int
        Draws of a look-ahead made at night.
    days : int
        A look-ahead made at night stands for so long where nothing was written; 0: none is made.
        [d]
    lease : int
        A job is held for so long without word from its worker. [s]
    attempts : int
        How often a job is begun before it has failed.
    """

    draws: int = 512
    days: int = 7
    lease: int = 60
    attempts: int = 3


@dataclass(frozen=True, slots=True)
class Settings:
    """How this installation is set."""

    home: Path
    database: str = ""
    draws: int = 4096
    threads: int = 2
    cache_folder: Path | None = None
    units: str = ""
    decimal_mark: str = ""
    ground: str = ""
    log: str = ""
    weather: WeatherService | None = None
    people_days: PeopleDays = PeopleDays()
    copies_folder: Path | None = None
    copies_kept: str = ""
    machine_work: MachineWork = MachineWork()
    strict: bool = False

    @property
    def book_file(self) -> Path:
        """The SQLite file of the book."""
        return self.home / "book.sqlite3"

    @property
    def pictures(self) -> Path:
        """Folder for photographs, beside the book."""
        return self.home / "pictures"

    @property
    def copies(self) -> Path:
        """Folder for safe copies."""
        return self.copies_folder or self.home / "copies"

    @property
    def cache(self) -> Path:
        """Folder for compiled model code and other things that can be made again."""
        return self.cache_folder or self.home / "cache"


def read_settings(environment: Mapping[str, str]) -> Settings:
    """Read the settings from environment variables.

    Raises
    ------
    BadInputError
        If a number is none, or out of range.
    """
    raw = {row.name: environment.get(row.environment, "") or row.default for row in SETTINGS}
    home = Path(raw["home"]).expanduser() if raw["home"] else _platform_home()
    cache = Path(raw["cache"]).expanduser() if raw["cache"] else _platform_cache()
    draws = _draws(raw["draws"], "SWARDBOOK_DRAWS")
    threads = _whole(raw["threads"], "SWARDBOOK_THREADS", 1)
    read_units(raw["units"], raw["decimal_mark"])
    shown = (raw["units"], raw["decimal_mark"])
    if raw["log"] not in {"", "json"}:
        raise BadInputError("SWARDBOOK_LOG", raw["log"], "json, or nothing")
    service = _service(raw)
    return Settings(
        home, raw["database"], draws, threads, cache, *shown, raw["ground"], raw["log"], service,
        PeopleDays(*(_days(raw, name) for name in ("invitation", "left_behind", "who_saw"))),
        Path(raw["copies"]).expanduser().absolute() if raw["copies"] else None, raw["copies_kept"],
        _machine_work(raw), bool(raw["strict"]),
    )  # fmt: skip


def _machine_work(raw: Mapping[str, str]) -> MachineWork:
    return MachineWork(
        _draws(raw["night_draws"], "SWARDBOOK_NIGHT_DRAWS"),
        _whole(raw["night_days"], "SWARDBOOK_NIGHT_DAYS", 0),
        _whole(raw["lease"], "SWARDBOOK_LEASE", 2),
        _whole(raw["attempts"], "SWARDBOOK_ATTEMPTS", 1),
    )


def _draws(text: str, name: str) -> int:
    draws = _whole(text, name, 64)
    if draws % 64:
        raise BadInputError(name, text, "a multiple of 64", "Try 4096.")
    return draws


def _days(raw: Mapping[str, str], name: str) -> int:
    told, setting = raw[f"{name}_days"], f"SWARDBOOK_{name.upper()}_DAYS"
    return min(_whole(told, setting, 1), 3_660) if told else 0


def _service(raw: Mapping[str, str]) -> WeatherService | None:
    hours = _whole(raw["weather_hours"], "SWARDBOOK_WEATHER_HOURS", 1)
    if not raw["weather_address"]:
        return None
    return WeatherService(
        raw["weather_address"], raw["weather_key"], raw["weather_credit"][:300], hours,
        bool(raw["weather_daily"]),
    )  # fmt: skip


def _platform_home() -> Path:
    from platformdirs import user_data_path

    return user_data_path("swardbook", appauthor=False)


def _platform_cache() -> Path:
    from platformdirs import user_cache_path

    return user_cache_path("swardbook", appauthor=False)


def _whole(text: str, name: str, least: int) -> int:
    if not text.isdecimal() or int(text) < least:
        raise BadInputError(name, text, f"a whole number of at least {least}")
    return int(text)
