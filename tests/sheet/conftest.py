"""Sheets of the released format, and one kiosk text that tests change."""

from pathlib import Path

import pytest

from coldwright.errors import SheetInvalid
from coldwright.sheet.file import read, read_text

SAVED = Path(__file__).parent / "saved"


@pytest.fixture(scope="session")
def kiosk_text():
    return (SAVED / "v1_kiosk.toml").read_text(encoding="utf-8")


@pytest.fixture(scope="session")
def simplest_text():
    return (SAVED / "v1_simplest.toml").read_text(encoding="utf-8")


@pytest.fixture(scope="session")
def kiosk():
    return read(SAVED / "v1_kiosk.toml")


@pytest.fixture(scope="session")
def cabinet():
    return read(SAVED / "v1_cabinet.toml")


@pytest.fixture(scope="session")
def simplest():
    return read(SAVED / "v1_simplest.toml")


@pytest.fixture(scope="session")
def faults():
    """Reads a bad text and gives its findings by path."""

    def findings(text):
        with pytest.raises(SheetInvalid) as caught:
            read_text(text, "sheet.toml")
        return {finding.where: finding for finding in caught.value.findings}

    return findings


@pytest.fixture(scope="session")
def replaced():
    """Replaces one piece of a text, which must be there exactly as often as told."""

    def replace(text, old, new, times=1):
        assert text.count(old) >= times, old
        return text.replace(old, new, times)

    return replace
