"""The power returns after a cut: everything is warm, and nothing holds the current back."""

from __future__ import annotations

from coldwright.answers.fault.kind import Broken, Fault
from coldwright.answers.fault.start import Start


def _put(start: Start) -> Broken:
    on_A, running_A = float(start.switch_on_A[0]), float(start.running_A[0])
    return Broken(
        start.coolers,
        f"After a long cut all is warm: without a lift the modules take {on_A:.3g}\u2009A at once, "
        f"against {running_A:.3g}\u2009A when running.",
    )


FAULT = Fault(
    "power returns",
    _put,
    "Nobody may be there when it starts by itself. A supply whose inrush limiter is still hot "
    "takes many times its current: let it wait minutes, not seconds.",
    ("delayed restart", "branch fuse", "array fuse", "supply limit", "cut-out"),
    begins="rest",
)
