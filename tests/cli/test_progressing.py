"""At a terminal a slow command says at once what it works on; in a pipe it says nothing."""

import os
import pty
import subprocess
import sys

import pytest

from swardbook.cli.progressing import at_once


def test_a_pipe_hears_nothing(capsys: pytest.CaptureFixture[str]) -> None:
    at_once("the plots")
    assert capsys.readouterr().err == ""


@pytest.mark.skipif(sys.platform == "win32", reason="no pseudo-terminal there")
def test_a_terminal_hears_it_on_standard_error() -> None:
    ours, theirs = pty.openpty()
    asked = "from swardbook.cli.progressing import at_once; at_once('the plots')"
    told = subprocess.run([sys.executable, "-c", asked], stderr=theirs, stdout=subprocess.PIPE,
                          check=True)  # fmt: skip
    os.close(theirs)
    heard = os.read(ours, 200).decode()
    os.close(ours)
    assert heard.strip() == "Working: the plots ..."
    assert told.stdout == b""
