"""The driven machine at the motor's shaft: the owner's numbers first, then its kind's."""

from __future__ import annotations

from dataclasses import dataclass

from phasewright.machines.inertia import run_up_inertia, wheel_inertia
from phasewright.quantities.codes import LoadKindName
from phasewright.quantities.finding import Assumed
from phasewright.quantities.value import Value, exact, figure
from phasewright.shop.machine import Load as ShopLoad
from phasewright.shop.machine import Machine
from phasewright.tables.loads import LoadKind, TorqueLaw, load_kind


@dataclass(frozen=True, slots=True)
class Load:
    """What the motor has to turn. Torques are shares of the rated shaft torque.

    `inertia_kg_m2` is that of the load at the motor shaft, without the rotor. `kind` is the
    row of the table of load kinds. `law` is how torque follows speed (fan: with its square).
    """

    kind: LoadKind
    law: TorqueLaw
    running_torque: Value
    breakaway_torque: Value
    inertia_kg_m2: Value
    duty: Value
    starts_per_hour: Value
    hours_per_year: Value | None
    starts_loaded: bool
    wrong_direction_harms: bool

    @property
    def name(self) -> LoadKindName:
        """The load kind's name."""
        return self.kind.name


def on_the_way_up(
    law: TorqueLaw, working_ratio: float, breakaway_ratio: float, *, starts_loaded: bool
) -> float:
    """What a load asks for on the way up to speed, over rated torque, by what it asks at work.

    A machine that is started empty asks for no more than it takes to break away until work is put
    to it; one that starts loaded, and a pump or fan, asks for its working torque.
    """
    if law == "fan" or starts_loaded:
        return working_ratio
    return min(working_ratio, breakaway_ratio)


def load_of(
    load: ShopLoad,
    machine: Machine,
    rotor_kg_m2: Value,
    path: str,
    *,
    rated_nm: float,
    speed_rpm: float,
) -> tuple[Load, tuple[Assumed, ...]]:
    """The load of a motor, and every default that was taken for it.

    `path` is the motor's path in the shop file (`machines[0].motors[1]`); `rated_nm` and
    `speed_rpm` are the motor's, which turn a wheel's size or a run-up time into an inertia.
    """
    kind = load_kind(load.kind)
    assumed: list[Assumed] = []

    def given(number: float | None, default: Value, key: str, what: str) -> Value:
        if number is not None:
            return exact(number, default.unit, "stated", "shop file")
        assumed.append(Assumed(what, f"{path}.load.{key}", default))
        return default

    running = given(load.torque, kind.running, "torque", "running torque")
    duty = given(load.duty, kind.duty, "duty", "share of time under load")
    breakaway = kind.breakaway_for(load.start)
    assumed.append(Assumed("breakaway torque", f"{path}.load.start", breakaway))
    inertia = _known_inertia(load, rotor_kg_m2, rated_nm, speed_rpm)
    if inertia is None:
        inertia = _usual_inertia(kind, rotor_kg_m2)
        what = "inertia of the load"
        if load.run_up is not None:
            what += f" (a run-up of {load.run_up.number:g} s is too short for this rotor alone)"
        assumed.append(Assumed(what, f"{path}.load.inertia", inertia))
    machine_path = path.split(".motors[", maxsplit=1)[0]
    if machine.starts_per_hour is not None:
        starts = exact(machine.starts_per_hour, "1/h", "stated", "shop file")
    else:
        starts = kind.starts_per_hour
        assumed.append(Assumed("starts per hour", f"{machine_path}.starts_per_hour", starts))
    hours = machine.hours_per_year
    harms = machine.wrong_direction_harms
    resolved = Load(
        kind=kind,
        law=kind.law,
        running_torque=running,
        breakaway_torque=breakaway,
        inertia_kg_m2=inertia,
        duty=duty,
        starts_per_hour=starts,
        hours_per_year=None if hours is None else exact(hours, "h", "stated", "shop file"),
        starts_loaded=load.start == "loaded",
        wrong_direction_harms=kind.wrong_direction_harms if harms is None else harms,
    )
    return resolved, tuple(assumed)


def _known_inertia(load: ShopLoad, rotor: Value, rated_nm: float, speed_rpm: float) -> Value | None:
    """The inertia the owner gave or made it possible to compute; None without such a fact."""
    if load.inertia is not None:
        return load.inertia
    if load.wheel is not None:
        return wheel_inertia(load.wheel, speed_rpm)
    if load.run_up is not None:
        return run_up_inertia(load.run_up.number, rated_nm, speed_rpm, rotor)
    return None


def _usual_inertia(kind: LoadKind, rotor: Value) -> Value:
    ratio = kind.inertia_ratio
    return figure(
        ratio.number * rotor.number,
        "kg m2",
        "machines.load.load_of",
        {
            "inertia ratio": (ratio.number, ""),
            "rotor inertia": (rotor.number, "kg m2"),
        },
        ratio.source,
        low=ratio.low * rotor.low,
        high=ratio.high * rotor.high,
    )
