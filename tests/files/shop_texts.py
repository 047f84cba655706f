"""Shop files that the tests of reading and writing share."""

import copy
from pathlib import Path
from typing import Any

from ruamel.yaml import YAML

ROOT = Path(__file__).resolve().parents[2]
EXAMPLES = sorted((ROOT / "examples").glob("*.shop.yaml"))
BARN = ROOT / "examples" / "cider-barn.shop.yaml"
FURNITURE = ROOT / "examples" / "furniture-shop.shop.yaml"

FULL = """\
phasewright: 1
shop: Every key
region: IEC
currency: GBP
supply:
  kind: single_phase
  earthed: line_2
  country: GB
  voltage: 230 V
  frequency: 50 Hz
  measured_voltage: {low: 236 V, high: 251 V}
  service_rating: 80 A
  contracted_power: 9 kVA
  residual_current: {rating: 30 mA, type: A, where: intake}
  transformer: 25 kVA
  earthing: TN-C-S
  loop_impedance: 0.35 ohm
  heater_test: {unloaded: 238 V, loaded: 233 V, current: 12 A}
  feeder: {length: 25 m, conductor: 10 mm2, method: C}
  outlet_rating: 32 A
  other_loads:
    - {name: lights and kettle, current: 15 A}
    - {name: car charger, current: 32 A, can_wait: true, lines: both, type: electronic}
tariff: {energy: 0.27, standing_per_year: 0}
places:
  - {name: barn, feeder: {length: 60 m, conductor: 16 mm2}, electrode: 80 ohm, dust: true, damp: false, ambient: 30 °C, altitude: 200 m}
machines:
  - name: Scratter
    have: owned
    chance: 1
    year: 0
    hours_per_year: 120
    idle_hours_per_year: 60
    starts_per_hour: 6
    place: barn
    connects_by: fixed
    starter: direct
    brake: {kind: spring_electric, coil: 180 V, fed_from: motor terminals}
    own_speeds: {kind: belts, steps: 5}
    never_above: 2850 rpm
    wrong_direction_harms: true
    starts_with: []
    starts_before: pump before mill
    users: owner
    others:
      - {kind: heater, power: 9 kW, phases: 3, voltage: 400 V, split: true}
    runs_with: [Press]
    needs_neutral: false
    control: {voltage: 24 V, fed_from: two lines}
    spindle_nose: none
    motors:
      - name: mill
        plate:
          power: 2.2 kW
          kind: cage
          shaft_height: 90 mm
          shaft_diameter: 24 mm
          winding_resistance: 5.0 ohm
          no_load_current: 3.2 A
          voltage: 230/400 V
          current: 8.6/5.0 A
          frequency: 50 Hz
          speed: 1430 rpm
          power_factor: 0.82
          efficiency: 0.81
          leads: 6
          connection: D/Y
          code_letter: H
          starting_current: 6.1
          starting_torque: 2.2
          breakdown_torque: 2.8
          year: 1968
          phases: 3
          capacitor: false
        load: {kind: crusher, start: loaded, torque: 0.9, inertia: 0.15 kg m2, duty: 0.6}
        wants: {speed: [0.5, 1.2], stop_within: 4 s, reverse: false, soft_start: false}
      - name: pump
        plate: {power: 1.5/2.2 kW, speed: 1420/2840 rpm, voltage: 400 V, connection: D/YY}
  - name: Press
    have: planned
    chance: 0.7
    year: 2
    motors:
      - {name: ram, plate: {current: 4 A}}
wishes:
  plan_years: 10
  discount_rate: 0.04
  labour: own
  quiet: {level: 45 dB, at: neighbour, distance: 12 m, hours: evening}
  stay_years: 10
  portable: true
  who_wires: own
  keep: [original controls]
owned_parts:
  - {kind: idler_motor, power: 4 kW, voltage: 230/400 V}
  - {kind: drive, input_phases: 1, voltage: 230 V, current: 9.6 A, years_unpowered: 3}
  - {kind: run_capacitor, capacitance: 50 uF, voltage: 450 V, count: 6}
quotes:
  - {kind: drive_per_motor, power: 2.2 kW, price: 240}
  - {kind: utility_service, price: 8200, standing_per_year: 260}
"""


def data(text: str) -> Any:
    """The text as plain data, by a loader that knows nothing of ours."""
    return copy.deepcopy(YAML(typ="safe", pure=True).load(text))
