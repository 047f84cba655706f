"""Every number of a result by a path with names in place of positions, and by its pattern.

`plans` are told by what they are: `best`, `rotary` (the best with everything on a rotary
converter), `switched` (the best with capacitors that machines bring to it), `drives` (drives
throughout), `battery` and `generator` (everything on one such source), `swaps` (other motors throughout) and `nothing` (all left without power). One plan may be several.
"""

NAMES = {
    "motors": lambda entry: entry.get("id") or entry["motor"],
    "motors_to_come": lambda entry: entry["motor"],
    "ways": lambda entry: entry["way"],
    "others": lambda entry: entry["id"],
    "buys": lambda entry: f"{entry['kind']} {'+'.join(entry['serves'])}",
    "parts": lambda entry: entry["kind"],
    "equipment": lambda entry: entry["id"],
    "starts": lambda entry: entry["motor"],
    "beside": lambda entry: entry["motor"],
    "largest_starts": lambda entry: entry["load"],
    "settings": lambda entry: entry["code"],
    "rewiring": lambda entry: entry["code"],
    "circuits": lambda entry: entry["id"],
    "circuit_parts": lambda entry: f"{entry['kind']} of {entry['circuit']}",
    "readings_expected": lambda entry: f"{entry['between']} {entry['state']}",
    "cases": lambda entry: "+".join(entry["running"]),
    "travelling_capacitance_f": lambda entry: entry["motor"],
    "line_currents_a": lambda entry: entry["motor"],
    "years": lambda entry: str(entry["year"]),
    "findings": lambda entry: f"{entry['rule']} {entry['subject']}",
    "assumed": lambda entry: entry["path"] + " " + entry["field"],
    "missing": lambda entry: entry["path"],
    "changes_if": lambda entry: entry["path"] + (" up" if entry["to"] > entry["from"] else " down"),
    "stays_if": lambda entry: entry["path"],
}
SOURCES = {"battery inverter": "battery", "generator": "generator"}
ALIKE = {"motors_to_come": "motors"}
"""Lists whose figures are made by the same function as another's: tested there."""
KEPT = {"ways"}  # names that stay in the pattern: every way has figures of its own


def roles(plan, position):
    ways = {motor["way"] for motor in plan["motors"] if "way" in motor}
    found = [f"plan {position}"]
    if position == 0:
        found.append("best")
    if plan["feasible"] and ways == {"rotary_converter"}:
        found.append("rotary")
    if any("travelling_capacitance_f" in motor["figures"] for motor in plan["motors"]):
        found.append("switched")
    if plan["feasible"] and ways == {"drive_per_motor"}:
        found.append("drives")
    if plan["feasible"] and ways == {"electronic_converter"}:
        found += [SOURCES[on] for on in {each["id"] for each in plan["equipment"]} & SOURCES.keys()]
    if ways == {"motor_swap"}:
        found.append("swaps")
    if not ways:
        found.append("nothing")
    return found


def named(tree):
    """{named path: (pattern, number)} of a result file's tree."""
    found = {}
    _walk(tree, (), (), found)
    return {
        "/".join(path): ("/".join(pattern), number) for path, (pattern, number) in found.items()
    }


def _walk(tree, path, pattern, found):
    if isinstance(tree, bool):
        return
    if isinstance(tree, (int, float)):
        found.setdefault(path, (pattern, tree))
    elif isinstance(tree, dict):
        for key, part in tree.items():
            if key == "plans":
                for position, plan in enumerate(part):
                    for role in roles(plan, position):
                        if not any(known[:2] == ("plans", role) for known in found):
                            _walk(plan, (*path, key, role), (*pattern, key, "*"), found)
            elif isinstance(part, list):
                like = ALIKE.get(key, key)
                _walk_list(key, part, (*path, key), (*pattern, like), found)
            else:
                _walk(part, (*path, key), (*pattern, key), found)


def _walk_list(key, entries, path, pattern, found):
    for position, entry in enumerate(entries):
        named_entry = isinstance(entry, dict) and key in NAMES
        name = NAMES[key](entry) if named_entry else str(position)
        _walk(entry, (*path, name), (*pattern, name if key in KEPT else "*"), found)
