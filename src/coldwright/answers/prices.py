"""What the design costs, as far as the sheet tells."""

from __future__ import annotations

from coldwright.quantities.notations import currency
from coldwright.quantities.parsing import Quantity
from coldwright.sheet.models import Battery, Converter, Panel, Power, Sheet, Supply


def _parts(power: Power) -> tuple[Supply | Converter | Battery | Panel | None, ...]:
    return power.supply, power.converter, power.battery, power.panel


def own_currency(sheet: Sheet) -> str:
    """The currency of the sheet's own prices, the first that is found; empty without one."""
    prices = (one for one in sheet.quantities().values() if one.kind.startswith("price"))
    return next((found for one in prices if (found := currency(one.text))), "")


def known_price(sheet: Sheet) -> float | None:
    """Sum of every price in the sheet; None when there is none.

    Prices must be in one currency; the sheet's own text says which.
    """
    cooler = sheet.cooler
    priced: list[tuple[Quantity | None, float]] = []
    for modules in cooler.modules:
        count = modules.series * modules.parallel
        priced.append((modules.price, count))
        if modules.second is not None:
            priced.append((modules.second.price, count * modules.second.ratio))
    priced += [(sink.price, 1) for sink in (*(cooler.cold_sink or ()), *cooler.hot_sink)]
    priced += [(fan.price, fan.count) for fan in (cooler.cold_fan, cooler.hot_fan) if fan]
    if sheet.power is not None:
        priced += [(part.price, 1) for part in _parts(sheet.power) if part]
    if sheet.price is not None:
        priced += [(item.price, item.count) for item in sheet.price.item]
    known = [price.value * count for price, count in priced if price is not None]
    return sum(known) if known else None
