"""True ranges of formulas with repeated inputs, interior extremes and
near-singular denominators, for eval/bound.

Run:  python3 ranges.py > ranges.json
Needs python3-mpmath. Each end is found by a float search over corners, a grid
and random points, then by projected Newton steps in 60 digits; the value is
given to 30 digits. A global optimum could in principle be missed, which would
show as a bound that looks too wide, never as one that looks tight and is
wrong; where the literature gives the optimum it is stated and compared here.

Sources: "common" is a formula of the trade; the named test functions are those
of M. Jamil and X.-S. Yang, "A literature survey of benchmark functions for
global optimisation problems", Int. J. Math. Model. Numer. Optim. 4 (2013) 150,
with known minima where "known" is set. Where "seen" stands the formula and the
minimum were compared with a public listing: the documentation of the Rust crate
argmin_testfunctions (Booth, Matyas, Beale, Himmelblau, three-hump camel,
Goldstein and Price), of the R packages gek (six-hump camel), EmiR (Griewank)
and adagio (Rosenbrock, Rastrigin), and the tests of NLopt (McCormick). The
others are from memory; the ends of all are worked out here, whatever their name.
"""
import itertools
import json
import math
import random

import mpmath
from mpmath import mp, mpf

R = "common"
J = "Jamil and Yang 2013, from memory"
S = "Jamil and Yang 2013, seen"
CASES = [
    # name, formula, inputs, source, known minimum or None
    ("loaded divider", "v*b/(t+b)", {"v": (3.0, 3.6), "t": (99e3, 101e3), "b": (46530.0, 47470.0)}, R, None),
    ("divider with load", "v*(b*l/(b+l))/(t+b*l/(b+l))", {"v": (4.75, 5.25), "t": (9900.0, 10100.0), "b": (9900.0, 10100.0), "l": (1e5, 2e5)}, R, None),
    ("two resistors in parallel", "a*b/(a+b)", {"a": (95.0, 105.0), "b": (190.0, 210.0)}, R, None),
    ("three resistors in parallel", "a*b*c/(a*b+b*c+c*a)", {"a": (95.0, 105.0), "b": (190.0, 210.0), "c": (285.0, 315.0)}, R, None),
    ("bridge", "v*(b/(a+b)-d/(c+d))", {"v": (4.9, 5.1), "a": (99.0, 101.0), "b": (99.0, 101.0), "c": (99.0, 101.0), "d": (98.0, 104.0)}, R, None),
    ("matched load", "r/(r+s)^2", {"r": (10.0, 100.0), "s": (40.0, 60.0)}, R, None),
    ("matched load near the peak", "v^2*r/(r+50)^2", {"v": (9.0, 10.0), "r": (45.0, 60.0)}, R, None),
    ("difference amplifier", "p*(d/(c+d))*(1+b/a)-n*b/a", {"p": (1.0, 1.1), "n": (1.0, 1.1), "a": (9.9, 10.1), "b": (99.0, 101.0), "c": (9.9, 10.1), "d": (99.0, 101.0)}, R, None),
    ("common-mode residue", "d/(c+d)*(a+b)/a-b/a", {"a": (9.9, 10.1), "b": (99.0, 101.0), "c": (9.9, 10.1), "d": (99.0, 101.0)}, R, None),
    ("low pass", "1/sqrt(1+(2*pi*f*r*c)^2)", {"f": (900.0, 1100.0), "r": (950.0, 1050.0), "c": (1.4e-7, 1.8e-7)}, R, None),
    ("series circuit", "sqrt(r^2+(2*pi*f*l-1/(2*pi*f*c))^2)", {"r": (9.0, 11.0), "f": (4500.0, 5500.0), "l": (9e-4, 1.1e-3), "c": (9e-7, 1.1e-6)}, R, None),
    ("resonance", "1/(2*pi*sqrt(l*c))", {"l": (9e-6, 1.1e-5), "c": (9e-10, 1.1e-9)}, R, None),
    ("quality of a two-pole filter", "sqrt(a*b*c*d)/(d*(a+b))", {"a": (9500.0, 10500.0), "b": (9500.0, 10500.0), "c": (1.9e-8, 2.1e-8), "d": (9.5e-9, 1.05e-8)}, R, None),
    ("ripple current", "(i-o)*o/(i*l*f)", {"i": (9.0, 14.0), "o": (4.9, 5.1), "l": (8e-6, 1.2e-5), "f": (450e3, 550e3)}, R, None),
    ("ripple over the duty", "d*(1-d)", {"d": (0.3, 0.8)}, R, None),
    ("input capacitor current", "i*sqrt(d*(1-d))", {"i": (1.9, 2.1), "d": (0.2, 0.9)}, R, None),
    ("regulator loss", "(i-o)*a+i*q", {"i": (4.75, 5.25), "o": (3.2, 3.4), "a": (0.1, 0.15), "q": (1e-6, 5e-6)}, R, None),
    ("self-heating", "t+r*(v^2/(h*(1+k*(t-25))))", {"t": (20.0, 60.0), "r": (180.0, 220.0), "v": (0.9, 1.1), "h": (95.0, 105.0), "k": (0.0038, 0.004)}, R, None),
    ("thermistor", "r*exp(b*(1/t-1/298.15))", {"r": (9900.0, 10100.0), "b": (3400.0, 3500.0), "t": (273.15, 343.15)}, R, None),
    ("thermistor divider", "5*1e4/(1e4+r*exp(b*(1/t-1/298.15)))", {"r": (9900.0, 10100.0), "b": (3400.0, 3500.0), "t": (273.15, 343.15)}, R, None),
    ("discharge", "v*exp(-t/(r*c))", {"v": (4.9, 5.1), "t": (9e-4, 1.1e-3), "r": (950.0, 1050.0), "c": (9e-7, 1.1e-6)}, R, None),
    ("time to threshold", "-r*c*ln(1-h/v)", {"r": (950.0, 1050.0), "c": (9e-7, 1.1e-6), "h": (2.0, 2.2), "v": (3.2, 3.4)}, R, None),
    ("strip line", "87/sqrt(e+1.41)*ln(5.98*h/(0.8*w+t))", {"e": (4.2, 4.7), "h": (1.5e-3, 1.7e-3), "w": (2.5e-3, 3e-3), "t": (3e-5, 4e-5)}, R, None),
    ("crystal load", "a*b/(a+b)+s", {"a": (17e-12, 19e-12), "b": (17e-12, 19e-12), "s": (2e-12, 5e-12)}, R, None),
    ("threshold with hysteresis", "v*b/(a+b)+o*a*b/(h*(a+b)+a*b)", {"v": (3.2, 3.4), "o": (0.0, 3.4), "a": (9900.0, 10100.0), "b": (9900.0, 10100.0), "h": (99e3, 101e3)}, R, None),
    ("phase of a low pass", "atan(2*pi*f*r*c)*180/pi", {"f": (900.0, 1100.0), "r": (950.0, 1050.0), "c": (1.4e-7, 1.8e-7)}, R, None),
    ("beat of two angles", "sin(x)*cos(y)+cos(x)*sin(y)", {"x": (0.0, 1.0), "y": (0.0, 1.0)}, R, None),
    ("squares of sine and cosine", "sin(x)^2+cos(x)^2", {"x": (0.0, 2.0)}, R, None),
    ("x - x squared", "x-x^2", {"x": (0.0, 1.0)}, R, None),
    ("cubic", "x^3-3*x", {"x": (-1.5, 1.75)}, R, None),
    ("difference of neighbours", "x/(x+1)-(x+1)/(x+2)", {"x": (0.0, 3.0)}, R, None),
    ("near-singular difference", "1/(x-y+0.01)", {"x": (1.0, 1.5), "y": (0.5, 1.0)}, R, None),
    ("near-singular square", "x/(x^2+1e-6)", {"x": (-1.0, 1.0)}, R, None),
    ("near-singular pair", "(x-y)/(x+y-1.999)", {"x": (1.0, 1.1), "y": (1.0, 1.1)}, R, None),
    ("resonant gain", "1/sqrt((1-w^2)^2+(w/q)^2)", {"w": (0.5, 1.5), "q": (5.0, 10.0)}, R, None),
    ("absolute difference", "abs(x-y)*(x+y)", {"x": (0.0, 1.0), "y": (0.0, 1.0)}, R, None),
    ("larger of two", "max(x*(1-x),y-x)", {"x": (0.0, 1.0), "y": (0.0, 0.5)}, R, None),
    ("banana valley (Rosenbrock)", "100*(y-x^2)^2+(1-x)^2", {"x": (-2.0, 2.0), "y": (-1.0, 3.0)}, S, 0),
    ("six-hump camel", "(4-2.1*x^2+x^4/3)*x^2+x*y+(-4+4*y^2)*y^2", {"x": (-3.0, 3.0), "y": (-2.0, 2.0)}, S, -1.0316284534898774),
    ("three-hump camel", "2*x^2-1.05*x^4+x^6/6+x*y+y^2", {"x": (-2.0, 2.0), "y": (-2.0, 2.0)}, S, 0),
    ("Himmelblau", "(x^2+y-11)^2+(x+y^2-7)^2", {"x": (-5.0, 5.0), "y": (-5.0, 5.0)}, S, 0),
    ("Booth", "(x+2*y-7)^2+(2*x+y-5)^2", {"x": (-10.0, 10.0), "y": (-10.0, 10.0)}, S, 0),
    ("Matyas", "0.26*(x^2+y^2)-0.48*x*y", {"x": (-10.0, 10.0), "y": (-10.0, 10.0)}, S, 0),
    ("Beale", "(1.5-x+x*y)^2+(2.25-x+x*y^2)^2+(2.625-x+x*y^3)^2", {"x": (-4.5, 4.5), "y": (-4.5, 4.5)}, S, 0),
    ("Branin", "(y-5.1*x^2/(4*pi^2)+5*x/pi-6)^2+10*(1-1/(8*pi))*cos(x)+10", {"x": (-5.0, 10.0), "y": (0.0, 15.0)}, J, 0.39788735772973816),
    ("Goldstein and Price", "(1+(x+y+1)^2*(19-14*x+3*x^2-14*y+6*x*y+3*y^2))*(30+(2*x-3*y)^2*(18-32*x+12*x^2+48*y-36*x*y+27*y^2))", {"x": (-2.0, 2.0), "y": (-2.0, 2.0)}, S, 3),
    ("McCormick", "sin(x+y)+(x-y)^2-1.5*x+2.5*y+1", {"x": (-1.5, 4.0), "y": (-3.0, 4.0)}, S, -1.9132229549810367),
    ("Styblinski and Tang", "(x^4-16*x^2+5*x+y^4-16*y^2+5*y)/2", {"x": (-5.0, 5.0), "y": (-5.0, 5.0)}, J, -78.33233140754282),
    ("Rastrigin", "20+x^2-10*cos(2*pi*x)+y^2-10*cos(2*pi*y)", {"x": (-5.12, 5.12), "y": (-5.12, 5.12)}, S, 0),
    ("Zettl", "(x^2+y^2-2*x)^2+x/4", {"x": (-1.0, 5.0), "y": (-1.0, 5.0)}, J, -0.0037912372204686913),
    ("x times sine", "x*sin(x)", {"x": (0.0, 10.0)}, J, None),
    ("Griewank", "1+x^2/4000+y^2/4000-cos(x)*cos(y/sqrt(2))", {"x": (-8.0, 9.0), "y": (-8.0, 9.0)}, S, 0),
]


