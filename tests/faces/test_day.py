"""`day` as a person meets it: order, width, words; text, JSON, table and picture of one answer."""

import csv
import json
import re
import shutil
from pathlib import Path

import pytest
from tests.answers.test_day import BOX, THERMOSTAT, steady

from coldwright.answers import day
from coldwright.faces.cli.page import columns
from coldwright.sheet.file import read

DEMOS = Path(__file__).resolve().parents[2] / "demos"
KIOSK = DEMOS / "kiosk" / "week.toml"
CABINET = DEMOS / "cabinet" / "week.toml"
UNWANTED = re.compile(
    r"\b(study|trial|settings?|laws?|workbench|wall power|draws?|impossible to)\b", re.IGNORECASE
)


@pytest.fixture
def box(tmp_path):
    path = tmp_path / "box.toml"
    path.write_text(BOX + THERMOSTAT, encoding="utf-8")
    return path


def plot(text):
    """Lines of the chart."""
    return [line for line in text.split("\n") if "│" in line]


def test_the_order_is_that_of_every_answer(call):
    text = call("day", KIOSK, "--tries", "0").stdout
    assert text.split("\n")[0] == "Ticket kiosk, hot July days"
    marks = ["The room is above", "· The worst hour", "Air of the place, on average",
             "Hour by hour", "clock", "What warms the place's air", "Findings",
             "Next\n"]  # fmt: skip
    places = [text.index(mark) for mark in marks]
    assert places == sorted(places)


@pytest.mark.parametrize(
    "arguments",
    [(KIOSK,), (KIOSK, "--days", "3", "--tries", "0"), (KIOSK, "--days", "60", "--tries", "0"),
     (KIOSK, "--without-cooler", "--tries", "0"), (CABINET, "--tries", "40")],
)  # fmt: skip
def test_every_page_fits_eighty_columns_and_keeps_to_our_words(call, arguments):
    done = call("day", *arguments)
    assert done.exit_code == 0, done.output
    for line in done.stdout.split("\n"):
        if "coldwright " not in line:
            assert columns(line) <= 80, line
        assert line == line.rstrip(), line
    assert not UNWANTED.search(done.stdout), UNWANTED.search(done.stdout)
    assert "!" not in done.stdout
    assert "nan" not in done.stdout.lower().replace("finance", "")
    assert "\x1b" not in done.stdout


def test_text_and_json_and_python_are_one_answer(call):
    told = json.loads(call("day", KIOSK, "--json", "--tries", "40").stdout)
    answer = day.run(day.Inputs(read(KIOSK), 40))
    assert told == json.loads(json.dumps(answer.to_json()))
    text = " ".join(call("day", KIOSK, "--tries", "40").stdout.split())
    assert " ".join(told["headline"].split()) in text
    for reason in told["reasons"]:
        assert " ".join(reason.split()) in text
    plug = told["totals"]["plug_per_day_J"]
    assert plug["low"] <= plug["value"] <= plug["high"]
    assert f"{plug['value'] / 3.6e6:.2f} kWh" in text


def test_json_has_its_keys(call):
    told = json.loads(call("day", KIOSK, "--json", "--tries", "0").stdout)
    assert {"title", "headline", "reasons", "weather", "days_followed", "series", "heat_J",
            "water_kg", "totals", "worst_hour_s", "holding", "findings", "assumptions",
            "ledger_residual", "tries"} <= set(told)  # fmt: skip
    assert {len(numbers) for numbers in told["series"].values()} == {24}
    assert {len(numbers) for numbers in told["heat_J"].values()} == {24}
    assert told["totals"]["place_mean_K"]["low"] is None


