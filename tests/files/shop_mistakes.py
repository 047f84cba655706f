"""Mistakes in the shop file of `shop_texts.FULL`, and the whole of what is told about each."""

# (what stands in the file, what is put in its place, the whole of every message)
MISTAKES = [
    ("phasewright: 1\n", "phasewright: 2\n",
     ["f:1: phasewright: '2' is out of place; 1, the form of this file"]),
    ("shop: Every key\n", "",
     ["f:1: shop: is missing; must be there: the name of the shop, at most 200 letters in one line"]),
    ("shop: Every key", "shop: [a]",
     ["f:2: shop: a list; the name of the shop, at most 200 letters in one line"]),
    ("region: IEC", "region: iecc",
     ["f:3: region: 'iecc'; one of IEC or NEC; did you mean 'IEC'?"]),
    ("currency: GBP", "curency: GBP",
     ["f:4: curency: 'curency' is no key here; one of phasewright, shop, region, currency, supply, "
      "tariff, places, machines, wishes, owned_parts, quotes; did you mean 'currency'?"]),
    ("currency: GBP", "currency:",
     ["f:4: currency: is empty; a currency's three letters, at most 8 letters in one line, "
      "or leave the key out"]),
    ("  kind: single_phase", "  kind: single-fase",
     ["f:6: supply.kind: 'single-fase'; one of single_phase, split_phase, three_phase, generator or "
      "inverter; did you mean 'single_phase'?"]),
    ("  country: GB", "  country: gb",
     ["f:8: supply.country: 'gb' is no country code; two capital letters, for example GB"]),
    ("  voltage: 230 V\n", "  voltage: 230\n",
     ["f:9: supply.voltage: '230' has no unit; write a voltage with its unit, for example '230 V'"]),
    ("  voltage: 230 V\n", "  voltage: 23 V\n",
     ["f:9: supply.voltage: '23 V' is not credible here; between 90 V and 700 V"]),
    ("  voltage: 230 V\n", "  voltage: 230/400 V\n",
     ["f:9: supply.voltage: '230/400 V' gives 2 values; write one value, for example '230 V'"]),
    ("  frequency: 50 Hz\n  meas", "  frequency: 500 Hz\n  meas",
     ["f:10: supply.frequency: '500 Hz' is not credible here; between 40 Hz and 70 Hz"]),
    ("{low: 236 V, high: 251 V}", "{low: 251 V, high: 236 V}",
     ["f:11: supply.measured_voltage: low is above high; low is the lower one"]),
    ("{low: 236 V, high: 251 V}", "{low: 118 V, high: 251 V}",
     ["f:11: supply.measured_voltage.low: 118 V does not belong to a supply of 230 V; "
      "between 161 V and 299 V; measure between the two lines that supply.voltage names"]),
    ("{low: 236 V, high: 251 V}", "{low: 236 V}",
     ["f:11: supply.measured_voltage.high: is missing; must be there: a voltage, for example '230 V'"]),
    ("  service_rating: 80 A", "  service_rating: 80 kg",
     ["f:12: supply.service_rating: '80 kg' is not a current; write for example '14.5 A'"]),
    ("  transformer: 25 kVA", "  surge: {rating: 16 kVA, seconds: 5}",
     ["f:15: supply.surge: a single_phase supply has no surge rating; "
      "surge stands only with a generator or an inverter"]),
    ("loaded: 233 V", "loaded: 239 V",
     ["f:18: supply.heater_test: the voltage rises when the heater is on; loaded not above "
      "unloaded; measure again, off and on several times, while nothing else is switched"]),
    ("{length: 25 m, conductor: 10 mm2, method: C}", "{method: C}",
     ["f:19: supply.feeder: says neither length nor conductor; at least one of the two"]),
    ("can_wait: true", "can_wait: perhaps",
     ["f:23: supply.other_loads[1].can_wait: 'perhaps'; true or false"]),
    ("energy: 0.27", "energy: 0,27",
     ["f:24: tariff.27: '27' is no key here; one of energy, fuel, standing_per_year"]),
    ("tariff: {energy: 0.27, standing_per_year: 0}", "tariff:\n  energy: 0,27",
     ["f:25: tariff.energy: '0,27'; an amount of money, without a currency sign "
      "(from 0 to 1000000000); write a decimal point"]),
    ("tariff: {energy: 0.27, standing_per_year: 0}", "tariff: 0.27",
     ["f:24: tariff: '0.27'; keys and values: energy, fuel or standing_per_year"]),
    ("    chance: 1\n", "    chance: 0.5\n",
     ["f:30: machines[0].chance: 0.5 for a machine that is there already; 1 with have: owned; "
      "write have: planned for a machine to come"]),
    ("    year: 0\n", "    year: 3\n",
     ["f:31: machines[0].year: 3 for a machine that is there already; 0 with have: owned; "
      "write have: planned for a machine to come"]),
    ("    chance: 0.7\n", "    chance: 1.7\n",
     ["f:81: machines[1].chance: '1.7' is out of place; a ratio (from 0 to 1)"]),
    ("    hours_per_year: 120", "    hours_per_year: 8784",
     ["f:33: machines[0].idle_hours_per_year: turning and idle hours together are 8844; "
      "no more than the 8784 hours of a year"]),
    ("    place: barn", "    place: bran",
     ["f:35: machines[0].place: there is no place 'bran'; a name that stands in this file: barn; "
      "did you mean 'barn'?"]),
    ("    starts_with: []", "    starts_with: [Scratter]",
     ["f:42: machines[0].starts_with[0]: there is no other machine 'Scratter'; "
      "a name that stands in this file: Press"]),
    ("pump before mill", "pump, then mill",
     ["f:43: machines[0].starts_before[0]: 'pump, then mill' names no order; as: pump before spindle"]),
    ("pump before mill", "pumb before mill",
     ["f:43: machines[0].starts_before[0]: there is no motor or machine 'pumb'; a name that stands in "
      "this file: mill, pump, Scratter, Press, Scratter/mill, Scratter/pump or Press/ram; "
      "did you mean 'pump'?"]),
    ("power: 9 kW, phases: 3", "power: 9 kW, phases: 2",
     ["f:46: machines[0].others[0].phases: 2 is no count of phases; 1 or 3"]),
    ("    runs_with: [Press]", "    runs_with: [Pres]",
     ["f:47: machines[0].runs_with[0]: there is no other machine 'Pres'; "
      "a name that stands in this file: Press; did you mean 'Press'?"]),
    ("          power: 2.2 kW\n", "          power: 1e6 kW\n",
     ["f:54: machines[0].motors[0].plate.power: '1e6 kW' is not credible here; between 5 W and 400 kW"]),
    ("          power: 2.2 kW\n", "          power: 2.2/3 kW\n",
     ["f:54: machines[0].motors[0].plate.power: two powers stand beside fewer than two speeds; "
      "power and speed with two values in the same order; write the two speeds, as: 1420/2840 rpm"]),
    ("          voltage: 230/400 V\n", "          voltage: 400/400 V\n",
     ["f:60: machines[0].motors[0].plate.voltage: the two values are the same; two different values"]),
    ("          current: 8.6/5.0 A", "          current: 5.0/8.6 A",
     ["f:61: machines[0].motors[0].plate.current: the larger current stands at the higher voltage; "
      "currents in the order of the voltages: the larger one belongs to the lower voltage; "
      "turn one of the two pairs round"]),
    ("          leads: 6", "          leads: 06",
     ["f:66: machines[0].motors[0].plate.leads: '06' begins with a nought; "
      "a count of leads (whole, from 2 to 12); write 6"]),
    ("          leads: 6", "          leads: 6.5",
     ["f:66: machines[0].motors[0].plate.leads: '6.5' is out of place; "
      "a count of leads (whole, from 2 to 12)"]),
    ("          phases: 3", "          phases: 2",
     ["f:73: machines[0].motors[0].plate.phases: 2 is no count of phases; 1 or 3"]),
    ("torque: 0.9", "torque: .nan",
     ["f:75: machines[0].motors[0].load.torque: '.nan'; a share of the motor's rated torque "
      "(from 0 to 4)"]),
    ("[0.5, 1.2]", "[1.2, 0.5]",
     ["f:76: machines[0].motors[0].wants.speed: [1.2, 0.5] falls; the slower speed first"]),
    ("[0.5, 1.2]", "[0.5]",
     ["f:76: machines[0].motors[0].wants.speed: a list; a list of two numbers: slowest and fastest, "
      "as multiples of the plate's, for example [0.5, 1.2]"]),
    ("  - name: Press", "  - name: scratter",
     ["f:79: machines[1].name: 'scratter' is the name of machines[0] too; a name that stands once",
      "f:47: machines[0].runs_with[0]: there is no other machine 'Press'; a name that stands in this "
      "file: scratter"]),
    ("{name: ram, plate: {current: 4 A}}", "{name: ram/2, plate: {current: 4 A}}",
     ["f:84: machines[1].motors[0].name: 'ram/2' holds a slash; a name without '/'"]),
    ("{name: ram, plate: {current: 4 A}}", "{name: ' ', plate: {current: 4 A}}",
     ["f:84: machines[1].motors[0].name: is empty; a name"]),
    ("{name: ram, plate: {current: 4 A}}", "{name: ram, plate: {voltage: 230 V}}",
     ["f:84: machines[1].motors[0].plate: nothing tells the size of this motor; one of power, current, "
      "shaft_height or winding_resistance; measure the shaft's height above the feet, or one winding "
      "in ohm"]),
    ("      - {name: ram, plate: {current: 4 A}}", "      - {name: ram}",
     ["f:84: machines[1].motors[0].plate: is missing; must be there: keys and values: power, kind, "
      "shaft_height, shaft_diameter, winding_resistance, no_load_current, voltage, current, frequency, "
      "speed, power_factor, efficiency, service_factor, leads, connection, code_letter, "
      "insulation_class, starting_current, starting_torque, breakdown_torque, year, phases, capacitor "
      "or thermistor"]),
    ("    motors:\n      - {name: ram, plate: {current: 4 A}}", "    motors: []",
     ["f:83: machines[1].motors: there is no motor; at least one motor, or others"]),
    ("  labour: own", "  labour: mine",
     ["f:88: wishes.labour: 'mine'; own, or an amount of money an hour (from 0 to 100000)"]),
    ("  - {kind: idler_motor, power: 4 kW, voltage", "  - {kind: idler_motor, voltage",
     ["f:95: owned_parts[0]: idler_motor without a size; power or current"]),
    ("input_phases: 1", "phases: 2",
     ["f:96: owned_parts[1].phases: 2 is no count of phases; 1 or 3"]),
    ("input_phases: 1", "input_phases: 2",
     ["f:96: owned_parts[1].input_phases: 2 is no count of phases; 1 or 3"]),
    ("count: 6", "count: 0",
     ["f:97: owned_parts[2].count: '0' is out of place; a count (whole, from 1 to 1000)"]),
    ("{kind: drive_per_motor, power: 2.2 kW, price: 240}", "{kind: drive_per_motor, price: 240}",
     ["f:99: quotes[0]: a quote for drive_per_motor without a size; "
      "power, rating, current or capacitance"]),
    ("price: 240", "price: -1",
     ["f:99: quotes[0].price: '-1' is out of place; an amount of money, without a currency sign "
      "(from 0 to 1000000000)"]),
]  # fmt: skip