def compiled(formula, names, lib):
    text = formula.replace("^", "**")
    scope = {n: getattr(lib, n) for n in ("sqrt", "exp", "sin", "cos", "atan", "pi")}
    scope.update(ln=lib.log, abs=abs, max=max, min=min)
    if lib is mpmath:
        text = exactly(text)
        scope["mpf"] = mpf
        scope["pi"] = mp.pi
    return eval("lambda %s: %s" % (", ".join(names), text), scope)


def exactly(text):
    """Wrap decimal constants so that 0.1 is 1/10."""
    import re
    return re.sub(r"(?<![\w.])(\d+\.\d+(e-?\d+)?|\d+e-?\d+|\d+)(?![\w.])", r"mpf('\1')", text).replace("**mpf('2')", "**2").replace("**mpf('3')", "**3").replace("**mpf('4')", "**4").replace("**mpf('6')", "**6")


def decimals(v):
    return mpf(repr(v))


def search(f, ranges, sign, rng):
    points = list(itertools.product(*ranges)) + [tuple((a + b) / 2 for a, b in ranges)]
    per = {1: 4000, 2: 90}.get(len(ranges), 9 if len(ranges) == 3 else 5)
    if len(ranges) <= 4:
        points += list(itertools.product(*[[a + (b - a) * i / per for i in range(per + 1)] for a, b in ranges]))
    points += [tuple(rng.uniform(a, b) for a, b in ranges) for _ in range(4000)]
    points.sort(key=lambda p: sign * f(*p))
    return points[:6]


