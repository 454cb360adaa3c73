"""`tune` as a person meets it, and the ratings that `watts` shows beside it."""

import csv
import json
import re
from pathlib import Path

import pytest
from tests.answers.test_tune import BOX, RATED

from coldwright.answers import tune
from coldwright.faces.cli.page import columns
from coldwright.sheet.file import read

DEMOS = Path(__file__).resolve().parents[2] / "demos"
QUESTIONS = Path(__file__).resolve().parents[2] / "examples" / "questions"
UNWANTED = re.compile(
    r"\b(study|trial|settings?|laws?|workbench|wall power|draws?|impossible to)\b", re.IGNORECASE
)


@pytest.fixture
def box(tmp_path):
    path = tmp_path / "box.toml"
    path.write_text(BOX, encoding="utf-8")
    return path


def test_the_order_is_that_of_every_answer(call):
    text = call("tune", DEMOS / "cabinet", "--tries", "0").stdout
    assert text.split("\n")[0] == "Film cabinet in the attic"
    marks = ["· ", "What to run it at, by what is wanted", "As in the sheet", "· Coldest place:",
             "How cold it gets along the volts", "What the modules are rated",
             "Not to be taken for the cooling", "Next\n"]  # fmt: skip
    places = [text.index(mark) for mark in marks]
    assert places == sorted(places)


@pytest.mark.parametrize(
    "sheet",
    [DEMOS / "kiosk", DEMOS / "cabinet", DEMOS / "kiosk" / "week.toml",
     *(QUESTIONS / f"{name}.toml" for name in ("processor", "neck_cooler", "plant_box", "stack",
                                               "liquid_loop", "back_leak", "open_fridge"))],
    ids=lambda path: path.stem,
)  # fmt: skip
def test_every_page_fits_eighty_columns_and_keeps_to_our_words(call, sheet):
    done = call("tune", sheet, "--tries", "40")
    assert done.exit_code == 0, done.output
    for line in done.stdout.split("\n"):
        if "coldwright " not in line:
            assert columns(line) <= 80, line
        assert line == line.rstrip(), line
    assert not UNWANTED.search(done.stdout), UNWANTED.search(done.stdout)
    assert "!" not in done.stdout
    assert not re.search(r"\b(nan|None|inf)\b", done.stdout)
    assert "max_" not in done.stdout  # limits are named in words


def test_text_and_json_and_python_are_one_answer(call, box):
    told = json.loads(call("tune", box, "--json", "--tries", "40").stdout)
    answer = tune.run(tune.Inputs(read(box), 40))
    assert told == json.loads(json.dumps(answer.to_json()))
    text = call("tune", box, "--tries", "40").stdout
    assert " ".join(told["headline"].split()) in " ".join(text.split())
    for best in told["best"]:
        if best["drive"] is None:
            continue
        row_of = re.compile(rf"  {best['aim'].split()[0]}\b.*\d$", re.IGNORECASE)
        rows = [line for line in text.split("\n") if row_of.match(line)]
        (cells,) = [re.findall(r"−?[\d.]+", row) for row in rows]
        shown = [float(cell.replace("−", "-")) for cell in cells]
        volts, cold, hot, place, cools, net, plug, cop, level = shown
        figures = {name: one["value"] for name, one in best["figures"].items()}
        assert volts == pytest.approx(best["drive"], abs=0.051)
        assert cold == pytest.approx(100.0 * best["cold_speed"], abs=0.51)
        assert hot == pytest.approx(100.0 * best["hot_speed"], abs=0.51)
        assert place == pytest.approx(figures["place_air_K"] - 273.15, abs=0.051)
        assert cools == pytest.approx(figures["cooling_W"], abs=0.51)
        assert net == pytest.approx(figures["net_cooling_W"], abs=0.51)
        assert plug == pytest.approx(figures["plug_power_W"], abs=0.51)
        assert cop == pytest.approx(figures["cop_net"], abs=0.0051)
        assert level == pytest.approx(figures["sound_dB"], abs=0.51)


def test_json_has_its_keys(call, box):
    told = json.loads(call("tune", box, "--json", "--tries", "0").stdout)
    keys = (
        "title headline reasons axis drive cold_speed hot_speed maps allowed now best ratings "
        "not_cooling findings tries"
    )
    assert set(keys.split()) <= set(told)
    shape = (len(told["drive"]), len(told["cold_speed"]), len(told["hot_speed"]))
    for name in ("place_air_K", "plug_power_W", "cop_net", "sound_dB", "price_per_hour"):
        held = told["maps"][name]
        assert (len(held), len(held[0]), len(held[0][0])) == shape
    assert told["now"]["drive"] == 9.0
    assert told["now"]["sound_dB"] == pytest.approx(43.46, abs=0.01)  # 38 and 42 dB together


