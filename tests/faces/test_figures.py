"""Figures: digits that the interval deserves, one unit for figure and bounds, words for nothing."""

import math
from dataclasses import dataclass

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from coldwright.quantities.display import span_of_time
from coldwright.quantities.glossary import display
from coldwright.report.figures import figure, plain


@dataclass
class Held:
    value: float | None
    low: float | None = None
    high: float | None = None


def number(text):
    return float(text.replace("−", "-"))


@pytest.mark.published(
    "JCGM 100:2008 (GUM), 7.2.6: 10.057 62 ohm with 27 mohm is given as 10.058 ohm (from memory)"
)
def test_digits_follow_the_uncertainty():
    shown = figure("resistance", Held(10.05762, 10.05762 - 0.027, 10.05762 + 0.027))
    assert shown.number == "10.058"


@given(st.floats(1.0, 9e3), st.floats(0.02, 2e3))
def test_one_or_two_digits_of_the_half_width_and_no_more(value_W, half_W):
    """GUM 7.2.6: uncertainties with at most two significant digits; here one from 3 on."""
    assume(half_W < value_W)
    shown = figure("cooling_W", Held(value_W, value_W - half_W, value_W + half_W))
    digits = len(shown.number.partition(".")[2])
    assert len(shown.low.partition(".")[2]) == len(shown.high.partition(".")[2]) == digits
    last = 10.0**-digits
    assert half_W > 0.95 * last  # the last digit shown is not finer than the interval
    assert half_W < 31.0 * last or digits == 0  # and not so coarse that the interval is lost
    for text, true in ((shown.number, value_W), (shown.low, value_W - half_W)):
        assert number(text) == pytest.approx(true, abs=0.5001 * last)


def test_temperatures_are_shown_in_degrees_and_differences_in_kelvin():
    shown = figure("place_air_K", Held(307.65, 306.65, 308.55))
    assert (shown.number, shown.unit, shown.span) == ("34.5", "°C", "33.5 to 35.4")
    assert figure("lift_K", Held(32.4, 30.9, 34.0)).text == "32.4\u2009K"


def test_a_wide_interval_does_not_take_the_tenth_of_a_degree():
    assert figure("plate_K", Held(282.95, 279.55, 286.45)).number == "9.8"


def test_nothing_is_never_for_times_and_not_known_for_all_else():
    assert figure("time_to_goal_s", Held(None)).text == "never"
    assert figure("sound_dB", Held(None)).text == "not known"
    assert figure("cooling_W", Held(math.nan)).text == "not known"


def test_a_bound_may_be_never():
    shown = figure("time_to_goal_s", Held(1800.0, 1200.0, None))
    assert (shown.text, shown.span) == ("30\u2009min", "20 to never")
    shown = figure("time_to_goal_s", Held(None, 1200.0, None))
    assert (shown.text, shown.span) == ("never", "20 to never")


def test_no_interval_no_span():
    shown = figure("plug_power_W", Held(302.0))
    assert (shown.text, shown.span) == ("302\u2009W", "")


def test_an_interval_without_width_is_no_reason_to_fail():
    assert number(figure("net_cooling_W", Held(5.0, 5.0, 5.0)).number) == 5.0
    assert number(figure("net_cooling_W", Held(0.0, 0.0, 0.0)).number) == 0.0


def test_signs_are_true_and_nought_has_none():
    assert figure("net_cooling_W", Held(-149.0, -207.0, -102.0)).number == "−149"
    assert plain(-0.04) == "0.0"
    assert plain(-0.06) == "−0.1"


def test_spans_of_time_are_round():
    assert span_of_time(3600.0) == "60\u2009min"
    assert span_of_time(14400.0) == "4\u2009h"
    assert span_of_time(90.0) == "90\u2009s"
    assert span_of_time(14 * 86400.0) == "14\u2009d"


def test_a_cop_has_two_digits_however_narrow_its_interval():
    shown = figure("cop_net", Held(-0.9653, -0.9674, -0.9633))
    assert (shown.number, shown.span) == ("−0.97", "−0.97 to −0.96")


def test_money_has_its_currency():
    assert figure("price", Held(383.0), "EUR").text == "383.00\u2009EUR"
    cost = figure("price_per_day", Held(2.72, 2.58, 2.87), "EUR")
    assert (cost.text, cost.span) == ("2.72\u2009EUR", "2.58 to 2.87")
    assert figure("price", Held(None), "EUR").text == "not known"


def test_what_is_reached_from_the_start_is_reached_at_once():
    assert figure("time_to_goal_s", Held(0.0)).text == "at once"
    assert figure("time_to_goal_s", Held(0.0, 0.0, 0.0)).text == "at once"
    assert figure("time_to_goal_s", Held(0.0, 0.0, 60.0)).text != "at once"


@pytest.mark.parametrize(
    ("time_s", "said"),
    [
        (45.0, "45 s"), (3600.0, "60 min"), (7200.0, "2 h"), (86400.0, "24 h"),
        (9 * 86400.0, "9 d"), (365.25 * 86400.0, "365 d"), (10 * 365.25 * 86400.0, "10 years"),
        (1e12, "more than 1000 years"),
    ],
)  # fmt: skip
def test_spans_of_time_read_as_people_say_them(time_s, said):
    assert span_of_time(time_s).replace("\u2009", " ") == said


def test_small_watts_are_milliwatts():
    assert display("heat_load_W", 0.00275) == "2.75\u2009mW"
    assert display("heat_load_W", 0.0) == "0\u2009W"
