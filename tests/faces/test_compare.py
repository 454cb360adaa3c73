"""`compare` as a person meets it: what each row costs and asks, and what is not known."""

import json
from pathlib import Path

import pytest

from coldwright.faces.cli.page import columns

DEMOS = Path(__file__).resolve().parents[2] / "demos"
KIOSK = DEMOS / "kiosk" / "week.toml"


@pytest.fixture
def quiet(tmp_path):
    """The kiosk with fans that do not tell how loud they are."""
    lines = KIOSK.read_text(encoding="utf-8").splitlines()
    path = tmp_path / "sheet.toml"
    path.write_text("\n".join(x for x in lines if not x.startswith("sound_at_1m")))
    return path


def test_every_row_says_what_it_asks_and_what_is_known_of_its_price_and_water(call):
    text = call("compare", KIOSK, "--no-comfort").stdout
    rows = text[text.index("Side by side") : text.index("The person")]
    assert all(columns(line) <= 80 for line in text.split("\n"))
    assert rows.count("asks: ") == len(json.loads(
        call("compare", KIOSK, "--no-comfort", "--json").stdout
    )["rows"])  # fmt: skip
    assert "L of water a day" in rows
    assert "price 383" in rows
    assert "– not known, or not for this way" in rows


def test_unknown_noise_is_marked(call, quiet):
    text = call("compare", quiet, "--no-comfort").stdout
    own = next(line for line in text.split("\n") if line.startswith("  this cooler  "))
    assert own.rstrip().endswith("–")


def test_what_the_jet_takes_for_granted_and_the_same_days_are_told(call):
    text = " ".join(call("compare", KIOSK, "--no-comfort").stdout.split())
    assert "cooler.cold_fan.diameter = 100 mm" in text
    assert "All are followed through the day" in text
    assert "CW-PERSON-01" in text
    assert "CW-CLIMATE-05" not in text
