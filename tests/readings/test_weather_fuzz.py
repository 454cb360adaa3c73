"""Damaged weather files: weather or an error that says where, never a crash and never a hang."""

import random

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.readings.invented_town import epw, tmy3, year_of

from coldwright.errors import ReadingError
from coldwright.findings import CATALOGUE
from coldwright.readings.weather import Weather, read_weather

SIGNS = list("0123456789,.-:/?\n\r\t \"'\\%aZeENW\x00\x1aé\u2028")


@pytest.fixture(scope="module")
def texts(samples):
    tmy2 = (samples / "12839.tm2").read_text().split("\n")
    return [
        epw(year_of(days=4)),
        tmy3(year_of(days=4)),
        "\n".join(tmy2[:73]) + "\n",
    ]


def outcome(path):
    refused = None
    try:
        found = read_weather(path)
    except ReadingError as error:
        refused = error
    if refused is not None:
        assert refused.path == str(path)
        assert refused.message
        return refused
    assert isinstance(found, Weather)
    for one in found.findings:
        assert one.code in CATALOGUE
    for name in ("time_s", "air_K", "dew_point_K", "pressure_Pa", "wind_m_s", "global_W_m2",
                 "beam_W_m2", "diffuse_W_m2"):  # fmt: skip
        values = getattr(found, name)
        assert values.shape == (found.hours,)
        assert np.isfinite(values).all(), name
    assert (found.dew_point_K <= found.air_K).all()
    assert (found.global_W_m2 >= 0.0).all()
    assert (np.diff(found.time_s) == 3600.0).all()
    return found


@pytest.mark.parametrize("seed", range(20))
def test_500_damaged_files(texts, tmp_path, seed):
    rng = random.Random(seed)
    path = tmp_path / "town.epw"
    for _ in range(25):
        text = list(rng.choice(texts))
        for _ in range(rng.choice([1, 1, 2, 5, 20])):
            at = rng.randrange(rng.choice([min(900, len(text)), len(text)]))
            act = rng.randrange(5)
            if act == 0:
                del text[at : at + rng.choice([1, 3, 60, 400])]
            elif act == 1:
                text.insert(at, rng.choice(SIGNS))
            elif act == 2:
                text[at] = rng.choice(SIGNS)
            elif act == 3:
                text[at:at] = text[at : at + rng.choice([10, 200, 3000])]
            else:
                other = rng.randrange(len(text))
                text[at : at + 40], text[other : other + 40] = (
                    text[other : other + 40],
                    text[at : at + 40],
                )
            if len(text) < 50:
                break
        path.write_bytes("".join(text).encode("utf-8", "replace"))
        outcome(path)


@pytest.mark.parametrize("seed", range(4))
def test_fields_exchanged_for_odd_ones(texts, tmp_path, seed):
    rng = random.Random(100 + seed)
    odd = ["", "x", "nan", "inf", "-inf", "1e999", "-1e308", "0x10", "1_000", "٣", "1,5", '"', "-0",
           "9" * 40, "99.9", "-9900", "1e-320", "9999"]  # fmt: skip
    path = tmp_path / "town.epw"
    kinds = set()
    for _ in range(40):
        lines = rng.choice(texts[:2]).split("\n")
        for _ in range(rng.choice([1, 3, 30])):
            row = rng.randrange(len(lines) - 1)
            fields = lines[row].split(",")
            fields[rng.randrange(len(fields))] = rng.choice(odd)
            lines[row] = ",".join(fields)
        path.write_text("\n".join(lines), encoding="utf-8")
        kinds.add(type(outcome(path)))
    assert kinds == {Weather, ReadingError}


@settings(max_examples=200, deadline=None)
@given(
    st.binary(max_size=300),
    st.sampled_from([b"", b"LOCATION,", b" 12839 A B -5 N 25 48 W 8 1 2\n"]),
)
def test_any_bytes(tmp_path_factory, content, start):
    path = tmp_path_factory.getbasetemp() / "any.epw"
    path.write_bytes(start + content)
    assert isinstance(outcome(path), ReadingError)
