"""A motor on a drive against a general open-source simulator of machine drives (motulator).

The simulator switches its inverter every 250 us by volts per hertz without any feedback; ours is an
averaged source. Its motor is the gamma equivalent of the same circuit (Slemon, "Modelling of
induction machines for electric drives", IEEE Trans. Ind. Appl., 1989, cited by the simulator).
"""

from __future__ import annotations

import math
from types import SimpleNamespace

import numpy as np
import pytest
from motulator.drive import model, utils
from motulator.drive.control import im
from reference_machines import K3HP, constant
from starts.drive_courses import on_drive

from phasewright.starts.drive_course import Inverter
from phasewright.starts.drive_waves import drive_waves

HERTZ, VOLTS, INERTIA, RAMP_S, STEP_S, STEP_NM = 60.0, 220.0, 0.139, 1.0, 1.5, 8.0
SECONDS = 2.5
W = 2.0 * math.pi * HERTZ


def simulated() -> SimpleNamespace:
    """0 to 60 Hz in a second, 8 N m from 1.5 s on: time, speed, torque, stator current vector."""
    leak, main = K3HP.stator_leakage_ohm / W, K3HP.magnetising_ohm / W
    cage = K3HP.cages[0]
    b = (leak + main) / main
    motor = utils.InductionMachinePars(
        n_p=K3HP.poles // 2, R_s=K3HP.stator_resistance_ohm, R_r=b * b * cage.resistance_ohm,
        L_ell=b * leak + b * b * cage.leakage_ohm / W, L_s=leak + main,
    )  # fmt: skip
    drive = model.Drive(
        model.VoltageSourceConverter(u_dc=700.0),
        model.InductionMachine(motor),
        model.StiffMechanicalSystem(J=INERTIA, tau_L=lambda t: STEP_NM * (t > STEP_S)),
    )
    blind = utils.InductionMachineInvGammaPars.from_gamma_model_pars(motor)
    settings = im.VHzControlCfg(
        blind, nom_psi_s=math.sqrt(2.0 / 3.0) * VOLTS / W, k_u=0.0, k_w=0.0, rate_limit=W / RAMP_S
    )
    settings.par.R_s = settings.par.R_R = 0.0  # no feedback at all
    ruled = im.VHzControl(settings)
    ruled.ref.w_m = lambda t: W * min(t / RAMP_S, 1.0)
    model.Simulation(drive, ruled).simulate(t_stop=SECONDS, max_step=2e-5)
    return SimpleNamespace(
        time_s=drive.machine.data.t, speed_rad_s=np.real(drive.mechanics.data.w_M),
        torque_nm=drive.machine.data.tau_M, current_a=drive.machine.data.i_ss,
    )  # fmt: skip


@pytest.fixture(scope="module")
def both():
    course = on_drive(
        INERTIA, constant(STEP_NM), circuit=K3HP, inverter=Inverter(VOLTS, HERTZ, VOLTS),
        hertz=HERTZ, ramp=RAMP_S, seconds=SECONDS, load_from_s=STEP_S,
    )  # fmt: skip
    return drive_waves(course, every=1), simulated()


def test_speed_through_the_ramp_and_the_step_of_load(both):
    ours, theirs = both
    wanted = np.interp(ours.time_s, theirs.time_s, theirs.speed_rad_s)
    assert np.max(abs(ours.speed_rad_s - wanted)) < 0.01 * wanted[-1]
    late = ours.time_s > 0.5
    assert ours.speed_rad_s[late] == pytest.approx(wanted[late], rel=0.01)


@pytest.mark.parametrize("until_s", [0.8, 0.95, 1.4, 1.6, 1.8, 2.4])
def test_torque_as_a_mean_over_three_cycles(both, until_s):
    """The ripple of their switching averaged away; 0.3 N m without a load is told to 0.02 N m."""
    ours, theirs = both
    at = np.arange(until_s - 0.05, until_s, 2e-5)
    mean = np.interp(at, theirs.time_s, theirs.torque_nm).mean()
    own = np.interp(at, ours.time_s, ours.torque_nm).mean()
    assert own == pytest.approx(mean, rel=0.01, abs=0.02)


@pytest.mark.parametrize("until_s", [1.45, 2.45])
def test_fundamental_current_settled(both, until_s):
    """Six whole cycles, before and after the step of load."""
    ours, theirs = both
    span = 6.0 / HERTZ
    at = np.arange(until_s - span, until_s, 1e-5)
    vector = np.interp(at, theirs.time_s, theirs.current_a.real) + 1j * np.interp(
        at, theirs.time_s, theirs.current_a.imag
    )
    amps = abs(np.mean(vector * np.exp(-1j * W * at))) / math.sqrt(2.0)
    within = (ours.time_s > until_s - span) & (ours.time_s <= until_s)
    assert ours.line_a[within].mean() == pytest.approx(amps, rel=0.01)
