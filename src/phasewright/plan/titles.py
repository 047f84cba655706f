"""Names for plans in an owner's words, and ids made from their content."""

from __future__ import annotations

import hashlib
from collections import Counter

from phasewright.plan.arrays import Choice
from phasewright.plan.options import Option, State, offer_of
from phasewright.plan.problem import Solution

WAY_WORDS = {
    "drive_per_motor": ("its own drive", "drives of their own"),
    "static_converter": ("a static converter", "static converters"),
    "capacitor_run": ("a run capacitor", "run capacitors"),
    "step_up_drive": ("a step-up drive", "step-up drives"),
    "motor_swap": ("another motor", "other motors"),
    "direct": ("no conversion", "no conversion"),
}


def content_of(choice: Choice, plan: Solution) -> str:
    """What is bought now and who hangs on what: the same content is the same plan."""
    parts = [_state_words(choice.states[plan.state])]
    for unit, index in enumerate(plan.options):
        if index < 0:
            continue
        option = choice.options[index]
        offer = offer_of(choice.facts, unit, option)
        rating = "" if offer is None or not offer.buys else f" {offer.buys[0].rating:g}"
        origin = "" if offer is None or not offer.buys else f" {offer.buys[0].origin}"
        variant = "" if offer is None or not offer.words else f" ({offer.words})"
        parts.append(
            f"{choice.facts.units[unit].id}: {option.way or 'nothing'}{variant}{rating}{origin}"
        )
    return "; ".join(parts)


def plan_id(choice: Choice, plan: Solution) -> str:
    """A stable id: a word for what is shared and a digest of the content."""
    digest = hashlib.sha256(content_of(choice, plan).encode()).hexdigest()[:8]
    return f"{choice.states[plan.state].kind}-{digest}"


def title_of(choice: Choice, plan: Solution) -> str:
    """The plan in a line: what is shared and what the others get."""
    state = choice.states[plan.state]
    used = Counter(
        _named(choice, unit, choice.options[index])
        for unit, index in enumerate(plan.options)
        if index >= 0
    )
    hung = 0 if state.way is None else used.pop(state.way, 0)
    left = used.pop(None, 0)
    parts = []
    if hung:
        parts.append(f"{_state_words(state)} for {_motors(hung)}")
    for way, count in sorted(used.items(), key=lambda pair: (-pair[1], str(pair[0]))):
        one, many = WAY_WORDS.get(str(way), (str(way), f"{way} each"))
        parts.append(f"{one if count == 1 else many} for {_motors(count)}")
    if left:
        parts.append(f"{_motors(left)} left without power")
    words = ", ".join(parts) or "nothing"
    return words[0].upper() + words[1:]


def _named(choice: Choice, unit: int, option: Option) -> str | None:
    """The way's name, or the words of the variant that was chosen."""
    offer = offer_of(choice.facts, unit, option)
    return option.way if offer is None or not offer.words else offer.words


def _motors(count: int) -> str:
    return "one motor" if count == 1 else f"{count} motors"


def _state_words(state: State) -> str:
    return "nothing shared" if state.had is None else state.had.words
