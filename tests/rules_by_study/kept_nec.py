"""Sections of the National Electrical Code that no shop file makes fail, and why.

`docs/calculations/rules.md` prints this; every other one stands in `nec_shops`.
"""

ASKED_ON_SITE = "asked on site: no figure tells it, so it stands in the list to tick off"
NO_AUTOTRANSFORMER = (
    "built so: only a transformer of two windings is put before a drive, an owned one must be "
    "told to be isolating"
)

REASONS = {
    "nec.210.9": NO_AUTOTRANSFORMER,
    "nec.215.11": NO_AUTOTRANSFORMER,
    "nec.250.30_a_1": ASKED_ON_SITE,
    "nec.430.6_a": "built so: conductors and devices are counted from the table itself",
    "nec.450.3_b_2": "built so: the device behind a transformer is chosen by the drive's input, "
    "which the transformer is chosen larger than",
    "nec.450.4_a": NO_AUTOTRANSFORMER,
    "nec.455.9": "built so: a plan wires lamps and heaters to lines 1 and 2, whatever feeds them "
    "today; that they must be moved stands among the conditions of a converter",
    "nec.455.20": ASKED_ON_SITE,
    "nec.460.8_a": "built so: leads inside a box are sized by the capacitors they go to",
    "nec.460.8_c": "built so: a bank goes off with the contactor of its converter or motor, which "
    "the section lets stand for a disconnect of its own",
    "nec.460.9": "kept with 455.23: no capacitor is left behind a relay, so none is set for it",
}
