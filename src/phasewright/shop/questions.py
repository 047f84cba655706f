"""What an owner is asked to describe a shop: plain words, and what to look at or to measure.

A question that may be left out fills the key when it is answered and leaves it out otherwise;
every unknown has an honest default with a spread further up.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from typing import Any, Literal

from phasewright.quantities.errors import QuantityError


@dataclass(frozen=True, slots=True)
class Option:
    """One answer of a closed list; it may be typed as its number, its words or another name."""

    entry: Any
    words: str
    names: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Question:
    """A question. `look` says what to look at or measure; `enter` what an empty answer means.

    `key` is where the answer stands in its part of the shop file (dots lead deeper), empty where
    the interview makes something else of it. `needed` questions cannot be left out. `many` says
    that the answer is a list: `some` of the options, a line each; a `list` of words with commas
    between; a `pair` of numbers. `none_at` is the key that holds the bare word none where that is
    the answer, with nothing below it.
    """

    key: str
    asks: str
    look: str = ""
    options: tuple[Option, ...] = ()
    enter: str = "not known"
    needed: bool = False
    many: Literal["", "some", "list", "pair"] = ""
    none_at: str = ""

    def chosen(self, text: str) -> Any:
        """What a typed answer stands for; raises QuantityError where it is none of the options."""
        if self.many == "pair":
            numbers = _NUMBER.findall(text)
            if len(numbers) != 2:
                raise QuantityError(
                    f"'{text[:60]}' is no two numbers", "write for example 0.5 to 1.2"
                )
            return [float(number.replace(",", ".")) for number in numbers]
        if self.many:
            parts = text.splitlines() if self.options else re.split(r"[,;\n]", text)
            return [self._one(part.strip()) for part in parts if part.strip()]
        return self._one(text)

    def told(self, entry: Any) -> str:
        """An answer as it is typed: what `chosen` takes back for it."""
        if self.many == "pair":
            return " to ".join(f"{number:g}" for number in entry)
        if self.many:
            return ("\n" if self.options else ", ").join(self._words(one) for one in entry)
        return self._words(entry)

    def _words(self, entry: Any) -> str:
        known = (option.words for option in self.options if option.entry == entry)
        plain = f"{entry:g}" if isinstance(entry, float) else str(entry)
        return next(known, plain)

    def _one(self, text: str) -> Any:
        """What one answer stands for."""
        if not self.options:
            return text
        plain = " ".join(text.replace("_", " ").casefold().split())
        if plain.isascii() and plain.isdigit() and 1 <= int(plain) <= len(self.options):
            return self.options[int(plain) - 1].entry
        for option in self.options:
            known = (option.words, str(option.entry).replace("_", " "), *option.names)
            if plain in (name.casefold() for name in known):
                return option.entry
        raise QuantityError(
            f"'{text[:60]}' is none of the answers", f"a number from 1 to {len(self.options)}"
        )


_NUMBER = re.compile(r"[0-9]+(?:[.,][0-9]+)?")


@dataclass(frozen=True, slots=True)
class Group:
    """Questions that belong together, asked where somebody opens them; `care` warns before."""

    title: str
    questions: tuple[Question, ...]
    care: str = ""


YES_NO = (Option(True, "yes", ("y",)), Option(False, "no", ("n",)))

NAME = Question("shop", "What is your shop called?", enter="My workshop")
COUNTRY = Question("country", "Which country is it in?", "Two capital letters, as GB, DE or US.")
REGION = Question(
    "region",
    "How are wires and motors sold there?",
    options=(
        Option("IEC", "wires in mm2, motors in kW"),
        Option("NEC", "wires by gauge number (AWG), motors in horsepower"),
    ),
    needed=True,
)
SUPPLY_KIND = Question(
    "kind",
    "What feeds the shop?",
    "A meter from each of the two wires to earth tells the first three apart. Whoever is not used "
    "to measuring at the supply lets somebody do it who is.",
    (
        Option(
            {"kind": "single_phase", "earthed": "line_2"},
            "two wires, one of them at about zero volts to earth (line and neutral)",
            ("line and neutral",),
        ),
        Option(
            {"kind": "split_phase", "earthed": "centre"},
            "two wires, both at half the voltage to earth (two lines and a centre)",
            ("two lines and a centre",),
        ),
        Option(
            {"kind": "single_phase", "earthed": "unknown"},
            "two wires, not measured to earth",
        ),
        Option({"kind": "generator"}, "a generator", ("generator",)),
        Option({"kind": "inverter"}, "a battery inverter", ("inverter",)),
        Option({"kind": "three_phase"}, "three phases already", ("three phases",)),
    ),
    enter="two wires, not measured to earth",
)
VOLTS = Question(
    "voltage",
    "How many volts are there between the two wires that will feed the machines?",
    "As it is sold, for example 230 V; between both lines where there are two (240 V), between any "
    "two where there are three (400 V).",
)
HERTZ = Question("frequency", "How many hertz?", "50 Hz or 60 Hz; it stands on every plate around.")
FUSE = Question(
    "service_rating",
    "What is the main fuse or breaker?",
    "The number on the fuse carrier or the main breaker, as 60 A; not the number on the switch.",
)
MADE_HERE = (
    Question(
        "contracted_power",
        "What does it give for ever?",
        "The rated output on its plate, in kVA, as 6 kVA.",
    ),
    Question(
        "surge.rating",
        "What does it give for a few seconds?",
        "The peak or surge output in its papers, as 9 kVA.",
    ),
)
"""Asked of a generator or an inverter, which has no main fuse."""
MACHINE = Question("name", "What is the machine called?", "As Lathe or Bandsaw.", needed=True)
NEXT_MACHINE = Question("name", "The next machine?", "Its name.", enter="no more machines")
PLATE = Question(
    "",
    "What does the motor's plate say?",
    "In one line, in any order, as: 3 HP 220/440V 8.4/4.2A 1430 RPM 50Hz. The plate on the motor "
    "itself, not the machine's.",
    enter="no plate that can be read",
)
NEXT_MOTOR = Question(
    "name", "Another motor on this machine?", "Its name, as pump or feed.", enter="no more motors"
)
NO_PLATE = (
    Question(
        "no_load_current",
        "Amps with nothing to do?",
        "A clamp around one of its three wires while it turns without load, as 3.2 A.",
    ),
    Question(
        "shaft_height",
        "How high is the middle of the shaft above the motor's feet?",
        "A rule, as 90 mm.",
    ),
    Question(
        "winding_resistance",
        "How many ohms has one winding?",
        "Disconnected, the meter across one winding (or two of three leads), as 5.0 ohm.",
    ),
)
TOGETHER = Question(
    "",
    "Which machines run at the same time?",
    "Their names with a comma between, as: Saw, Extractor. One group a time.",
    enter="one machine at a time, or no more groups",
)

MEASURED = Question(
    "measured_voltage",
    "What does a meter show between the two wires, at its lowest and its highest?",
    "By day and in the evening, as 236/251 V.",
)
OTHER_LOAD = Question(
    "other_loads",
    "What else may be on while you work?",
    "One thing a line with its amps, as: kettle 9 A. Think of oven, heat pump, shower, car.",
    enter="no more",
)
LAID = Question(
    "method",
    "How does that cable lie?",
    options=(
        Option("on_wall", "on the wall"),
        Option("in_pipe", "in a pipe"),
        Option("buried", "in the ground"),
        Option("overhead", "through the air"),
    ),
)
AROUND = (
    Question(
        "farm",
        "Does it feed a farm or a market garden?",
        "Where animals are kept, fire and shock are feared more: every circuit is protected more.",
        YES_NO,
        enter="no, or not known",
    ),
    Question(
        "dwelling",
        "Do dwellings share its transformer?",
        "Neighbours or your own house on the same lines: radio and lamps may be disturbed.",
        YES_NO,
        enter="yes, or not known",
    ),
)
"""Asked of what stands around a supply, on the page."""
SUPPLY_MORE = (
    Question(
        "outlet_rating",
        "If only an outlet may be used: which breaker is behind it?",
        "The number on that outlet's breaker, as 16 A; not what is printed on the plug.",
        enter="not tied to an outlet, or not known",
    ),
    Question(
        "contracted_power",
        "Does the contract or the meter limit the power?",
        "On the bill, as 3 kVA.",
        enter="no limit, or not known",
    ),
    Question("feeder.length", "How long is the cable to the shop, one way?", "As 25 m or 80 ft."),
    Question(
        "feeder.conductor",
        "How thick is one of its wires?",
        "Printed on the cable, as 10 mm2 or 6 AWG; else the thickness of one bare wire, squared "
        "times 0.79.",
    ),
    replace(LAID, key="feeder.method"),
    Question(
        "earthing",
        "Where does the earth come from?",
        "A rod at the building, a label about multiple earthing, a cable with its own earth wire.",
        (
            Option("TT", "a rod of my own"),
            Option("TN-C-S", "the incoming neutral (multiple earthing)"),
            Option("TN-S", "an earth wire or sheath of the incoming cable"),
            Option("IT", "nowhere: no wire of the supply is tied to earth"),
        ),
    ),
)
"""Asked of the supply when there is time; a key with a dot lies in a part of its own."""