def test_figures_of_the_table_are_those_of_the_hours(call):
    told = json.loads(call("day", KIOSK, "--json", "--tries", "0").stdout)
    text = call("day", KIOSK, "--tries", "0").stdout
    rows = re.findall(r"^  (\d\d)–(\d\d) h +(.*)$", text, re.MULTILINE)
    assert len(rows) == 8
    for start, end, figures in rows:
        hours = range(int(start), int(end))
        place, outdoors, contents, humid, running, energy = (
            float(one.replace("−", "-")) for one in figures.split()
        )
        for shown, name, offset, near in (
            (place, "place_air_K", 273.15, 0.051),
            (outdoors, "outdoor_K", 273.15, 0.051),
            (contents, "contents_K", 273.15, 0.051),
        ):
            mean = sum(told["series"][name][hour] for hour in hours) / 3.0 - offset
            assert shown == pytest.approx(mean, abs=near)
        mean = sum(told["series"]["relative_humidity"][hour] for hour in hours) / 3.0
        assert humid == pytest.approx(100.0 * mean, abs=0.51)
        assert running == (100.0 if 9 <= int(start) < 18 else 0.0)
        taken = sum(told["series"]["plug_J"][hour] for hour in hours) / 3.6e6
        assert energy == pytest.approx(taken, abs=0.0051)


def test_the_heat_bars_are_the_sums_of_the_causes(call):
    told = json.loads(call("day", KIOSK, "--json", "--tries", "0").stdout)
    text = call("day", KIOSK, "--tries", "0").stdout
    for name, hours in told["heat_J"].items():
        kwh = sum(hours) / 3.6e6
        if abs(kwh) > 0.02:
            row = next(line for line in text.split("\n")
                       if line.lower().startswith(f"  {name}  "))  # fmt: skip
            shown = float(re.search(r"(−?[\d.]+)\u2009kWh", row)[1].replace("−", "-"))
            assert shown == pytest.approx(kwh, abs=0.0051)
            assert ("░" in row) == (kwh < 0.0)


def test_curves_of_place_and_outdoors_are_named_and_the_goal_is_marked(call):
    lines = plot(call("day", KIOSK, "--tries", "0").stdout)
    assert len(lines) == 11
    text = "\n".join(lines)
    for word in (" place", " outdoors", " goal 30.0\u2009°C"):
        assert text.count(word) == 1
    # The hottest outdoor hour is in the upper row and in the afternoon, the coolest at the bottom.
    dots = [at for at, sign in enumerate(lines[0]) if 0x2800 < ord(sign) < 0x2900]
    assert dots
    start = lines[0].index("│") + 1
    assert 14.0 < 24.0 * (sum(dots) / len(dots) - start) / 54.0 < 18.0


def test_days_and_months_have_rows_of_their_own(call):
    week = call("day", CABINET, "--tries", "0").stdout
    assert "Day by day" in week
    assert re.findall(r"^  (\d+ Jul) ", week, re.MULTILINE) == [f"{n} Jul" for n in range(14, 21)]
    assert "17 July" in week
    nameless = call("day", KIOSK, "--days", "3", "--tries", "0").stdout
    assert re.findall(r"^  (day \d)  ", nameless, re.MULTILINE) == ["day 1", "day 2", "day 3"]
    long = call("day", KIOSK, "--days", "60", "--tries", "0").stdout
    assert "Month by month" in long
    assert "days 1 to 30" in long
    assert "days 31 to 60" in long


def test_a_year_of_a_weather_file_is_told_by_months(call, tmp_path):
    import pvlib

    shutil.copy(Path(pvlib.__file__).parent / "data" / "723170TYA.CSV", tmp_path / "town.csv")
    text = CABINET.read_text(encoding="utf-8").replace("week.epw", "town.csv")
    (tmp_path / "sheet.toml").write_text(text.replace("+2 h", "-5 h"), encoding="utf-8")
    done = call("day", tmp_path, "--plot", tmp_path / "year.svg")
    assert done.exit_code == 0, done.output
    months = re.findall(r"^  ([A-Z][a-z]+) +−?[\d.]+ +", done.stdout, re.MULTILINE)
    assert months[0] == "January"
    assert months[-1] == "December"
    assert len(months) == 12
    assert "unless --tries asks" in done.stdout
    assert "of 8760 hours" in done.stdout
    assert b"<svg" in (tmp_path / "year.svg").read_bytes()


