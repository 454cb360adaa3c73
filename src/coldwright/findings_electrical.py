"""Codes of findings on power, wires and protection; `findings` joins them with the others."""

from __future__ import annotations

from coldwright.findings_catalogue import Entry

ELECTRICAL: dict[str, Entry] = {
    "CW-NET-01": Entry(
        "A short",
        "The two ends of a source, or of a part, are joined with nothing between that takes power. "
        "Only a fuse at the source's end stops such a current. Look for a wire between plus and "
        "minus, or for a part whose both ends are named alike.",
    ),
    "CW-NET-02": Entry(
        "No way back",
        "Current runs in rings: from a source through the load and back to the source's other end. "
        "The named part hangs on one end only.",
    ),
    "CW-NET-03": Entry(
        "Nothing feeds it",
        "The named parts form a ring without any supply, battery or panel.",
    ),
    "CW-NET-04": Entry(
        "Two sources against each other",
        "Two sources hold the same two wires at different voltages: the higher one drives current "
        "backwards into the other. Put a diode in each line, or a charger before a battery.",
    ),
    "CW-NET-05": Entry(
        "Converters in a ring",
        "A converter passes power on and makes none: without a real source nothing flows.",
    ),
    "CW-NET-06": Entry(
        "A source gives too little",
        "The parts behind it take more current than it can give. A supply then shuts down, starts "
        "again and again, or lets its voltage fall. Choose a larger one, or lower the load.",
    ),
    "CW-NET-07": Entry(
        "Brown-out",
        "What stands behind a converter takes the same power at any voltage, so its current rises "
        "as its voltage falls. Beyond a certain power the resistance of the wires and of the "
        "source leaves no state in which both fit: the voltage falls until something lets go. "
        "Thicker or shorter wires, a higher voltage, or less load help.",
    ),
    "CW-NET-08": Entry(
        "Joints without resistance in a ring",
        "How much current passes through each of two ideal joints side by side cannot be told. "
        "Give one of them a resistance, or leave it out.",
    ),
    "CW-NET-09": Entry(
        "A converter gets too little voltage",
        "A step-down converter needs an input above its output. With less it passes on what it "
        "gets, less a drop, and no longer holds its output.",
    ),
}
