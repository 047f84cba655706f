"""The single limits that rules ask for, typed a second time as text, clause by clause.

IEC and EN limits are from memory, those of NFPA 70-2023 from a third-party transcription; what is
custom says so. Every table of clauses.toml and protection.toml stands here or in another second
reading, named in `ELSEWHERE`; of limits.toml those that a rule asks.
"""

from __future__ import annotations

import re
import tomllib
from importlib.resources import files

import pytest

from phasewright.tables.published import table

PROTECTION = """
# IEC 60898-1: B 3 to 5, C 5 to 10, D 10 to 20 times its rating
iec_instantaneous_least: B 3, C 5, D 10
iec_instantaneous: B 5, C 10, D 20
# IEC 60364-4-41, 411.3.2 for 230 V: final circuits in a TN shop 0.4 s, in a TT shop 0.2 s; else 5, 1 s
disconnection: TN_final 0.4, TT_final 0.2, TN_distribution 5, TT_distribution 1
# BS 7671, 411.4: Cmin 0.95, U0 230 V
loop: voltage_factor 0.95, to_earth_v 230
# table 430.52(C)(1): 300, 175, 800, 250 %; 430.22: 125 %
nec_430_52: fuse 3.00, time_delay_fuse 1.75, instantaneous 8.00, inverse_time 2.50, conductor 1.25
# 430.52(C)(1), exceptions: 400 % (fuses to 600 A), 225 %, 400 % up to 100 A and 300 % above
nec_430_52_raised: fuse 4.00, time_delay_fuse 2.25, inverse_time 4.00, inverse_time_large 3.00,
  large_above_a 100
# 455.6(A)(1) 125 %, (2) 250 %; 455.8(C)(1) 115 % or 250 %, (2) 200 %
nec_455: variable 1.25, fixed 2.50, disconnect 1.15, disconnect_fixed 2.50, horsepower_switch 2.00
# 430.122(A) and (B)
nec_430_122: supply 1.25, output 1.25
# 240.85: a breaker of 120/240 V where no line exceeds 120 V to ground
slash_rating: volts 120
"""
CLAUSES = """
# IEC 60364-4-41, table 41.1, by the row that ends at 120, 230, 400 V; 411.3.2.3 and .4
disconnection_by_voltage: to_earth_v [120 230 400], TN [0.8 0.4 0.2], TT [0.3 0.2 0.07],
  TN_distribution 5, TT_distribution 1, final_most_a 32, final_sockets_most_a 63
# 411.5.3: Ra x IdN at most 50 V
touch: volts 50
# IEC 60364-4-43, 433.1: I2 at most 1.45 Iz; a breaker's I2 is 1.45 In, a gG fuse's 1.6
overload: ampacity 1.45, breaker 1.45, fuse 1.6
# IEC 60364-5-52, table 52.2: copper, cables 1.5 mm2, signals and controls 0.5
smallest_conductor: power 1.5, control 0.5
# IEC 60364-5-54, 543.1.3: 2.5 mm2 guarded, 4 not; 544.1.1: 6
protective_conductor: separate_protected_mm2 2.5, separate_open_mm2 4, bonding_least_mm2 6
# IEC 60364-5-53, 536.4: three times
selectivity: ratio 3
# IEC 60364-4-42, 422.3.9; IEC 60364-7-705, 705.411.1
fire: residual_ma 300
farms: sockets_ma 30, sockets_most_a 32, larger_sockets_ma 100, everything_ma 300
# IEC 60204-1: 4.3.2 nine to eleven tenths; 6.2.4 60 V, 5 s, plugs 1 s; 7.3.1 0.5 kW; 18.3
machine_supply: low 0.9, high 1.1
stored_charge: volts 60, seconds 5, plug_seconds 1
machine_motors: overload_from_w 500
machine_tests: insulation_ohm 1000000, insulation_test_v 500
# custom: a tenth of an ohm
earth_joints: ohm 0.1
# IEC 60034-1, 7.2.1.1: 1 % for long, 1.5 % for some minutes
lasting_unbalance: lasting 0.01, minutes 0.015
# IEC 61000-3-3: Pst 1, Plt 0.65; 6.2.3.3: 2.3 s, exponent 3.2; ten minutes and two hours
flicker: short 1, long 0.65, of_one_step_s 2.3, exponent 3.2, short_s 600, long_s 7200
# EN 50160, 4.3.3: Plt up to 1 for 95 % of a week
supply_flicker: long 1
# IEC 61000-3-11: 100 A a phase, up to 75 A
conditional_connection: least_service_a 100, most_rated_a 75
# IEC 61800-5-1, 4.3.5.5.2: 3.5 mA, 10 mm2 of copper
leakage_of_equipment: most_ma 3.5, earth_mm2 10
# NFPA 70: 110.14(C)(1)(a); 409.20; 450.4(A)
nec_110_14: most_a 100
nec_409: heating 1.25, largest 1.25
# 430.32(A)(1) and (C) of motors without a marked service factor or rise: 115 and 130 %
nec_430_others: overload 1.15, overload_raised 1.30
"""
LIMITS = """
# IEC 61000-3-3: d_c 3.3 %; d_max 4, 6, 7 %
voltage_change: steady 0.033, general 0.04, manual 0.06, attended 0.07
# IEC 60725: 0.24 + j0.15 ohm a phase and 0.16 + j0.10 ohm the neutral
reference_impedance: resistance_ohm 0.40, reactance_ohm 0.25, nominal_v 230
# IEC 60364-5-52, annex G, other uses 5 %; NFPA 70, note to 455.6(A) 3 %
voltage_drop: IEC 0.05, NEC 0.03
# IEC 60947-4-1: closes from 85 %, lets go between 20 and 75 %
coils: pull_in 0.85, drop_out_high 0.75
# IEC 60204-1, 4.3.2: 2 % of negative sequence; NEMA MG 1, 14.36: 5 %
unbalance: electronics 0.02, continuous 0.05
# EN 50160: 8 % of distortion
distortion: total 0.08
# IEC 60364-5-52, annex E: from 15 and 33 and 45 %, factor 0.86
neutral: counts_from 0.15, governs_from 0.33, alone_from 0.45, factor 0.86
# NFPA 70, 460.6
discharged: volts 50
# HSE WIS 38
run_down: usual 10, large_bandsaw 35
# custom
standing_leakage: share 0.3
flux: flag 1.06, condition 1.1
capacitor: margin 1.1
"""
TYPED = {"protection": PROTECTION, "clauses": CLAUSES, "limits": LIMITS}
ELSEWHERE = {
    "clauses": {"nec_210_8", "nec_250_66", "nec_430", "nec_450_3", "nec_460"},  # test_clause_tables
    "protection": set(),
}
ABOUT = {"source", "status"}