def test_what_binds_and_what_cannot_be_is_said(call, box):
    text = " ".join(call("tune", box, "--tries", "0").stdout.split())
    assert "Held back by the power from the plug (60 W)." in text
    assert "10 % off costs at most: volts" in text
    box.write_text(BOX.replace('air = "14 degC"', 'air = "-30 degC"'))
    text = " ".join(call("tune", box, "--tries", "0").stdout.split())
    assert "Cheapest that reaches the goal: nothing within reach does that" in text


def test_the_end_of_what_the_supply_gives_is_said(call):
    text = " ".join(call("tune", DEMOS / "cabinet", "--tries", "0").stdout.split())
    assert "That is all of the supply's 12.0 V." in text


def test_the_way_along_the_volts_marks_the_sheet_and_the_goal(call, box):
    text = call("tune", box, "--tries", "0").stdout
    chart = text[text.index("How cold it gets") : text.index("Not to be taken")]
    assert "9.00\u2009V now" in chart
    assert " goal 14.0\u2009°C" in chart
    under = next(line for line in chart.split("\n") if "now" in line)
    axis = next(line for line in chart.split("\n") if "└" in line)
    start, width = axis.index("└") + 1, axis.count("─")
    top = json.loads(call("tune", box, "--json", "--tries", "0").stdout)["drive"]
    wanted = start + (9.0 - top[0]) / (top[-1] - top[0]) * (width - 1)
    assert under.index("^") == pytest.approx(wanted, abs=1.0)


def test_pictures_and_table_of_one_answer(call, box, tmp_path):
    way, chart, table = tmp_path / "way.svg", tmp_path / "map.svg", tmp_path / "map.csv"
    done = call(
        "tune", box, "--tries", "0", "--plot", way, "--map", chart, "--csv", table, "--json"
    )
    assert done.exit_code == 0, done.output
    told = json.loads(done.stdout)
    assert "as the sheet has it" in way.read_text("utf-8")
    assert "speed of the cold fan" in chart.read_text("utf-8")
    with table.open(newline="", encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    shape = (len(told["drive"]), len(told["cold_speed"]), len(told["hot_speed"]))
    assert len(rows) == shape[0] * shape[1] * shape[2]
    at = 5 * shape[1] * shape[2] + 2 * shape[2] + 3
    assert float(rows[at]["place_air_K [K]"]) == told["maps"]["place_air_K"][5][2][3]
    assert float(rows[at]["voltage_V set [V]"]) == told["drive"][5]
    assert (float(rows[at]["allowed [1]"]) == 1.0) is told["allowed"][5][2][3]
    assert call("tune", box, "--csv", table).exit_code == 2


@pytest.mark.parametrize("option", ["--plot", "--map"])
def test_a_picture_that_cannot_be_written_is_said_before_the_work(call, box, tmp_path, option):
    done = call("tune", box, option, tmp_path / "map.bmp")
    assert done.exit_code == 2
    assert "ends in" in done.stderr


def test_modules_that_are_off_have_nothing_to_tune(call, box):
    box.write_text(BOX.replace('run_at = { voltage = "9 V" }', 'run_at = "off"'))
    done = call("tune", box)
    assert done.exit_code in (3, 4)
    assert "Traceback" not in done.output


def test_watts_shows_ratings_beside_what_the_module_does(call, tmp_path):
    path = tmp_path / "bench.toml"
    path.write_text(RATED, encoding="utf-8")
    told = json.loads(call("watts", path, "--json", "--no-intervals").stdout)
    text = call("watts", path, "--no-intervals").stdout
    page = text[text.index("What the modules are rated") :]
    for row in told["ratings"]:
        assert set(row) == {"group", "what", "rated", "here", "unit", "remark"}
        (line,) = [one for one in page.split("\n") if one.lower().startswith(f"  {row['what']}")]
        rated, here = (float(one) for one in re.findall(r"([\d.]+)\u2009", line)[-2:])
        assert rated == pytest.approx(row["rated"], rel=6e-3)
        assert here == pytest.approx(row["here"], rel=6e-3)
    flat = " ".join(page.split())
    for sentence in told["not_cooling"]:
        assert " ".join(sentence.split()) in flat
    assert "Ratings do not add up to cooling" in page
    assert "Watts into the modules are not cooling" in page
    assert "A cold outlet is not a capacity" in page
