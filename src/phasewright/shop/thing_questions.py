"""What is asked on the page of places, of parts on the shelf, of prices told, of heaters and lamps.

Of a part or a price only what its kind needs is asked.
"""

from __future__ import annotations

from phasewright.quantities.codes import OwnedKind, QuoteKind
from phasewright.shop.circuit_questions import BREAKER, feeder, residual
from phasewright.shop.questions import YES_NO, Option, Question

USERS = (
    Option("owner", "I alone"), Option("guests", "guests too"), Option("employees", "employees"),
)  # fmt: skip
NAME = Question("name", "What is it called?", "As barn or upper room.", needed=True)
PLACE = (
    NAME,
    *feeder("feeder"),
    Question(
        "feeder.breaker", "Which breaker or fuse is ahead of that cable?", BREAKER,
        enter="none yet, or not known",
    ),
    *residual("residual_current", "Is there a residual-current device for it?"),
    Question(
        "electrode",
        "If it has an earth rod of its own: of how many ohms?",
        "From an electrician's tester, as 80 ohm.",
        enter="no rod of its own, or not known",
    ),
    Question("dust", "Is it dusty?", "Wood, grain, stone: boxes must keep it out.", YES_NO,
             enter="no"),
    Question("damp", "Is it damp?", "Washed down, unheated, or outside.", YES_NO, enter="no"),
    Question("ambient", "How warm does it get there?", "On the hottest working day, as 35 °C.",
             enter="as usual"),
    Question("altitude", "How high does it lie above the sea?", "As 1200 m; above 1000 m counts.",
             enter="not above 1000 m"),
    Question("users", "Who works there?", "", USERS),
)  # fmt: skip
"""Asked of a building or room with a feeder of its own."""
CONSUMER = (
    Question(
        "kind",
        "What else takes power in it?",
        options=(
            Option("heater", "a heater or oven"),
            Option("welder", "a welder"),
            Option("rectifier", "a rectifier"),
            Option("magnetic_chuck", "a magnetic chuck"),
            Option("lamp", "a lamp"),
            Option("socket", "a socket on it"),
            Option("electronics", "electronics"),
        ),
        needed=True,
    ),
    Question("power", "How much power does it take?", "On its plate, as 9 kW."),
    Question("current", "Or how many amps?", "On its plate or with a clamp, as 4 A."),
    Question("voltage", "On how many volts?", "On its plate, as 400 V."),
    Question("phases", "On how many phases?", options=(Option(1, "one"), Option(3, "three"))),
    Question(
        "split",
        "Can its three parts be fed one by one?",
        "A three-phase heater of three equal elements with all ends at its terminals.",
        YES_NO,
        enter="no, or not known",
    ),
)
"""Asked of what takes power in a machine and is no motor."""
_SIZE = {
    "power": Question("power", "How large is it?", "On its plate, as 4 kW or 5 hp."),
    "rating": Question("rating", "How large is it?", "On its plate, as 5 kVA."),
    "voltage": Question("voltage", "For how many volts?", "On its plate, as 230/400 V."),
    "current": Question("current", "How many amps?", "On its plate, as 9.6 A."),
    "capacitance": Question("capacitance", "Of how many microfarads?", "On the can, as 50 uF."),
    "resistance": Question("resistance", "Of how many ohms?", "Printed on it, as 47 ohm."),
    "input_phases": Question(
        "input_phases", "How many phases does it want at its input?",
        options=(Option(1, "one"), Option(3, "three")),
    ),
    "speed": Question("speed", "What speed is stamped on it?", "As 1430 rpm."),
    "leads": Question("leads", "How many wires come to its terminals, without the earth?",
                      "A bare number: 3, 6, 9 or 12."),
    "year": Question("year", "When was it made?", "A year, as 1985."),
    "isolating": Question("isolating", "Has it two separate windings?",
                          "An isolating transformer; not an autotransformer.", YES_NO),
    "energy": Question("energy", "How much does its battery hold?", "As 10 kWh."),
    "phases": Question("phases", "How many phases does it give?",
                       options=(Option(1, "one"), Option(3, "three"))),
    "years_unpowered": Question(
        "years_unpowered", "How many years has it lain without power?",
        "A bare number, as 3: old capacitors in it want to be woken slowly.",
    ),
    "count": Question("count", "How many are there?", "A bare number.", enter="one"),
}  # fmt: skip
_PART_WORDS: tuple[tuple[OwnedKind, str, tuple[str, ...]], ...] = (
    ("idler_motor", "a three-phase motor to spin as an idler",
     ("power", "voltage", "current", "speed", "leads", "year")),
    ("drive", "a drive (variable frequency)",
     ("power", "voltage", "current", "input_phases", "years_unpowered")),
    ("rotary_converter", "a rotary converter", ("power", "rating", "voltage", "current")),
    ("static_converter", "a static converter", ("power", "rating", "voltage")),
    ("electronic_converter", "an electronic three-phase source",
     ("power", "rating", "voltage", "current")),
    ("battery_inverter", "a battery inverter of three phases",
     ("power", "rating", "voltage", "energy")),
    ("generator", "a generator", ("power", "rating", "voltage", "phases")),
    ("transformer", "a transformer", ("rating", "power", "voltage", "isolating")),
    ("run_capacitor", "run capacitors", ("capacitance", "voltage")),
    ("start_capacitor", "start capacitors", ("capacitance", "voltage")),
    ("contactor", "contactors", ("current", "voltage")),
    ("overload_relay", "overload relays", ("current",)),
    ("drop_out_relay", "a relay that takes a start capacitor out", ("voltage",)),
    ("choke", "a choke for a drive", ("current", "voltage")),
    ("brake_resistor", "a brake resistor", ("resistance", "power")),
    ("start_resistor", "a start resistor", ("resistance", "power")),
)  # fmt: skip
PART_KIND = Question(
    "kind", "What have you?", options=tuple(Option(k, w) for k, w, _ in _PART_WORDS), needed=True
)
PART = {kind: (*(_SIZE[key] for key in keys), _SIZE["count"]) for kind, _, keys in _PART_WORDS}
"""Asked of a part on the shelf, by its kind."""
PART_ALL = tuple(_SIZE.values())
_QUOTE_SIZE = {
    "power": Question("power", "For which motor or size?", "As 2.2 kW or 3 hp."),
    "rating": Question("rating", "For which size?", "As 5 kVA."),
    "current": Question("current", "For how many amps?", "As 16 A."),
    "capacitance": Question("capacitance", "For how many microfarads?", "As 30 uF."),
    "machine": Question("machine", "For which machine?", needed=True),
    "standing_per_year": Question(
        "standing_per_year", "And every year?", "A bare number, without a currency sign."
    ),
}
_QUOTE_WORDS: tuple[tuple[QuoteKind, str, tuple[str, ...]], ...] = (
    ("utility_service", "a three-phase service", ("current", "standing_per_year")),
    ("bigger_single_phase_service", "a larger single-phase service",
     ("current", "standing_per_year")),
    ("drive_per_motor", "a drive", ("power",)),
    ("shared_drive", "a motor's place on a shared drive", ("power",)),
    ("step_up_drive", "a drive that raises the volts", ("power",)),
    ("rotary_converter", "a rotary converter", ("power",)),
    ("static_converter", "a static converter", ("power",)),
    ("capacitor_run", "a run capacitor fitted to a motor", ("power",)),
    ("electronic_converter", "an electronic three-phase source", ("power",)),
    ("battery_inverter", "a battery inverter without its battery", ("power",)),
    ("generator", "a generator", ("power",)),
    ("idler_motor", "an idler motor", ("power",)),
    ("single_phase_motor", "a single-phase motor", ("power",)),
    ("motor_swap", "a new motor of three phases and low volts", ("power",)),
    ("star_point_out", "bringing a star point out", ("power",)),
    ("rewind", "rewinding a motor", ("power",)),
    ("machine_replaced", "another machine in its place", ("machine",)),
    ("job_hired_out", "having its work done elsewhere", ("machine", "standing_per_year")),
    ("run_capacitor", "a run capacitor", ("capacitance",)),
    ("start_capacitor", "a start capacitor", ("capacitance",)),
    ("contactor", "a contactor", ("power", "current")),
    ("overload_relay", "an overload relay", ("power", "current")),
    ("drop_out_relay", "a relay that takes a start capacitor out", ()),
    ("phase_sequence_relay", "a phase-sequence relay", ()),
    ("start_resistor", "a start resistor", ("power",)),
    ("choke", "a choke for a drive", ("power",)),
    ("emc_filter", "a radio filter for a drive", ("power",)),
    ("output_filter", "a filter behind a drive", ("power",)),
    ("brake_resistor", "a brake resistor", ("power",)),
    ("transformer", "a transformer", ("rating",)),
    ("residual_current_device", "a residual-current device", ("current",)),
    ("breaker", "a breaker", ("current",)),
    ("cable", "a metre of cable", ("current",)),
    ("isolator", "an isolator", ("current",)),
    ("plug_and_socket", "a plug and its socket", ("current",)),
)  # fmt: skip
_ALWAYS = (
    Question("price", "What was asked for it?", "A bare number, without a currency sign.",
             needed=True),
    Question(
        "origin",
        "New or used?",
        options=(
            Option("new", "new"), Option("self_built", "parts to build it myself"),
            Option("used", "second-hand"), Option("hired", "hired, the price of a day"),
            Option("owned", "it is mine already"),
        ),
        enter="new",
    ),
)  # fmt: skip
PRICE_KIND = Question(
    "kind", "What was it for?", options=tuple(Option(k, w) for k, w, _ in _QUOTE_WORDS), needed=True
)
PRICE = {kind: (*(_QUOTE_SIZE[key] for key in keys), *_ALWAYS) for kind, _, keys in _QUOTE_WORDS}
"""Asked of a price that was told, by what it is for."""
PRICE_ALL = (*_QUOTE_SIZE.values(), *_ALWAYS)
