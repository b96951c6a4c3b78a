"""Whatever goes on paper is tagged and titled for those who hear it, and the same twice."""

from __future__ import annotations

from collections.abc import Callable

import pypdf
import pytest

from swardbook.figures.card_sheet import card_sheet_pdf
from swardbook.figures.trial_sheets import papers_pdf
from tests.support.pdf_ua import faults_of
from tests.unit.figures.test_trial_sheets import papers

PAPERS: dict[str, Callable[[], bytes]] = {
    "papers of a trial": lambda: papers_pdf(papers()),
    "cards for photographs": card_sheet_pdf,
}


@pytest.mark.parametrize("name", PAPERS)
def test_it_has_what_pdf_ua_asks(name: str) -> None:
    assert faults_of(PAPERS[name]()) == []


@pytest.mark.parametrize("name", PAPERS)
def test_the_same_facts_give_the_same_bytes(name: str) -> None:
    assert PAPERS[name]() == PAPERS[name]()


def test_the_check_finds_a_pdf_without_tags() -> None:
    import io

    bare = pypdf.PdfWriter()
    bare.add_blank_page(100, 100)
    held = io.BytesIO()
    bare.write(held)
    told = faults_of(held.getvalue())
    assert "7.1: no structure tree" in told
    assert "7.1: not marked as tagged" in told
    assert "7.2: no language" in told
    assert any(each.startswith("5:") for each in told)


@pytest.mark.parametrize(
    ("body", "clause"),
    [("= One\n=== Three", "7.4.2"), ("no heading", "7.4.2"), ("= T\n#table([a], [b])", "7.5"),
     ('= T\n#image(bytes("<svg xmlns=\'http://www.w3.org/2000/svg\' width=\'9\' height=\'9\'>'
      '<rect width=\'5\' height=\'5\'/></svg>"), format: "svg")', "7.3")],
)  # fmt: skip
def test_the_check_finds_what_a_tagged_pdf_may_lack(body: str, clause: str) -> None:
    import typst

    source = f'#set document(title: "T", date: none)\n#set text(lang: "en")\n{body}'
    told = faults_of(typst.compile(source.encode(), format="pdf", timestamp=0))
    assert any(each.startswith(f"{clause}:") for each in told)
    assert any(each.startswith("5:") for each in told)
