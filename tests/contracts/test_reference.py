"""The generated pages are what the code says."""

import pytest
from tools.write_reference import FOLDER, PAGES


@pytest.mark.parametrize("name", PAGES)
def test_a_reference_page_is_up_to_date(name: str) -> None:
    """Run `make docs` when this fails."""
    assert (FOLDER / name).read_text(encoding="utf-8") == PAGES[name]()
