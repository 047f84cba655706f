"""The order of the questions, and the shop that grows from the answers.

The interview is a plain sequence: the same answers always lead to the same draft and the same
next question, so that going back is leaving the last answer out. The terminal and the page ask;
nothing here prints or reads.
"""

from __future__ import annotations

import re
from collections.abc import Generator, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from phasewright.quantities.errors import QuantityError
from phasewright.quantities.text import listed
from phasewright.quantities.units import parse_several, spelt
from phasewright.shop import machine_questions as machines
from phasewright.shop import questions as ask
from phasewright.shop.plate_line import read_plate_line
from phasewright.shop.questions import YES_NO, Question

Entries = dict[str, Any]
Script = Generator[Question, str, None]
_NEC = ("US", "CA", "MX")
NAMED_AMPS = re.compile(r"(.*?\S)[\s,:]+([0-9][0-9.,]*\s*[a-zA-Z]+)")


@dataclass(slots=True)
class Draft:
    """What is known so far, as entries of the shop file, and what is not.

    `unknown` maps a part (`supply`, `machines[0]`, `machines[0].motors[1]`, `wishes`, `tariff`)
    to its questions that were left out. `said` is what the last answer was taken for.
    """

    top: Entries = field(default_factory=dict)
    supply: Entries = field(default_factory=dict)
    tariff: Entries = field(default_factory=dict)
    machines: list[Entries] = field(default_factory=list)
    wishes: Entries = field(default_factory=dict)
    unknown: dict[str, list[Question]] = field(default_factory=dict)
    said: tuple[str, ...] = ()

    def leave(self, part: str, questions: Sequence[Question]) -> None:
        """Note what was not answered."""
        self.unknown.setdefault(part, []).extend(questions)

    @property
    def region(self) -> str:
        return str(self.top.get("region", "IEC"))


def replay(answers: Sequence[str]) -> tuple[Draft, Question | None]:
    """The draft after these answers and the next question; None where all is asked.

    Raises QuantityError where the last answer cannot be taken.
    """
    draft = Draft()
    script = _interview(draft)
    question = next(script)
    for answer in answers:
        draft.said = ()
        text = answer.strip()
        if not text and question.needed:
            raise QuantityError(
                "this cannot be left out", question.look or "choose one of the answers"
            )
        try:
            question = script.send(text)
        except StopIteration:
            return draft, None
    return draft, question


def _interview(draft: Draft) -> Script:
    draft.top["shop"] = (yield ask.NAME) or ask.NAME.enter
    yield from _supply(draft)
    yield from _machine(draft, ask.MACHINE)
    while len(draft.machines) < 200:
        before = len(draft.machines)
        yield from _machine(draft, ask.NEXT_MACHINE)
        if len(draft.machines) == before:
            break
    if len(draft.machines) > 1:
        yield from _together(draft)
    yield from _more(draft)


def _supply(draft: Draft) -> Script:
    supply = draft.supply
    yield from _fill(draft, "supply", supply, (ask.COUNTRY,))
    if country := supply.get("country"):
        draft.top["region"] = "NEC" if country in _NEC else "IEC"
    else:
        draft.top["region"] = ask.REGION.chosen((yield ask.REGION))
    typed = yield ask.SUPPLY_KIND
    supply.update(ask.SUPPLY_KIND.chosen(typed or ask.SUPPLY_KIND.enter))
    three = supply["kind"] == "three_phase"
    usual = {
        "NEC": ("208 V" if three else "240 V", "60 Hz"),
        "IEC": ("400 V" if three else "230 V", "50 Hz"),
    }
    for question, taken in zip((ask.VOLTS, ask.HERTZ), usual[draft.region], strict=True):
        text = yield replace(question, enter=f"{taken}, as usual there")
        supply[question.key] = text or taken
        if not text:
            draft.leave("supply", (replace(question, key=f"{question.key} ({taken} is taken)"),))
    if supply["kind"] in ("generator", "inverter"):
        yield from _fill(draft, "supply", supply, ask.MADE_HERE)
    else:
        yield from _fill(draft, "supply", supply, (ask.FUSE,))


def _machine(draft: Draft, question: Question) -> Script:
    name = yield question
    if not name:
        return
    part = f"machines[{len(draft.machines)}]"
    motors: list[Entries] = []
    draft.machines.append({"name": name, "motors": motors})
    called = "motor"
    while called and len(motors) < 50:
        motor: Entries = {"name": called}
        motors.append(motor)
        yield from _motor(draft, f"{part}.motors[{len(motors) - 1}]", motor, name)
        called = yield ask.NEXT_MOTOR


def _motor(draft: Draft, part: str, motor: Entries, machine: str) -> Script:
    whose = f"{machine}: " if motor["name"] == "motor" else f"{machine}, {motor['name']}: "
    load = replace(machines.LOAD, asks=f"{whose}{machines.LOAD.asks}")
    kind = load.chosen((yield load) or load.enter)
    line = yield replace(ask.PLATE, asks=f"{whose}{ask.PLATE.asks}")
    if line:
        read = read_plate_line(line)
        motor["plate"] = read.entries
        told = ", ".join(f"{key.replace('_', ' ')} {entry}" for key, entry in read.entries.items())
        unused = (f"Not used: {listed(read.unused, 'and')}.",) if read.unused else ()
        draft.said = (f"Read: {told}." if told else "Nothing was read.", *unused, *read.notes)
    else:
        yield from _unreadable(draft, part, motor)
    motor["load"] = {"kind": kind}


