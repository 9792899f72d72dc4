#!/usr/bin/python3
"""Compare the catalogue with two outside sources and write outside.tsv.

Run from the root, with the Debian packages units and python3-pint installed:
    go run ./testdata/units/dump.go | testdata/units/outside.py > testdata/units/outside.tsv

Columns: our symbol, the expression given to each program, the SI value each
gave ("-" where it does not know the unit), and why a difference is expected.
The programs are asked; nothing of ours goes into their columns.
"""
import json, re, subprocess, sys
import pint

# Spellings that the programs use for what we call otherwise.
ALIAS = {
    "Ω": "ohm", "°C": "K", "°F": "rankine", "°R": "rankine", "%": "percent", "‰": "permille",
    "VA": "V*A", "var": "V*A", "Ah": "A*hour", "Amin": "A*minute", "Wh": "W*hour", "Nm": "N*m",
    "min": "minute", "h": "hour", "d": "day", "year": "julianyear", "L": "liter", "gal": "gallon",
    "Å": "angstrom", "mil": "thou", "kft": "1000*foot", "cmil": "circularmil", "kcmil": "1000*circularmil",
    "ozt": "troyounce", "gr": "grain", "ct": "carat", "kn": "knot", "gn": "gravity", "Gal": "gal",
    "kgf": "kgf", "dyn": "dyne", "ozf": "ozf", "pdl": "poundal", "kP": "kP", "mph": "mile/hour", "Torr": "torr",
    "ksi": "1000*psi", "St": "stokes", "CFM": "foot^3/minute", "gpm": "gallon/minute", "cal": "calorie_th",
    "kcal": "1000*calorie_th", "cal_IT": "calorie_IT", "Btu": "btu_IT", "Btu_th": "btu_th", "ftlbf": "foot*lbf",
    "thm": "therm_EC", "tTNT": "tonTNT", "hp": "horsepower", "hp_e": "electrichorsepower", "PS": "metrichorsepower",
    "Gs": "gauss", "Mx": "maxwell", "Oe": "oersted", "gilbert": "gilbert", "At": "A", "Ci": "curie", "rd": "rd",
    "fc": "footcandle", "sb": "stilb", "ph": "phot", "Da": "dalton", "e": "electron_charge", "Φ₀": "h/2/electron_charge",
    "ppt": "1e-12", "ppb": "1e-9", "ppm": "1e-6", "sq": "1", "turn": "1", "cycle": "1", "pc": "1", "sample": "1",
    "Sa": "1", "decade": "1", "octave": "1", "rpm": "1/minute", "rps": "1/second", "bpm": "1/minute", "Bd": "1/second",
    "FIT": "1e-9/hour", "°": "degree", "arcmin": "arcminute", "arcsec": "arcsecond", "gon": "grade", "mmHg": "mmHg",
    "inHg": "inHg", "mmH2O": "mmH2O", "inH2O": "inH2O", "point": "inch/72", "µinch": "microinch", "floz": "floz",
    "nit": "nit", "Sh": "1", "abohm": "abohm", "mol": "mol", "ha": "hectare", "au": "au", "ly": "lightyear",
}
UNITS = {"°F": "degrankine", "°R": "degrankine", "permille": "1e-3", "‰": "1e-3", "bit": "bit", "B": "byte", "ct": "metriccarat",
         "Gal": "Gal", "thm": "1e5*btu_IT", "gf": "g*gravity", "ozf": "oz*gravity", "cal": "calorie_th", "hp_e": "electrichorsepower", "e": "e", "Φ₀": "h/2/e", "tTNT": "tnt*ton",
         "mmHg": "mmHg", "inHg": "inHg", "PS": "metrichorsepower", "fc": "footcandle", "mmH2O": "mmH2O", "inH2O": "inH2O",
         "Btu": "btu_IT", "roentgen": "roentgen", "debye": "debye", "var": "VA", "St": "stokes", "point": "inch/72",
         "statC": "statcoulomb", "statV": "statvolt", "rd": "rad", "micron": "micron", "rad": "radian", "mho": "mho"}
