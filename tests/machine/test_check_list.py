"""The check list: the right steps for a design, in the order of the work, in plain words."""

from __future__ import annotations

import dataclasses
import re

import pytest

from coldwright.findings_catalogue import CATALOGUE as OTHERS
from coldwright.findings_safety import SAFETY
from coldwright.machine.safety import STAGES, before_solving, check_list, licensed_list, of_state
from coldwright.machine.safety.check_list import ITEMS, LICENSED, LICENSED_ITEMS
from coldwright.sheet.file import read_text
from tests.machine.test_safety import CALM
from tests.machine.test_safety_rules import ASKED, BOX, ROOM

EVERY = (*ITEMS, *LICENSED_ITEMS)


def steps(text, changes=None):
    sheet = read_text(text).changed(changes or {})
    return {item.code for item in (*check_list(sheet), *licensed_list(sheet))}


def test_codes_are_unique_and_stand_in_the_order_of_the_work():
    assert len({item.code for item in EVERY}) == len(EVERY)
    order = [STAGES.index(item.stage) for item in ITEMS]
    assert order == sorted(order)
    assert {item.stage for item in ITEMS} == set(STAGES)
    assert {item.stage for item in LICENSED_ITEMS} == {LICENSED}
    assert all(re.fullmatch(r"[a-z]+(-[a-z]+)+", item.code) for item in EVERY)
    assert all(item.text.endswith(".") and item.why.endswith(".") and item.source for item in EVERY)


NO_MAINS = {"power.supply": None, "power.battery": {"voltage": "12 V", "capacity": "60 Ah"}}
BARE = {
    "place.wall": [{"material": "plywood", "thickness": "20 mm"}],
    "cooler.modules.spacer": None,
}


@pytest.mark.practice
@pytest.mark.parametrize(
    ("code", "applies", "not_in"),
    [
        ("build-earth", (BOX, {"safety.mains_side": "wired by hand"}), (BOX, {})),
        ("build-poles", (BOX, {"safety.mains_side": "not known"}), (BOX, {})),
        ("build-line-fuse", (BOX, {"safety": None}), (BOX, NO_MAINS)),
        ("build-apart", (BOX, {"power": None, "safety": None}), (BOX, NO_MAINS)),
        ("build-strain", (BOX, {}), (BOX, NO_MAINS)),
        ("build-dry-mains", (BOX, {}), (BOX, NO_MAINS)),
        ("check-wait", (BOX, {}), (BOX, NO_MAINS)),
        ("build-battery", (BOX, NO_MAINS), (BOX, {})),
        ("build-glue", (BOX, {}), (BOX, BARE)),
        ("build-blades", (BOX, {}), (BOX, BARE)),
        ("build-foam-gap", (ROOM, {}), (BOX, BARE)),
        ("buy-alarm", (ROOM, {}), (BOX, {})),
        ("check-flue", (ROOM, {"place.combustion": "not known"}),
         (ROOM, {"place.combustion": "none"})),
        ("licensed-flue", (ROOM, {}), (ROOM, {"cooler.hot_takes_from": "outdoors"})),
        ("build-opening", (ROOM, {}), (ROOM, {"place.gain[0].activity": "seated"})),
        ("first-food", (BOX, {"safety.keeps": "not known"}), (BOX, {})),
        ("first-leak", (BOX, {"safety.supplies": 2}), (BOX, {})),
        ("licensed-insulation", (BOX, {"safety.mains_side": "wired by hand"}), (BOX, {})),
        ("licensed-wall", (ROOM, {}), (BOX, {})),
    ],
)  # fmt: skip
def test_a_step_applies_under_its_condition_only(code, applies, not_in):
    assert code in steps(*applies)
    assert code not in steps(*not_in)


@pytest.mark.practice
def test_what_holds_for_every_build_is_in_every_list():
    for text in (BOX, ROOM):
        assert {"buy-cut-out", "build-cut-out", "build-guard", "first-fan", "first-stay",
                "licensed-certificate"} <= steps(text)  # fmt: skip