def _unreadable(draft: Draft, part: str, motor: Entries) -> Script:
    """Size from what can be measured where no plate can be read."""
    plate: Entries = {}
    for question in ask.NO_PLATE:
        last = question is ask.NO_PLATE[-1]
        needed = last and "shaft_height" not in plate
        text = yield replace(question, needed=needed)
        if text:
            plate[question.key] = text
        else:
            draft.leave(part, (replace(question, key=f"plate.{question.key}"),))
        whole = "shaft_height" in plate or last
        # until all is asked a size stands in, so that each answer is read as it is given
        motor["plate"] = plate if whole else {"power": "1 kW"} | plate


def _together(draft: Draft) -> Script:
    names = {machine["name"].casefold(): machine for machine in draft.machines}
    while group := (yield ask.TOGETHER):
        wanted = [name.strip() for name in group.split(",") if name.strip()]
        first = names.get(wanted[0].casefold()) if wanted else None
        if first is None or len(wanted) < 2:
            raise QuantityError(
                f"'{group[:60]}' names no two machines",
                f"at least two of {listed((m['name'] for m in draft.machines), 'and')}",
            )
        known = [names.get(name.casefold(), {"name": name}) for name in wanted]
        for place, machine in enumerate(known[:-1]):
            beside = machine.setdefault("runs_with", [])
            beside += [m["name"] for m in known[place + 1 :] if m["name"] not in beside]


def _more(draft: Draft) -> Script:
    """Groups that may be left out as a whole; what is left out is noted for the file."""
    more = (ask.MEASURED, *_open(draft.supply, ask.SUPPLY_MORE), ask.OTHER_LOAD)
    if (yield from _wanted("Answer more about the supply?", "eight questions")):
        yield from _measured(draft)
        yield from _fill(draft, "supply", draft.supply, _open(draft.supply, ask.SUPPLY_MORE))
        yield from _other_loads(draft)
    else:
        draft.leave("supply", more)
    for place, machine in enumerate(draft.machines):
        yield from _more_of(draft, machine, f"machines[{place}]")
    wishes = (machines.CURRENCY,), (machines.ENERGY,), machines.WISHES
    parts = ("", draft.top), ("tariff", draft.tariff), ("wishes", draft.wishes)
    if (yield from _wanted("Answer about prices and wishes?", "five questions")):
        for questions, (part, entries) in zip(wishes, parts, strict=True):
            yield from _fill(draft, part, entries, questions)
    else:
        for questions, (part, _) in zip(wishes, parts, strict=True):
            draft.leave(part, questions)


def _more_of(draft: Draft, machine: Entries, part: str) -> Script:
    kinds = [motor["load"]["kind"] for motor in machine["motors"]]
    nose = (machines.SPINDLE_NOSE,) if "spindle" in kinds else ()
    questions = machines.MACHINE_MORE + nose
    name = machine["name"]
    wanted = yield from _wanted(f"Answer more about {name}?", "hours, starts, controls, brake")
    if wanted:
        yield from _fill(draft, part, machine, questions)
    else:
        draft.leave(part, questions)
    for seat, motor in enumerate(machine["motors"]):
        where = f"{part}.motors[{seat}]"
        of = _open(motor, machines.MOTOR_MORE)
        if wanted:
            whose = name if motor["name"] == "motor" else f"{name}, {motor['name']}"
            named = tuple(replace(q, asks=f"{whose}: {q.asks}") for q in of)
            yield from _fill(draft, where, motor, named)
        else:
            draft.leave(where, of)


def _wanted(asks: str, about: str) -> Generator[Question, str, bool]:
    question = Question("", asks, f"{about[:1].upper()}{about[1:]}.", YES_NO, enter="no")
    return bool(question.chosen((yield question) or "no"))


def _measured(draft: Draft) -> Script:
    text = yield ask.MEASURED
    if not text:
        draft.leave("supply", (ask.MEASURED,))
        return
    volts = parse_several(text, "voltage")
    if len(volts) > 2:
        raise QuantityError(f"'{text}' gives {len(volts)} values", "the lowest and the highest")
    low, high = spelt(volts[:1], "voltage"), spelt(volts[-1:], "voltage")
    draft.supply["measured_voltage"] = {"low": low, "high": high}


def _other_loads(draft: Draft) -> Script:
    while text := (yield ask.OTHER_LOAD):
        named = NAMED_AMPS.fullmatch(text)
        if named is None:
            raise QuantityError(f"'{text[:60]}' tells no amps", "write for example 'kettle 9 A'")
        name, current = named.groups()
        draft.supply.setdefault("other_loads", []).append({"name": name, "current": current})


def _fill(draft: Draft, part: str, into: Entries, questions: Sequence[Question]) -> Script:
    """Ask questions whose answers stand at their keys as they are typed or chosen."""
    for question in questions:
        text = yield question
        if not text:
            draft.leave(part, (question,))
            continue
        *deeper, last = question.key.split(".")
        room = into
        for key in deeper:
            room = room.setdefault(key, {})
        room[last] = question.chosen(text)


def _open(entries: Entries, questions: Sequence[Question]) -> tuple[Question, ...]:
    """The questions whose key has no answer yet."""
    return tuple(question for question in questions if not _holds(entries, question.key))


def _holds(entries: Entries, key: str) -> bool:
    for part in key.split("."):
        if not isinstance(entries, dict) or part not in entries:
            return False
        entries = entries[part]
    return True
