"""For whom each paper is, and what for."""

from __future__ import annotations

REPORT, SHEETS = "report.pdf", "sheets.pdf"
FILES: dict[str, str] = {
    REPORT: "for you, to be printed: the answer on one page, then the shop drawn, the plans "
    "compared, the drawings, what to buy, the circuits, what can hurt, settings and sources",
    SHEETS: "to hand out and to write in, each from a page of its own: for electrician, network "
    "operator, insurer, landlord, inspector; bringing it into use step by step; the card for the "
    "wall",
    "drawings": "for whoever wires: the whole shop in one line, then every circuit, terminal boxes "
    "and capacitor banks, a sheet a file",
    "lists": "to buy by and to wire by: parts with prices, wires, labels, spare parts, meters",
    "settings.csv": "where there are drives, for whoever sets them: every setting with its reason",
    "drives.txt": "where there are drives: how the machine's old switches move to their inputs",
}
"""The files of an answer that are for people, and folders of such."""
USES: dict[str, str] = {
    "before-you-open": "for whoever opens a box: what can hurt, and how it is made dead",
    "electrician": "to ask for a quotation: who may do what, and the circuits",
    "network-operator": "to ask for their leave: what the supply will see",
    "unknown-motor": "for you, before a motor without a readable plate is connected",
    "machine-record": "for you, before anything is changed: how it was found, to put it back",
    "settings": "for whoever sets drives and overload relays",
    "commissioning": "for whoever brings it into use: each step, its caution, what a meter shows",
    "wall-card": "for everybody who uses the machines: start, stop, emergency",
    "symptoms": "for you, when something is wrong: what to look at first",
    "maintenance": "for you, over the years: what to measure, and when to replace",
    "insurer": "to ask for their leave: what is added, and what it is worth",
    "landlord": "to ask for their leave: what is altered, and how it is undone",
    "inspector": "for whoever tests it: the rules that were held against the plan",
    "calculations": "for whoever checks it: how every decisive figure comes about",
}
"""For whom each sheet is, and what for."""
