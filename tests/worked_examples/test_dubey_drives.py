"""Dubey, Fundamentals of Electrical Drives, 2nd ed. (2004): a motor on changing frequency, braked by
direct current, and plugged. The book's circuits leave the magnetising branch out where it says so.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from published_circuits import published
from reference_machines import NO_LOAD
from scipy.optimize import brentq
from starts.drive_courses import on_drive

from phasewright.machines.performance import at_slip, at_torque, breakdown, curve, rated
from phasewright.starts.drive_course import Injection, Inverter, Stop
from phasewright.starts.drive_waves import drive_waves

NO_MAGNETISING = 1e9
# examples 6.9 to 6.11 (p. 199): 400 V, 50 Hz, 4 poles, star, Rs 2, Rr 3, X 3.5 + 3.5 ohm, 1370 rpm
MOTOR = published(
    400.0, 50.0, 4, 2.0, 3.5, 3.0, 3.5, NO_MAGNETISING, rated_slip=130.0 / 1500.0
)  # fmt: skip


def anywhere_nm(volts, hertz):
    """The greatest torque at any slip, also turned backwards."""
    return curve(MOTOR, np.geomspace(1e-3, 10.0, 20_000), volts, hertz).airgap_torque_nm.max()


@pytest.mark.parametrize(
    ("hertz", "most_nm"),
    [
        (10, 22.93), (15, 31.18), (20, 37.44), (25, 42.22), (30, 45.94),
        (35, 48.89), (40, 51.27), (45, 53.24), (50, 54.88),
    ],
)  # fmt: skip
def test_example_6_9_breakdown_torque_at_constant_volts_per_hertz(hertz, most_nm):
    """Where the book's greatest torque lies beyond standstill (10 and 15 Hz) ours is that of
    standstill, the greatest with which the motor drives."""
    volts = 400.0 * hertz / 50.0
    assert anywhere_nm(volts, hertz) == pytest.approx(most_nm, rel=4e-4)
    found, peak_slip = breakdown(MOTOR, volts, hertz), 3.0 / math.hypot(2.0, 7.0 * hertz / 50.0)
    if peak_slip < 1.0:
        assert found.airgap_torque_nm == pytest.approx(most_nm, rel=4e-4)
        assert found.slip == pytest.approx(peak_slip, rel=1e-3)
    else:
        assert found.slip == 1.0
        assert found.airgap_torque_nm <= most_nm


def test_example_6_9_starting_torque_and_current_at_10_hertz():
    low, full = at_slip(MOTOR, 1.0, 80.0, 10.0), at_slip(MOTOR, 1.0)
    assert low.airgap_torque_nm / full.airgap_torque_nm == pytest.approx(0.549, abs=1e-3)
    assert low.current_a / full.current_a == pytest.approx(0.33, abs=5e-3)


@pytest.mark.parametrize(
    ("hertz", "volts"),
    [
        (5, 84.3), (10, 123.8), (15, 159.2), (20, 193.7), (25, 228.0),
        (30, 262.3), (35, 296.7), (40, 331.1), (45, 365.5), (50, 400.0),
    ],
)  # fmt: skip
def test_example_6_10_volts_that_keep_the_breakdown_torque(hertz, volts):
    wanted = breakdown(MOTOR).airgap_torque_nm
    found = brentq(lambda v: anywhere_nm(v, hertz) - wanted, 20.0, 500.0)
    assert found == pytest.approx(volts, abs=0.06)


def test_example_6_11_speeds_at_constant_volts_per_hertz():
    """The book takes the slip in rpm as straight in the torque (796 rpm at 30 Hz and 80 % load;
    1100 rpm at 40 Hz and 19.52 N m; 1000 rpm at 37.67 Hz and full load). The circuit is not
    quite straight: within 1 % of the speed."""
    full = rated(MOTOR).airgap_torque_nm
    assert full == pytest.approx(19.52 * 130.0 / 100.0, rel=2e-3)
    for hertz, torque, rpm in ((30.0, 0.8 * full, 796.0), (40.0, 19.52, 1100.0), (37.67, full, 1000.0)):  # fmt: skip
        found = at_torque(MOTOR, torque, 400.0 * hertz / 50.0, hertz).speed_rpm
        assert found == pytest.approx(rpm, rel=0.01)


# example 6.6 (p. 171): two leads of a star motor on 12 A direct current; Xr 3.01, Rr 4.575 ohm.
# Its magnetisation curve gives E 246 V at Im 4.9 A, the row of the greatest torque.
DIRECT_A, BRAKED = 12.0, (225.0, 37.5)


def test_example_6_6_braking_by_direct_current():
    """Turned at the row's speed by a shaft that does not give way, until all has settled."""
    magnetising = 246.0 / 4.9
    motor = published(400.0, 50.0, 4, 1.0, 1.0, 4.575, 3.01, magnetising, rated_slip=0.05)
    rpm, torque_nm = BRAKED
    hertz = rpm / 30.0
    amps = math.sqrt(2.0 / 3.0) * DIRECT_A  # the alternating current of the same field
    course = on_drive(
        1e6, NO_LOAD, circuit=motor, inverter=Inverter(400.0, 50.0, 400.0), hertz=hertz,
        running=True, seconds=4.0, stop=Stop(0.0, None, Injection(amps, 100.0)),
    )  # fmt: skip
    found = drive_waves(course, every=10)
    assert found.speed_rad_s[-1] == pytest.approx(rpm * math.pi / 30.0, rel=1e-3)
    late = found.time_s > 3.0
    assert np.mean(-found.torque_nm[late]) == pytest.approx(torque_nm, rel=3e-3)
    assert np.mean(found.line_a[late]) == pytest.approx(amps, rel=1e-4)


# example 6.4 (p. 162): 400 V, 50 Hz, 6 poles, star, Rs = Rr = 1, X 2 + 2 ohm, 950 rpm
PLUGGED = published(400.0, 50.0, 6, 1.0, 2.0, 1.0, 2.0, NO_MAGNETISING, rated_slip=0.05)


def test_example_6_4_plugging():
    """Reversed at full speed: five times the current, 0.64 times the torque of full load."""
    full, plugged = rated(PLUGGED), at_slip(PLUGGED, 1.95)
    assert plugged.current_a / full.current_a == pytest.approx(5.0, rel=6e-3)
    assert plugged.airgap_torque_nm / full.airgap_torque_nm == pytest.approx(0.64, abs=5e-3)