PINT = {"°F": "delta_degF", "°R": "degR", "%": "1e-2", "‰": "1e-3", "bit": "bit", "B": "byte", "year": "julian_year",
        "cmil": "circular_mil", "kcmil": "1000*circular_mil", "ozt": "troy_ounce", "ct": "carat", "gn": "standard_gravity",
        "Gal": "galileo", "kgf": "force_kilogram", "gf": "force_gram", "lbf": "force_pound", "ozf": "force_ounce", "pdl": "poundal",
        "kip": "kip", "cal": "thermochemical_calorie", "kcal": "1000*thermochemical_calorie", "cal_IT": "international_calorie",
        "Btu": "international_british_thermal_unit", "Btu_th": "thermochemical_british_thermal_unit", "thm": "therm",
        "tTNT": "ton_TNT", "hp_e": "electrical_horsepower", "PS": "metric_horsepower", "e": "elementary_charge",
        "Φ₀": "planck_constant/2/elementary_charge", "au": "astronomical_unit", "ly": "light_year", "roentgen": "roentgen",
        "inHg": "inch_Hg", "mmHg": "millimeter_Hg", "mmH2O": "-", "inH2O": "-", "thou": "thou", "rd": "rads", "ftlbf": "foot*force_pound",
        "fc": "lumen/foot^2", "sb": "stilb", "ph": "phot", "abohm": "abohm", "statC": "statcoulomb", "statV": "statvolt",
        "arcmin": "arcminute", "arcsec": "arcsecond", "gon": "grade", "floz": "fluid_ounce", "µinch": "1e-6*inch", "Gs": "gauss",
        "Mx": "maxwell", "gilbert": "gilbert", "Oe": "oersted", "abA": "abampere", "abC": "abcoulomb", "abF": "abfarad", "abH": "abhenry",
        "abV": "abvolt", "gr": "grain", "Da": "dalton", "dyn": "dyne", "lb": "pound", "oz": "ounce", "stone": "stone",
        "acre": "4840*yard^2", "barn": "barn", "qt": "quart", "pint": "pint", "gal": "gallon", "yd": "yard", "ft": "foot", "mi": "mile",
        "hp": "horsepower", "St": "stokes", "poise": "poise", "atm": "atm", "Torr": "torr", "psi": "psi", "ksi": "1000*psi",
        "permille": "1e-3", "kat": "katal", "Sv": "sievert", "Gy": "gray", "Bq": "becquerel", "rem": "rem", "t": "metric_ton",
        "nmi": "nautical_mile", "slug": "slug", "week": "week", "month": "365.25*day/12", "kn": "knot", "debye": "debye", "Å": "angstrom"}
UNITS.setdefault("month", "365.25 day/12")
WHY = {
    "Da": "CODATA 2022 here, 2018 there",
    "thm": "pint has the therm rounded to six digits; 100 000 Btu (IT) is the definition",
    "Oe": "units takes the measured µ0 of CODATA 2018; NIST SP 811 has 1000/(4π) A/m",
    "gilbert": "units takes the measured µ0 of CODATA 2018; NIST SP 811 has 10/(4π) A",
    "statC": "the programs keep CGS electrostatic dimensions or a rounded c",
    "statV": "the programs keep CGS electrostatic dimensions or a rounded c",
    "debye": "the programs keep CGS electrostatic dimensions or a rounded c",
}
BASE = ["m", "kg", "s", "A", "K", "mol", "cd"]
SUP = {"⁰": "0", "¹": "1", "²": "2", "³": "3", "⁴": "4", "⁻": "-"}
PREFIX = {"Q", "R", "Y", "Z", "E", "P", "T", "G", "M", "k", "h", "da", "d", "c", "m", "µ", "n", "p", "f", "a"}
PREFEXP = dict(G=9, M=6, k=3, c=-2, m=-3, µ=-6, n=-9, p=-12, f=-15)
SIMPLE = {"m", "g", "s", "A", "K", "V", "W", "J", "C", "F", "S", "H", "T", "N", "Pa", "Hz", "Wb", "Ω"}


