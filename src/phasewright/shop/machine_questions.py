"""What an owner is asked about machines, motors and wishes, and the load kinds in plain words."""

from __future__ import annotations

from dataclasses import replace

from phasewright.shop.questions import LAID, YES_NO, Option, Question

LOAD = Question(
    "kind",
    "What does this motor turn?",
    options=(
        Option("spindle", "spindle of a lathe, mill or drill", ("lathe", "mill", "drill")),
        Option("saw", "circular saw, planer or cutter block", ("planer", "circular saw")),
        Option("flywheel", "heavy wheel: bandsaw, guillotine, shear", ("bandsaw", "shear")),
        Option("press", "press with a flywheel", ("punch",)),
        Option("grinder", "grinding wheel", ("bench grinder",)),
        Option("sander", "sanding belt or disc", ("belt sander",)),
        Option("fan", "fan, blower or dust extractor", ("extractor", "blower")),
        Option("pump", "centrifugal water pump", ("water pump",)),
        Option("coolant_pump", "coolant pump of a machine tool", ("coolant",)),
        Option("submersible", "pump down a well", ("well pump",)),
        Option("hydraulic_pump", "oil pump of a hydraulic machine", ("hydraulics",)),
        Option("vacuum_pump", "vacuum pump", ("vacuum",)),
        Option("compressor", "air compressor", ("air",)),
        Option("refrigeration", "cold room, fridge or heat pump", ("cold room", "fridge")),
        Option("crusher", "crusher, mill for fruit, chipper", ("chipper",)),
        Option("mixer", "mixer, kneader, stirrer", ("dough mixer", "kneader")),
        Option("conveyor", "belt, chain or auger", ("auger", "belt")),
        Option("feed", "feed or table drive of a machine", ("table",)),
        Option("lift", "hoist or lift", ("hoist", "crane")),
        Option("separator", "spinning drum: centrifuge, cream, honey", ("centrifuge",)),
        Option("other", "something else"),
    ),
    enter="something else",
)
LOAD_KIND = replace(LOAD, key="load.kind")
"""The same question where the answer stands in the motor."""
LOAD_KIND_WORDS: dict[str, str] = {option.entry: option.words for option in LOAD.options}
MOTOR_MORE = (
    Question(
        "load.start",
        "Is anything in it when you press start?",
        "Can you turn it by hand?",
        (
            Option("unloaded", "no, it starts empty"),
            Option("loaded", "yes, it starts with work in it"),
        ),
    ),
    Question(
        "load.duty",
        "Of ten minutes switched on, how many are under load?",
        options=tuple(Option(n / 10, f"{n} of ten minutes", (f"{n}",)) for n in range(1, 11)),
    ),
    Question(
        "plate.leads",
        "How many wires come to the motor's terminals, without the earth?",
        "Power off and locked, lid open: 3, 6, 9 or 12; links in place count as their ends.",
    ),
    Question(
        "plate.year",
        "About when was the motor made?",
        options=(
            Option(1945, "before 1950"),
            Option(1962, "1950 to 1975"),
            Option(1985, "1975 to 1995"),
            Option(2005, "later"),
        ),
    ),
)
MACHINE_MORE = (
    Question(
        "hours_per_year",
        "How many hours a year does it turn?",
        "Hours in a usual week times the weeks, cutting or not; a bare number, as 120.",
    ),
    Question(
        "starts_per_hour",
        "How often do you press start in a busy hour?",
        "A bare number, as 6.",
    ),
    Question(
        "starter",
        "How is it switched on?",
        "What is fitted now.",
        (
            Option("direct", "a plain switch or contactor"),
            Option("star_delta", "a star-delta switch"),
            Option("reversing_drum", "a switch for forward and reverse"),
            Option("two_speed_switch", "a switch for two speeds"),
            Option("drive_inside", "electronics inside"),
            Option("soft_starter", "a soft starter"),
        ),
    ),
    Question(
        "needs_neutral",
        "Does it need a neutral?",
        "Five pins or wires on its plug; a lamp, a socket or a small transformer inside.",
        YES_NO,
    ),
    Question(
        "control.voltage",
        "What is printed on the coil of its contactor?",
        "As 24 V or 230 V.",
        enter="no contactor, or not known",
    ),
    Question(
        "brake.kind",
        "Has it a brake?",
        options=(
            Option("none", "no", ("n",)),
            Option("mechanical", "by hand or foot"),
            Option("spring_electric", "on the motor, released when it is switched on"),
            Option("dc_injection", "electronic"),
        ),
    ),
    Question(
        "never_above",
        "How fast may the tool turn at most?",
        "Printed on the wheel, blade, chuck or machine, as 2850 rpm.",
    ),
)
CABLE = (
    Question(
        "cable.length",
        "How long is the cable to it?",
        "From the board, or from what makes three phases for it, to the machine or its socket, as "
        "8 m or 25 ft.",
    ),
    Question(
        "cable.conductor",
        "How thick is one of its wires, where it lies there already?",
        "Copper; printed on the cable, as 2.5 mm2 or 14 AWG.",
        enter="it is still to be laid, or not known",
    ),
    replace(LAID, key="cable.method"),
    Question(
        "cable.grouped",
        "How many circuits lie in a bunch with it, itself counted?",
        "In the same pipe, trunking or bundle; a bare number, as 3.",
    ),
)
"""Asked of a machine on the page."""
SPINDLE_NOSE = Question(
    "spindle_nose",
    "How does the chuck sit on the spindle?",
    "A chuck that is screwed on can come off when the spindle is stopped fast.",
    (
        Option("threaded", "screwed on"),
        Option("locking", "locked by cams, bolts or a key"),
        Option("none", "there is no chuck"),
    ),
)
WISHES = (
    Question("plan_years", "How many years shall the plan look ahead?", "A bare number, as 10."),
    Question(
        "who_wires",
        "Who will do the wiring?",
        "Your local code says what you may do yourself.",
        (Option("own", "I myself"), Option("electrician", "an electrician")),
    ),
    Question(
        "labour",
        "What is an hour of your own work worth?",
        "An amount without a currency sign, or own for nothing.",
    ),
)
ENERGY = Question("energy", "What does one kWh cost?", "On the bill, a bare number, as 0.27.")
CURRENCY = Question("currency", "In which currency?", "Three letters, as EUR.")