def rows(text: str):
    """Name and {key: number or list} of every line that is no comment."""
    joined = re.sub(r",\n\s+", ", ", text)
    for line in joined.strip().splitlines():
        if not line.startswith("#"):
            name, entries = line.split(": ", maxsplit=1)
            yield name, dict(entry(each) for each in entries.split(", "))


def entry(text: str):
    key, value = text.strip().split(" ", maxsplit=1)
    numbers = [float(each) for each in value.strip("[]").split()]
    return key, numbers if value.startswith("[") else numbers[0]


READ = [(file, name, typed) for file, text in TYPED.items() for name, typed in rows(text)]


@pytest.mark.parametrize(("file", "name", "typed"), READ, ids=[f"{f}.{n}" for f, n, _ in READ])
def test_read_twice(file: str, name: str, typed: dict) -> None:
    kept = {key: value for key, value in table(file, name).rows.items() if key not in ABOUT}
    assert kept == typed


@pytest.mark.parametrize("file", sorted(ELSEWHERE))
def test_every_table_of_clauses_is_read_twice(file: str) -> None:
    text = (files("phasewright.tables") / "data" / f"{file}.toml").read_text(encoding="utf-8")
    here = {name for of, name, _ in READ if of == file}
    assert here.isdisjoint(ELSEWHERE[file])
    assert here | ELSEWHERE[file] == set(tomllib.loads(text))
