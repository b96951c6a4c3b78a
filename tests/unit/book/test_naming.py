"""What a name means in a zone, kept and read off the day."""

from datetime import date, timedelta
from pathlib import Path

from swardbook.book.naming import in_words, keep_name, name_from, names_here
from swardbook.husbandry.happenings import Sow
from swardbook.husbandry.worked_out import WorkedOut
from swardbook.planning.named import ABOUT
from tests.support.books import MAIN, TODAY, entry, small_book

RYE = ("upper=ribbed", "lower=glossy", "base=red", "vernation=folded", "auricles=small")
BENT = ("vernation=rolled", "ligule=blunt", "ligule_mm=1", "lower=dull", "upper=ribbed")
HEAD = ("head=cylinder",)


def test_ryegrass_where_none_was_sown_is_asked_about_once_more(tmp_path: Path) -> None:
    """F19."""
    book = small_book(tmp_path)
    book.store.add([entry(1, Sow("BB-0417", 30.0), TODAY - timedelta(days=400))])
    told = name_from(RYE, book=book, zone=MAIN.name)
    assert told.naming.likeliest.plant.key == "perennial ryegrass"
    assert told.is_sown is False
    assert told.advice.startswith(f"Perennial ryegrass was not sown in {MAIN.name}")


def test_what_was_sown_is_no_weed_and_one_that_looks_like_it_wants_the_check(
    tmp_path: Path,
) -> None:
    """Pulling sown bent as a weed is the slip that costs."""
    book = small_book(tmp_path)
    book.store.add([entry(1, Sow("BB-0417", 30.0), TODAY - timedelta(days=400))])
    sown = name_from((*BENT, "habit=underground runners"), book=book, zone=MAIN.name)
    assert sown.is_sown
    assert "no weed there" in sown.advice
    runners = ("vernation=rolled", "habit=runners", "ligule_mm=4", "lower=dull", "upper=ribbed")
    unsure = name_from(runners, book=book, zone=MAIN.name)
    assert unsure.advice.endswith("It may be browntop bent, which was sown in Main court.")
    creeping = name_from((*runners, "ligule=torn", "colour=bright", "head=narrow panicle"),
                         book=book, zone=MAIN.name)  # fmt: skip
    assert creeping.naming.likeliest.plant.key == "creeping bent"
    assert creeping.advice.startswith("Browntop bent was sown")


def test_a_kept_name_comes_back_with_all_that_was_seen(tmp_path: Path) -> None:
    book = small_book(tmp_path)
    told = name_from(RYE, book=book, zone=MAIN.name)
    kept = keep_name(book, told, who="Ines")
    assert isinstance(kept.what, WorkedOut)
    assert kept.what.about == ABOUT
    assert kept.what.given == told.looked.answers
    assert kept.what.named["plant"] == "perennial ryegrass"
    assert kept.what.words == in_words(told.naming)
    (here,) = names_here(book, MAIN.name)
    assert (here.plant.key, here.day) == ("perennial ryegrass", TODAY)


def test_the_month_of_flower_is_the_norths_in_either_half_of_the_world() -> None:
    told = name_from(HEAD, today=date(2011, 11, 10))
    assert told.looked.answers["flowering"] == "11"
    unknown = name_from((*HEAD, "flowering=?"), today=date(2011, 11, 10))
    assert "flowering" not in unknown.looked.answers
    assert "flowering" not in name_from(HEAD).looked.answers