def test_prices_are_in_the_currency_of_the_sheet(call, box):
    text = call("day", box, "--tries", "0").stdout
    assert re.search(r"  costs +[\d.]+\u2009EUR", text)
    box.write_text(box.read_text().replace("0.30 EUR/kWh", "$0.30/kWh"))
    text = call("day", box, "--tries", "0").stdout
    assert re.search(r"  costs +[\d.]+\u2009\$", text)
    assert re.search(r"which costs [\d.]+ \$", text)
    box.write_text(box.read_text().replace('electricity = "$0.30/kWh"', ""))
    assert "costs" not in call("day", box, "--tries", "0").stdout


def test_without_cooler_nothing_runs(call):
    told = json.loads(call("day", KIOSK, "--without-cooler", "--json", "--tries", "0").stdout)
    assert told["totals"]["plug_J"]["value"] == 0.0
    text = call("day", KIOSK, "--without-cooler", "--tries", "0").stdout
    assert "Electricity " not in text
    assert "from the plug" not in text
    assert "switched" not in text.lower()


def test_steady_weather_is_a_day_too(call, tmp_path):
    (tmp_path / "box.toml").write_text(steady(BOX), encoding="utf-8")
    done = call("day", tmp_path, "--tries", "0")
    assert done.exit_code == 0, done.output
    assert "steady weather" in done.stdout


def test_a_table_is_written_once_and_reads_back(call, box, tmp_path):
    path = tmp_path / "day.csv"
    told = json.loads(call("day", box, "--csv", path, "--json", "--tries", "0").stdout)
    with path.open(newline="", encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    back = [float(row["place_air_K [K]"]) for row in rows]
    assert back == told["series"]["place_air_K"]
    again = call("day", box, "--csv", path)
    assert again.exit_code == 2
    assert "is there already" in " ".join(again.stderr.split())


def test_pictures_are_written_and_replaced(call, box, tmp_path):
    first, second = tmp_path / "day.svg", tmp_path / "heat.svg"
    for _ in range(2):
        done = call("day", box, "--plot", first, "--heat-plot", second, "--tries", "0")
        assert done.exit_code == 0, done.output
    texts = [re.findall("<!-- (.*?) -->", path.read_text("utf-8")) for path in (first, second)]
    assert {"place", "outdoors", "contents"} <= set(texts[0])
    assert {"cold air", "people and appliances"} <= set(texts[1])


@pytest.mark.parametrize(
    ("option", "file", "said"),
    [("--plot", "day.gif", "ends in"), ("--heat-plot", "no/day.svg", "no folder"),
     ("--csv", "no/day.csv", "no folder")],
)  # fmt: skip
def test_a_file_that_cannot_be_written_is_said_before_the_work(call, box, tmp_path, option, file,
                                                               said):  # fmt: skip
    done = call("day", box, option, tmp_path / file)
    assert done.exit_code == 2
    assert said in " ".join(done.stderr.split())


@pytest.mark.parametrize(
    "options", [("--days", "0"), ("--tries", "-1"), ("--step", "0"), ("--step", "x")]
)
def test_options_out_of_range_are_refused(call, box, options):
    assert call("day", box, *options).exit_code == 2


def test_a_place_without_walls_has_no_day(call):
    done = call("day", "examples/questions/neck_cooler.toml")
    assert done.exit_code == 3
    assert "enclosed" in done.stderr


def test_a_broken_weather_file_is_said_with_its_name(call, tmp_path):
    shutil.copy(CABINET, tmp_path / "sheet.toml")
    (tmp_path / "week.epw").write_text("no weather\n")
    done = call("day", tmp_path)
    assert done.exit_code == 3
    assert "week.epw" in done.stderr.replace("\n", "")
    told = json.loads(call("day", tmp_path, "--json").stdout)
    assert told["exit_code"] == 3


def test_the_step_hardly_matters(call):
    totals = []
    for step in ("60", "15"):
        told = call("day", KIOSK, "--json", "--tries", "0", "--step", step).stdout
        totals.append(json.loads(told)["totals"]["plug_J"]["value"])
    assert totals[0] == pytest.approx(totals[1], rel=1e-3)
