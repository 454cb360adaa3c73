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
    "CW-DRIVE-05": Entry(
        "A fan that may not start",
        "A plain fan starts only above a certain voltage, though it then runs on less. After a "
        "pause it stands still and the sink behind it runs away within minutes. Give it the full "
        "voltage for a second, or more speed.",
    ),
    "CW-DRIVE-06": Entry(
        "A linear stage too hot",
        "A transistor that drops voltage turns the rest into heat, most of it near half of the "
        "voltage and not at full speed. A single fan of a tenth of an ampere needs no heat sink; "
        "several tenths do. Its metal tab is joined to the circuit: insulate it.",
    ),
    "CW-DRIVE-07": Entry(
        "A knob that only switches",
        "With the fan at the drain all speeds lie within about a hundredth of the knob's way, and "
        "the threshold varies more than that from part to part and with heat. A follower or a "
        "regulator is smooth; a follower loses a few volts at the top.",
    ),
    "CW-DRIVE-08": Entry(
        "Fans and modules start together",
        "Until its rotor turns a brushless fan takes 1.5 to 3 times its running current for some "
        "seconds (common practice, no published figure); with a stopped rotor and no limiter up to "
        "5 times (fan makers' application notes). Modules take most in the same seconds. A "
        "supply at its limit then shuts down and tries again. Start the fans first.",
    ),
    "CW-DRIVE-09": Entry(
        "A fan's start and its fuse",
        "A fuse sized for the running current may not bear the seconds in which the fan starts. "
        "A time-lag fuse does; or take the next size, if the wire bears it.",
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
    "CW-POWER-06": Entry(
        "Warm air takes part of the rating",
        "Supplies and converters may give their rated power only up to some temperature of the air "
        "around them, often 50 degC, and less above. In the exhaust that is the exhaust's "
        "temperature, not the room's.",
    ),
    "CW-POWER-07": Entry(
        "Switching on takes more than it may give",
        "Modules take most when they are cold on both sides, because no temperature difference "
        "works against the voltage yet. A supply at its limit may shut down and try again without "
        "end. Turn the voltage up slowly, or take a supply with some reserve.",
    ),
    "CW-POWER-08": Entry(
        "Efficiencies that fit no loss",
        "The loss of a supply grows as k0 + k1 P + k2 P^2. Through the three efficiencies given, "
        "k0 or k2 comes out negative: perhaps one of them belongs to another load or voltage.",
    ),
    "CW-POWER-09": Entry(
        "Nothing makes the modules' voltage",
        "The sheet runs the modules at a voltage that the source does not have, and has no "
        "converter. They are counted as if a regulator without loss stood between. Add the "
        "converter, or run them at what is there.",
    ),
    "CW-POWER-10": Entry(
        "The mains fuse is too small",
        "The fuse in the line carries the apparent power over the voltage, more than the real "
        "power where the power factor is low. North American fuses (UL 248-14) are loaded to "
        "three quarters of their print, IEC 60127 ones to all of it.",
    ),
    "CW-POWER-11": Entry(
        "A fast fuse before a switch-mode supply",
        "Each start charges a capacitor with many times the running current. A time-lag fuse bears "
        "that; a fast one opens sooner or later without any fault.",
    ),
    "CW-POWER-12": Entry(
        "What kind of battery",
        "A lead-acid battery of 12 V rests at 12.7 V when full and near 12.2 V half empty; one of "
        "lithium iron phosphate at 13.6 and 13.2 V. Say which it is, and the answer follows the "
        "cooler from full to run down.",
    ),
    "CW-POWER-13": Entry(
        "A battery without resistance",
        "Under load the voltage of every battery sags by its current times its resistance. "
        "The figure stands in its data sheet, or follows from two readings: the fall in volts over "
        "the rise in amperes. Cold, age and long wires add to it.",
    ),
    "CW-POWER-14": Entry(
        "The battery cannot run it when it is run down",
        "What works on a full battery may not work on an empty one: a converter wants some input "
        "more than it gives, a fan wants a voltage to start, and a line that is too thin browns "
        "out. A battery that is drained further is ruined: fit a cut-off.",
    ),
    "CW-SWITCH-02": Entry(
        "More current than the switch is for",
        "The switch carries more than is printed on it. Take a larger one.",
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
    "CW-WIRE-04": Entry(
        "The wire is too thin for its current",
        "By the table named, with warm surroundings, bundle and foam counted, the wire may carry "
        "less than it does. Take a thicker one. The local wiring code, the marking on the wire and "
        "a licensed person outrank the table.",
    ),
    "CW-WIRE-05": Entry(
        "No table has this wire",
        "The tables here list the sizes on sale. For another one only its maker can say what it "
        "may carry.",
    ),
    "CW-WIRE-06": Entry(
        "A wire inside foam",
        "Insulation keeps the wire's own heat in: straight through a 50 mm wall it may carry about "
        "nine tenths, along half a metre or more only half (UK wiring rules, BS 7671). Lead it "
        "through a sleeve on the shortest way, or lay it outside.",
    ),
    "CW-WIRE-07": Entry(
        "Much of the voltage is lost on the way",
        "Boat practice (ABYC E-11) aims at 3 % where it matters and takes 10 % at the most. The "
        "modules then cool less and the wire warms its surroundings. Thicker or shorter wires "
        "help; doubling the area halves the loss.",
    ),
    "CW-WIRE-08": Entry(
        "A run without a fuse",
        "A fuse protects the wire behind it and belongs at the source's end. Without one, a short "
        "takes whatever the source can give through the insulation's last minute.",
    ),
    "CW-WIRE-09": Entry(
        "A fuse of unknown standard",
        "The same printed amperes mean different things: a North American fuse (UL 248-14) holds "
        "its print and is loaded to three quarters of it; an international one (IEC 60127) is "
        "loaded to its print and may hold one and a half times it for an hour. Look which it is.",
    ),
    "CW-WIRE-10": Entry(
        "A fuse of the wrong size",
        "A fuse must carry the load for hours without ageing, and open before the wire is too hot. "
        "Where nothing fits between the two, the wire is too thin.",
    ),
    "CW-WIRE-11": Entry(
        "A joint for less current",
        "A connector or terminal carries more than is marked on it. Ten milliohms at ten amperes "
        "make one watt in a few cubic millimetres. Use a larger one, crimp with the right tool, "
        "and tug at every wire.",
    ),
    "CW-WIRE-12": Entry(
        "A fuse that is not made for this voltage",
        "A fuse breaks direct current only up to the direct voltage marked on it: blade fuses "
        "mostly 32 V, glass fuses often none. Above it the arc may go on. Say `fuse_voltage` once "
        "you hold one that is marked for more.",
    ),
    "CW-WIRE-13": Entry(
        "A fuse too weak for a battery",
        "A battery drives hundreds of amperes through a short. A small glass fuse breaks some 35 A "
        "and may burst above. Take one whose breaking capacity is higher than the fault current.",
    ),
    "CW-WIRE-14": Entry(
        "Whose colours",
        "Colours of direct current differ by region and edition: red and white, brown and grey, "
        "red and black. Say the region, and put the same label on both ends of every wire: "
        "labels outrank colours.",
    ),
}
