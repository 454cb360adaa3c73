"""What a change says: a reason that fits the sheet, money by its name."""

from types import SimpleNamespace

from coldwright.answers.change.dual_duct import CHANGE
from coldwright.answers.change_sentences import _cheap
from coldwright.sheet.file import read_text
from tests.answers.test_check import GOOD, SHEET


def test_the_reason_speaks_of_an_exhaust_only_where_there_is_one():
    single = read_text(SHEET.format(**(GOOD | {"hot_takes_from": "place"})), "sheet.toml")
    assert "exhaust" in CHANGE.reason(single)
    spot = single.changed({"cooler.hot_sends_to": "place"})
    assert "exhaust" not in CHANGE.reason(spot)


def test_money_is_called_by_its_name():
    option = SimpleNamespace(
        names=["a wider duct"], price=20.0, gain_per_W=None, gain_per_price=0.08, gain_K=1.6
    )
    assert _cheap([option], "EUR") == ["Most for each EUR: a wider duct, 0.08\u2009K."]
