"""Codes of findings on power, wires and protection; `findings` joins them with the others."""

from __future__ import annotations

from coldwright.findings_catalogue import Entry

ELECTRICAL: dict[str, Entry] = {
    "CW-DRIVE-01": Entry(
        "A fan on another voltage than its own",
        "A brushless fan bears about 15 % off its rated voltage. Much more destroys its "
        "electronics; much less and it does not start. Put a small converter before it, or choose "
        "a fan for the voltage that is there.",
    ),
    "CW-DRIVE-02": Entry(
        "Nothing sets the fan's speed",
        "The sheet runs a fan slower than at full speed but joins it to the supply directly. Say "
        "what slows it: a lower voltage, the four-wire signal, a linear stage or a converter.",
    ),
    "CW-DRIVE-03": Entry(
        "A chopped supply for a fan",
        "Many two-wire fans have electronics that start anew at each pulse: such a fan jumps to "
        "full speed or stops instead of following, and its speed signal is lost. Lower the "
        "voltage instead, or take a fan with four wires.",
    ),
    "CW-DRIVE-04": Entry(
        "A speed signal at another frequency",
        "The open specification of four-wire fans asks for 25 kHz, within 21 to 28 kHz. Lower "
        "frequencies are heard and may not be followed.",
    ),
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
    "CW-POWER-05": Entry(
        "A derating that ends before it begins",
        "A supply gives its full power up to one temperature of its air and less up to a higher "
        "one, where it must stop.",
    ),
    "CW-WIRE-01": Entry(
        "A wire to nowhere",
        "Nothing says which part the wire feeds, so its current, its drop and its heat are not "
        "counted. Name it after the part, or say `feeds`.",
    ),
    "CW-WIRE-02": Entry(
        "More wire in foam than there is wire",
        "The length inside insulation counts one way, as the wire's own length does.",
    ),
    "CW-WIRE-03": Entry(
        "Two wires to one part",
        "Each part has one run. Describe wires side by side as one of the larger size.",
    ),
}
