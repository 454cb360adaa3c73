"""The ledger on the page: every node balances as printed, nothing is left out."""

import io
from collections import defaultdict
from dataclasses import dataclass

import pytest

from coldwright.faces.cli.ledger import put_ledger, put_water
from coldwright.faces.cli.page import Page


@dataclass
class Entry:
    node: str
    what: str
    W: float


@dataclass
class Water:
    node: str
    what: str
    kg_s: float


LEDGER = [
    Entry("modules", "heat into the cold faces", 187.2),
    Entry("modules", "electricity", 208.2),
    Entry("modules", "heat out of the hot faces", -395.4),
    Entry("cold fan", "warms the air", -13.1),
    Entry("cold fan", "electricity", 13.1),
    Entry("modules, cold joint", "conducted", 187.2),
    Entry("modules, cold joint", "passed on", -187.2),
    Entry("electricity", "from the plug", 300.0),
    Entry("electricity", "into the modules", -208.2),
    Entry("electricity", "lost in the supply", -91.8),
    Entry("place", "sun", 0.0),
    Entry("a new node", "in", 0.3),
    Entry("a new node", "out", -0.2),
    Entry("a new node", "out too", -0.1),
]


def page_of(put, *arguments):
    page = Page(stream=io.StringIO())
    put(page, *arguments)
    page.show()
    return page.stream.getvalue()


def balances(text):
    """Sums of the two columns for each block of the printed text, by the block's first words."""
    sums = defaultdict(lambda: [0.0, 0.0])
    name, inside = "", 0
    for line in text.split("\n"):
        if line.startswith("  ") and not line.startswith("    ") and line.strip():
            name = " ".join(line.split()[:3])
        into, out = line[60:70].strip(), line[70:80].strip()
        for column, cell in enumerate((into, out)):
            if cell and cell[0].isdigit():
                sums[name][column] += float(cell)
                inside += 1
    return sums, inside


def test_both_columns_of_every_node_add_up_as_printed():
    sums, cells = balances(page_of(put_ledger, LEDGER, 3e-12))
    assert cells == sum(entry.W != 0.0 for entry in LEDGER)
    assert len(sums) == 5
    for into, out in sums.values():
        assert into == pytest.approx(out, abs=0.06)


def test_nodes_stand_on_the_way_of_the_heat_and_unknown_ones_last():
    text = page_of(put_ledger, LEDGER, 0.0)
    names = ["Electricity", "Cold fan", "Modules, cold joint", "Modules\n", "A new node"]
    order = [text.index(f"  {name}") for name in names]
    assert order == sorted(order)


def test_a_node_that_does_not_balance_is_shown_as_it_is():
    broken = [Entry("hot sink", "in", 10.0), Entry("hot sink", "out", -9.0)]
    sums, _ = balances(page_of(put_ledger, broken, 1.0))
    assert sums["Hot sink"] == [10.0, 9.0]
    assert "1.00\u2009W" in page_of(put_ledger, broken, 1.0)


def test_small_coolers_get_more_digits():
    small = [Entry("modules", "electricity", 0.123), Entry("modules", "heat", -0.123)]
    assert "0.123" in page_of(put_ledger, small, 0.0)


def test_lines_fit_eighty_columns():
    long = [Entry("x" * 90, "y" * 90, 1e5), Entry("x" * 90, "z" * 90, -1e5)]
    for text in (page_of(put_ledger, LEDGER, 0.0), page_of(put_ledger, long, 0.0)):
        assert all(len(line) <= 80 for line in text.split("\n"))


def test_water_is_shown_only_where_some_condenses():
    dry = [Water("cold sink", "in the air that comes in", 1e-3),
           Water("cold sink", "in the air that leaves", -1e-3)]  # fmt: skip
    assert page_of(put_water, dry) == "\n"
    wet = [*dry[:1], Water("cold sink", "in the air that leaves", -9e-4),
           Water("cold sink", "condensate", -1e-4)]  # fmt: skip
    text = page_of(put_water, wet)
    assert "360" in text  # 1e-4 kg/s is 360 g/h
    sums, _ = balances(text)
    assert sums["Cold sink"] == [3600.0, 3240.0 + 360.0]