def refine(f, x, ranges, sign):
    """Projected Newton steps with numeric derivatives in high precision."""
    g = lambda *p: sign * f(*p)
    n = len(x)
    x = [min(max(decimals(v), r[0]), r[1]) for v, r in zip(x, ranges)]
    best = g(*x)
    for _ in range(60):
        h = [(r[1] - r[0]) * mpf(10) ** -16 for r in ranges]
        inside = [min(max(x[i], ranges[i][0] + 2 * h[i]), ranges[i][1] - 2 * h[i]) for i in range(n)]

        def at(*moves):
            p = list(inside)
            for i, m in moves:
                p[i] += m * h[i]
            return g(*p)
        grad = [(at((i, 1)) - at((i, -1))) / (2 * h[i]) for i in range(n)]
        free = [i for i in range(n) if not ((x[i] <= ranges[i][0] and grad[i] > 0) or (x[i] >= ranges[i][1] and grad[i] < 0))]
        step = [mpf(0)] * n
        if free:
            k = len(free)
            hess = mp.matrix(k, k)
            for a in range(k):
                for b in range(k):
                    i, j = free[a], free[b]
                    if i == j:
                        hess[a, b] = (at((i, 1)) - 2 * at() + at((i, -1))) / h[i] ** 2
                    else:
                        hess[a, b] = (at((i, 1), (j, 1)) - at((i, 1), (j, -1)) - at((i, -1), (j, 1)) + at((i, -1), (j, -1))) / (4 * h[i] * h[j])
            try:
                s = mp.lu_solve(hess, mp.matrix([-grad[i] for i in free]))
                for a, i in enumerate(free):
                    step[i] = s[a]
            except ZeroDivisionError:
                pass
        moved = False
        downhill = [-(mp.sign(grad[i])) * (ranges[i][1] - ranges[i][0]) if i in free else mpf(0) for i in range(n)]
        for direction in (step, downhill):
            t = mpf(1)
            for _ in range(70):
                y = [min(max(x[i] + t * direction[i], ranges[i][0]), ranges[i][1]) for i in range(n)]
                v = g(*y)
                if v < best:
                    x, best, moved = y, v, True
                    break
                t /= 4
            if moved:
                break
        if not moved:
            break
    return sign * best


def main():
    mp.dps = 60
    rng = random.Random(41)
    out = []
    for name, formula, inputs, source, known in CASES:
        names = list(inputs)
        quick = compiled(formula, names, math)
        exact = compiled(formula, names, mpmath)
        ranges = [inputs[n] for n in names]
        wide = [(decimals(a), decimals(b)) for a, b in ranges]
        ends = []
        for sign in (1, -1):
            found = [refine(exact, p, wide, sign) for p in search(quick, ranges, sign, rng)]
            ends.append(min(found, key=lambda v: sign * v))
        if known is not None and abs(ends[0] - known) > 1e-9 * max(1, abs(known)):
            raise SystemExit("%s: found %s, the literature has %s" % (name, ends[0], known))
        out.append({"name": name, "formula": formula, "inputs": {n: [repr(a), repr(b)] for n, (a, b) in inputs.items()},
                    "lo": clean(ends[0]), "hi": clean(ends[1]), "source": source})
    print(json.dumps(out, indent=1))


def clean(v):
    return mp.nstr(v if abs(v) > mpf(10) ** -28 else mpf(0), 30)


main()