def atom(sym, table):
    if sym in table:
        return table[sym]
    if sym in ALIAS:
        return ALIAS[sym]
    for p, e in PREFEXP.items():
        if sym.startswith(p) and sym[len(p):] in SIMPLE:
            return "(1e%d*%s)" % (e, atom(sym[len(p):], table))
    return sym


def expression(symbol, table):
    """Rewrite one of our symbols with the names a program knows."""
    def one(m):
        root, name, power = m.group(1), m.group(2), m.group(3)
        text = "(" + atom(name, table) + ")"
        n = "".join(SUP[c] for c in power) if power else ""
        if root:
            return "(%s^0.5)" % text
        return "(%s^(%s))" % (text, n) if n else text
    out = re.sub(r"(√?)([^\W\d_⁰¹²³⁴][^\W⁰¹²³⁴]*|%|‰|°[A-Z]?[a-z]*)([⁻⁰¹²³⁴]*)", one, symbol.replace("Φ₀", "FLUXQ"))
    return out.replace("·", "*").replace("FLUXQ", "(" + (table.get("Φ₀") or ALIAS["Φ₀"]) + ")")


def target(dim):
    """The SI unit of a dimension, for the units program."""
    parts = ["%s^(%d|2)" % (b, n) if n % 2 else "%s^%d" % (b, n // 2) for b, n in zip(BASE, dim) if n]
    return " ".join(parts) or "1"


def ask_units(expr, dim, data):
    root = any(n % 2 for n in dim)
    if root:  # the program takes no roots: ask for the square
        expr = "(%s)^2" % expr.split("/")[0] + "/Hz" if "/" in expr else "Hz"
        dim = [2 * n for n in dim]
    to = target(dim)
    if data:
        to = "bit " + to if to != "1" else "bit"
    r = subprocess.run(["units", "-t", "-1", "-d", "16", "--", expr, to], capture_output=True, text=True)
    text = r.stdout.strip()
    try:
        return repr(float(text) ** 0.5 if root else float(text))
    except ValueError:
        return "-"


def ask_pint(ureg, expr, dim):
    if expr.strip("()") == "-":
        return "-"
    try:
        q = ureg.Quantity(1, expr) if not re.search(r"\d", expr) else ureg.parse_expression(expr.replace("^", "**"))
        if not hasattr(q, "to_base_units"):
            return repr(float(q))
        q = q.to_base_units()
        have = dict(zip(["[length]", "[mass]", "[time]", "[current]", "[temperature]", "[substance]", "[luminosity]"], dim))
        for k, v in q.dimensionality.items():
            if abs(2 * v - have.get(k, 0)) > 1e-9:
                return "-"
        if any(n and k not in q.dimensionality for k, n in have.items()):
            return "-"
        return repr(float(q.magnitude))
    except Exception:
        return "-"


def main():
    ureg = pint.UnitRegistry()
    version = subprocess.run(["units", "--version"], capture_output=True, text=True).stdout.split("\n")[0]
    print("# outside values of the catalogue: %s; pint %s. Written by outside.py." % (version, pint.__version__))
    print("# symbol\tunits expression\tunits value\tpint expression\tpint value\twhy it differs")
    for u in json.load(sys.stdin):
        if u["Kind"] >= 3:
            continue  # decibels: neither program treats them as quantities
        symbol = u["Symbol"]
        data = bool(re.search(r"\b(bit|B)\b", symbol))
        ue = expression(symbol, UNITS)
        pe = expression(symbol, PINT)
        if symbol == "Sh":
            data = False
        print("\t".join([symbol, ue, ask_units(ue, u["Dim"], data), pe, ask_pint(ureg, pe, u["Dim"]), WHY.get(symbol, "")]))


main()
