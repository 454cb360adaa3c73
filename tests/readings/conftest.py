"""Weather of an invented town, and the typical years that pvlib brings along."""

from importlib.util import find_spec
from pathlib import Path

import pytest
from tests.readings.invented_town import year_of


@pytest.fixture(scope="session")
def year():
    return tuple(year_of())


@pytest.fixture
def read(tmp_path):
    """Writes a text to a file and reads it as weather."""
    from coldwright.readings.weather import read_weather

    def reading(text, name="town.epw"):
        path = tmp_path / name
        path.write_bytes(text if isinstance(text, bytes) else text.encode())
        return read_weather(path)

    return reading


@pytest.fixture(scope="session")
def samples():
    """Folder of the three weather files that pvlib's own package carries."""
    origin = find_spec("pvlib").origin
    return Path(origin).parent / "data"
