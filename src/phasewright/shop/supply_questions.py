"""What is asked on the page of the supply beyond the first questions, and of money and wishes."""

from __future__ import annotations

from phasewright.shop import machine_questions as machines
from phasewright.shop import questions as ask
from phasewright.shop.circuit_questions import THICK, feeder, residual
from phasewright.shop.questions import YES_NO, Group, Option, Question

CARE = "whoever is not used to measuring at the supply lets somebody do it who is."


def _of(*keys: str) -> tuple[Question, ...]:
    return tuple(q for key in keys for q in (*ask.SUPPLY_MORE, *ask.AROUND) if q.key == key)


EARTHED = Question(
    "earthed",
    "Which of its wires is at earth potential?",
    "A meter from each wire to earth: the one at about zero is.",
    (
        Option("line_2", "one of the two wires"),
        Option("centre", "the centre between them"),
        Option("none", "none of them"),
        Option("unknown", "not measured"),
    ),
)
"""Where the answer to what feeds the shop does not tell it already."""
SUPPLY = (
    Group("If only an outlet may be used, or a contract limits", _of(
        "outlet_rating", "contracted_power"
    )),
    Group("The cable to the shop", feeder("feeder")),
    Group(
        "Earth and protection",
        (
            *_of("earthing"),
            EARTHED,
            *residual("residual_current", "Is a residual-current device before it all?"),
            Question("service_conductor", "How thick is one wire in from the street?", THICK),
            Question("electrode_conductor", "How thick is the wire to the earth rod?", THICK),
            Question("bonding_conductor", "How thick is the wire to pipes and steel?", THICK),
            Question(
                "insulation_monitor",
                "If no wire of it is earthed: does something watch the insulation?",
                "An insulation monitor with its lamp and test button.",
                YES_NO,
            ),
            Question(
                "volts_to_earth.line_1",
                "Volts from the first supply wire to earth?",
                "With a meter of low resistance or a lamp across it, as 238 V.",
            ),
            Question("volts_to_earth.line_2", "Volts from the second to earth?", "As 1 V."),
        ),
        CARE,
    ),
    Group(
        "How strong it is",
        (
            Question(
                "heater_test.unloaded",
                "Volts at the outlet with nothing on?",
                "The owner's way to the supply's impedance: a heater off and on, several times, "
                "while nothing else is switched; as 238 V.",
            ),
            Question("heater_test.loaded", "Volts there with the heater on?", "As 233 V."),
            Question("heater_test.current", "Amps of that heater?", "With a clamp, as 12 A."),
            Question(
                "loop_impedance",
                "What is the loop impedance, line to neutral, at the intake?",
                "From an electrician's tester, as 0.35 ohm.",
            ),
            Question(
                "prospective_fault_current",
                "Or the fault current the tester showed?",
                "As 1.2 kA.",
            ),
            Question(
                "transformer",
                "How large is the transformer that feeds it?",
                "A number on the can on the pole, as 25 kVA; or ask the network operator.",
            ),
            *_of("farm", "dwelling"),
        ),
        CARE,
    ),
    Group(
        "If a generator or a battery inverter feeds the shop",
        (
            Question(
                "surge.rating", "What does it give for a few seconds?",
                "The peak or surge output in its papers, as 9 kVA.",
            ),
            Question("surge.seconds", "For how many seconds?", "A bare number, as 5."),
            Question(
                "surge.crest_factor",
                "How peaky a current does it bear?",
                "Its crest factor in its papers, a bare number, as 3.",
            ),
        ),
    ),
)  # fmt: skip
MONEY = (
    Question("tariff.energy", machines.ENERGY.asks, machines.ENERGY.look),
    Question(
        "tariff.standing_per_year",
        "What does the supply cost a year beside the energy?",
        "The standing charge on the bill times twelve; a bare number.",
    ),
    Question(
        "tariff.fuel",
        "What does a litre of fuel cost, where a generator may run?",
        "A bare number, as 1.6.",
        enter="no generator, or not known",
    ),
)
WISHES = tuple(
    Question(f"wishes.{q.key}", q.asks, q.look, q.options, q.enter) for q in machines.WISHES
)
WISHES_MORE = (
    Group(
        "How quiet it must be",
        (
            Question(
                "wishes.quiet.level",
                "How loud may it be there at most?",
                "45 dB is a quiet evening, 60 dB people talking; as 45 dB.",
                enter="no matter",
            ),
            Question("wishes.quiet.at", "Whose ears?", "As neighbour or bedroom."),
            Question("wishes.quiet.distance", "How far away?", "As 12 m or 40 ft."),
            Question("wishes.quiet.hours", "When?", "As evening or night."),
        ),
    ),
    Group(
        "How long you stay, and what shall stay",
        (
            Question(
                "wishes.stay_years", "How many years will you stay in this place?",
                "A bare number, as 10. What is built in stays behind.",
            ),
            Question(
                "wishes.portable", "Shall what is bought move with you?", "", YES_NO, enter="no"
            ),
            Question(
                "wishes.keep",
                "What shall stay as it is?",
                "With commas between, as: original controls, forward and reverse, foot brake.",
                many="list",
                enter="nothing in particular",
            ),
            Question(
                "wishes.discount_rate",
                "What is next year's money worth less?",
                "A share, as 0.04 for 4 of 100; what a saving account gives above dearer prices.",
            ),
        ),
    ),
)  # fmt: skip
