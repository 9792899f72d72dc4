"""Reference values of the elementary functions for eval/bound.

Run:  python3 functions.py > functions.txt
Needs python3-mpmath (general arbitrary-precision library). Every line holds a
function, its argument as a hexadecimal float64 and the value to 100 digits,
computed with 600 bits more than the argument's exponent asks for.
"""
import random

from mpmath import mp, mpf, exp, ln, log10, sin, cos, tan, asin, acos, atan, sqrt, nstr


def arguments(low, high, near, rng, count=120):
    """Random arguments, evenly and by magnitude, and the neighbours of near."""
    out = []
    for _ in range(count):
        out.append(rng.uniform(low, high))
        magnitude = 2.0 ** rng.uniform(-60, 0)
        x = magnitude * (high if rng.random() < 0.5 or low >= 0 else low)
        if low <= x <= high:
            out.append(x)
    for x in near:
        v = float(x)
        for step in range(-3, 4):
            bits = v
            for _ in range(abs(step)):
                bits = mp_next(bits, step)
            if low <= bits <= high:
                out.append(bits)
    return out


def mp_next(x, direction):
    import math
    return math.nextafter(x, math.inf if direction > 0 else -math.inf)


def main():
    rng = random.Random(20251)
    mp.prec = 1600
    half = mp.pi / 2
    circle = [k * half for k in (-9, -4, -3, -2, -1, 1, 2, 3, 4, 5, 101, 1000, 31415)]
    tables = [
        ("exp", exp, arguments(-745.0, 709.0, [0, 1, -1, 1e-300, -708], rng)),
        ("ln", ln, arguments(5e-324, 1e308, [5e-324, 1e-310, 2.3e-308, 0.5, 1, 2, 10], rng)),
        ("log10", log10, arguments(5e-324, 1e308, [5e-324, 1e-310, 0.1, 1, 2, 10, 1000], rng)),
        ("sin", sin, arguments(-60000.0, 60000.0, circle, rng)),
        ("cos", cos, arguments(-60000.0, 60000.0, circle, rng)),
        ("tan", tan, arguments(-60000.0, 60000.0, circle, rng)),
        ("asin", asin, arguments(-1.0, 1.0, [-1, -0.5, 0.5, 1, 1e-200], rng)),
        ("acos", acos, arguments(-1.0, 1.0, [-1, -0.5, 0, 0.5, 1], rng)),
        ("atan", atan, arguments(-1e15, 1e15, [-1, 1, 0.66, 2.414, 1e-200], rng)),
        ("sqrt", sqrt, arguments(5e-324, 1e308, [5e-324, 1e-310, 2, 4], rng)),
    ]
    print("# function, argument, value; written by functions.py with mpmath")
    for name, f, xs in tables:
        for x in xs:
            if x == 0 and name in ("ln", "log10"):
                continue
            print(name, float.hex(x), nstr(f(mpf(x)), 100))


main()