@pytest.mark.published("IEC 60335-1, clauses 13.3 and 16.3: electric strength is no test at home")
def test_nobody_is_told_to_test_with_high_voltage():
    for item in ITEMS:
        assert "high voltage" not in item.text
        assert not re.search(r"\b\d+ ?kV|\b[1-9]\d{3} V", item.text)
    (insulation,) = [item for item in LICENSED_ITEMS if item.code == "licensed-insulation"]
    assert "Never try it yourself" in insulation.text


# --- Plain words ---------------------------------------------------------------------------------

# Units, and names of things as they are marked or sold: these need no explanation.
_KNOWN = {"A", "V", "W", "K", "Pa", "L", "C", "F", "N", "MDF", "IEC", "CW", "SAFE"}
# Foams are called in messages as the sheet calls them.
_FOAMS = {"EPS", "XPS", "PIR", "PUR", "PE"}
_ABBREVIATION = re.compile(r"\b(?:[A-Z]{2,}[a-z]?|[A-Z]\d+)\b")


def texts():
    for item in EVERY:
        yield item.code, item.text
        yield item.code, item.why
    for code, entry in {**OTHERS, **SAFETY}.items():
        if code.startswith(("CW-SAFE-", "CW-WATER-")):
            yield code, entry.title
            yield code, entry.explanation
    for found in some_findings():
        for part in (found.given, found.allowed, found.why, found.action):
            yield found.code, part


def some_findings():
    box, room = read_text(BOX), read_text(ROOM)
    hot = {
        "place_pressure_Pa": 9.0, "hot_face_K": 380.0, "hot_sink_K": 360.0, "cold_sink_K": 270.0,
        "condensate_kg_s": 1e-4, "fog_ratio": 1e-3, "supply_share": 2.0, "saturated": True,
        "fresh_air_m3_s": 1e-3, "exhaust_m3_s": 0.01, "exhaust_K": 340.0, "array_V": 200.0,
    }  # fmt: skip
    state = dataclasses.replace(CALM, **hot)
    for changes, _, _ in ASKED:
        yield from before_solving(box.changed(changes))
        yield from of_state(box.changed(changes), state)
    yield from of_state(room, state)
    yield from before_solving(room.changed({"place.air_leakage": "none"}))


def unexplained(text):
    """Abbreviations in a text that it does not explain in brackets, before or behind them."""
    keys = re.sub(r'\w+ = "[^"]*"', "", text)
    return [
        word
        for word in _ABBREVIATION.findall(keys)
        if word not in _KNOWN | _FOAMS and f"({word})" not in keys and f"{word} (" not in keys
    ]


def test_no_caution_uses_an_abbreviation_without_explaining_it():
    held = list(texts())
    assert len({code for code, _ in held}) > 60
    left = {(code, word) for code, text in held for word in unexplained(text)}
    # The fire classes of Europe are named as what they are; standards stand beside their subject.
    assert {one for one in left if one != ("buy-foam", "A1")} <= set()


def test_an_abbreviation_that_is_not_explained_is_found():
    assert unexplained("Fit an RCD.") == ["RCD"]
    assert unexplained("Fit a residual-current device (RCD).") == []
    assert unexplained("SELV (safety extra-low voltage) ends at 120 V.") == []


# Words of the trade that a reader without training in it does not know.
_TRADE = {
    "creepage", "grommet", "ferrule", "crest factor", "touch current", "dielectric", "bonding",
    "prospective", "pollution degree", "class I", "Y capacitor", "inrush", "overcurrent",
}  # fmt: skip


def test_no_caution_uses_words_of_the_trade_without_need():
    for code, text in texts():
        assert not [word for word in _TRADE if word in text], code


def test_sentences_are_short():
    for code, text in texts():
        for sentence in re.split(r"(?<=[.?!:;])\s", text):
            assert len(sentence.split()) <= 42, (code, sentence)


def test_what_is_not_allowed_is_named_by_a_noun():
    # "<given> is not <allowed>" must be a sentence: no verb of its own in `given`.
    verbs = re.compile(
        r"(?<!that) (?:reaches|lowers|gives|opens|lies|stands|is|leaks?|falls|come)\b"
    )
    said = {found.given for found in some_findings() if found.allowed}
    assert len(said) > 10
    assert [given for given in said if verbs.search(given)] == []
