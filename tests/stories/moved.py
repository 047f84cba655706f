"""The shops of this folder told otherwise: renamed and reordered, or with every number moved."""

from __future__ import annotations

import json
import re
from typing import Any

from ruamel.yaml import YAML
from stories.judged import HERE

from phasewright.files.shop_file import read_text
from phasewright.network.impedance import supply_impedance
from phasewright.plan.facts import motors_of
from phasewright.plan.units import units_of
from phasewright.shop.model import Shop
from phasewright.ways.catalogue import CATALOGUE
from phasewright.ways.site_of import site_of

STORIES = sorted(path.name.removesuffix(".shop.yaml") for path in HERE.glob("*.shop.yaml"))
QUANTITY = re.compile(r"([\d.]+)((?:/[\d.]+)?) ([A-Za-zµ°].*)")
PLACES = {"supply": 0, "plate": 1}
# signs of what the supply, the plates and all else (loads, wants, tools, parts) state
HOW = {
    "up": (1, 1, 1), "down": (-1, -1, -1),
    "plates down": (1, -1, 1), "plates up": (-1, 1, -1),
}  # fmt: skip
COUNTED = {"phasewright", "leads", "phases", "input_phases", "year", "count", "steps", "capacitor"}


def tree_of(story: str) -> dict[str, Any]:
    tree = YAML(typ="safe").load((HERE / f"{story}.shop.yaml").read_text(encoding="utf-8"))
    assert isinstance(tree, dict)
    return tree


def shop_of(tree: dict[str, Any]) -> Shop:
    return read_text(json.dumps(tree, ensure_ascii=False))


def moved(story: str, how: str) -> dict[str, Any]:
    """Every stated quantity and ratio of a story moved by 2 %, `how` as in `HOW`.

    What stands on one plate moves together, for its numbers bind each other: watts up and volts,
    amps and power factor down would be an eighth less of loss and more, not 2 %. Counts and years
    stay. Where plates move against the supply, hertz stay (a public supply has 50 or 60) and a
    speed moves by its slip, for 2 % of 1470 rpm would be beyond what the hertz give.
    """
    tree, signs = tree_of(story), HOW[how]
    alike = len(set(signs)) == 1

    def by(key: str, where: int) -> float:
        return 1.0 if key == "frequency" and not alike else 1.0 + 0.02 * signs[where]

    def number(key: str, where: int, value: float, hertz: float) -> float:
        factor = by(key, where)
        if key != "speed" or alike:
            return value * factor
        synchronous = min(
            rpm for rpm in (120 * hertz / poles for poles in (2, 4, 6, 8, 10)) if rpm >= value
        )
        return synchronous - (synchronous - value) * factor

    def walk(key: str, where: int, part: Any, hertz: float) -> Any:
        if isinstance(part, dict):
            own = float(str(part.get("frequency", hertz)).split()[0])
            return {
                name: walk(name, PLACES.get(name, where), value, own)
                for name, value in part.items()
            }
        if isinstance(part, list):
            return [walk(f"each {key}", where, each, hertz) for each in part]
        if key in COUNTED or isinstance(part, bool):
            return part
        if isinstance(part, (int, float)):
            return part * by(key, where)
        if isinstance(part, str) and (found := QUANTITY.fullmatch(part)):
            one = number(key, where, float(found[1]), hertz)
            two = f"/{number(key, where, float(found[2][1:]), hertz)!r}" if found[2] else ""
            return f"{one!r}{two} {found[3]}"
        return part

    hertz = float(tree["supply"]["frequency"].split()[0])
    result = walk("", 2, tree, hertz)
    assert isinstance(result, dict)
    return result


def renamed(tree: dict[str, Any]) -> tuple[dict[str, Any], dict[str, str]]:
    """Other names, machines, motors and keys in the opposite order; and old ids by new ones."""
    names = {each["name"]: f"Thing {at}" for at, each in enumerate(tree["machines"])}
    motors: dict[str, str] = {}

    def turned(part: Any) -> Any:
        if isinstance(part, dict):
            return {key: turned(value) for key, value in reversed(part.items())}
        return [turned(each) for each in part] if isinstance(part, list) else part

    def machine(of: dict[str, Any]) -> dict[str, Any]:
        new = {**of, "name": names[of["name"]]}
        new["motors"] = [
            {**each, "name": f"part {at}"} for at, each in reversed([*enumerate(of["motors"])])
        ]
        for at, each in enumerate(of["motors"]):
            motors[f"{names[of['name']]}/part {at}"] = f"{of['name']}/{each['name']}"
        for key in ("runs_with", "starts_with"):
            if key in of:
                new[key] = [names[name] for name in reversed(of[key])]
        return new

    other = {**tree, "shop": "Elsewhere"}
    other["machines"] = [machine(each) for each in reversed(tree["machines"])]
    result = turned(other)
    assert isinstance(result, dict)
    return result, motors


def verdicts(shop: Shop) -> dict[tuple[str, str], str]:
    """The verdict by motor and way."""
    site = site_of(shop, supply_impedance(shop.supply, shop.region))
    units = units_of(shop, {motor.id: motor for motor in motors_of(shop)})
    return {
        (unit.id, way.NAME): way.judge(unit.task, site).verdict
        for unit in units
        for way in CATALOGUE
    }
