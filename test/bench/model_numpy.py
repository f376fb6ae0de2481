"""The preload model as a vectorised numpy script, to compare the engine with.

Usage: model_numpy.py NUMBERS.json SAMPLES SEED. Reads the flat list of numbers of one scenario, samples it in blocks of
50 000 on one thread and prints the counts as JSON.
"""

import json
import resource
import sys
import time

import numpy as np

BLOCK = 50_000
REVERSED, PLAY, LIGHT, TARGET, HEAVY, BIND = range(6)


class Reader:
    """Takes the numbers in order."""

    def __init__(self, numbers):
        self.numbers = numbers
        self.at = 0

    def number(self):
        self.at += 1
        return self.numbers[self.at - 1]

    def index(self):
        return int(self.number())

    def list(self):
        return [self.number() for _ in range(self.index())]


def read_curve(r):
    return {"centre": r.number(), "half": r.number(), "compliance": r.list(), "limit": r.list()}


def read_seat(r):
    return {
        "ring": r.index(), "mate": r.index(), "smoothing": r.index(), "ring_zone": r.index(), "mate_zone": r.index(),
        "mate_alpha": r.number(), "measured": r.number(), "raceway": r.number(),
    }


def read_bearing(r):
    return {
        "balls": r.number(), "ball_mm": r.number(), "clearance": r.index(), "inner_ratio": r.index(),
        "outer_ratio": r.index(), "stand_out": r.index(), "ring_alpha": r.number(), "ball_alpha": r.number(),
        "inner_mm": r.number(), "outer_mm": r.number(), "balls_zone": r.index(), "inner_curve": read_curve(r),
        "outer_curve": read_curve(r), "inner": read_seat(r), "outer": read_seat(r),
    }


def read_model(r):
    variables = [[r.number() for _ in range(7)] for _ in range(r.index())]
    members = [
        {"length": r.index(), "factor": r.number(), "zone": r.index(), "alpha": r.number(), "clamp": r.number()}
        for _ in range(r.index())
    ]
    bearings = [read_bearing(r), read_bearing(r)]
    model = {"variables": variables, "members": members, "bearings": bearings, "clamp": r.index(),
             "clamp_holds": r.index() == 1, "compliance": r.number(), "low": r.number(), "high": r.number(),
             "bind": r.number(), "pressure": r.index() == 1, "states": []}
    for _ in range(r.index()):
        rises = [[(r.index(), r.number()) for _ in range(r.index())] for _ in range(r.index())]
        model["states"].append({"rises": rises, "zones": [int(z) for z in r.list()]})
    return model


def draw(variables, rng, n):
    """One column a variable; normals that fall outside their limits are drawn again."""
    columns = []
    for kind, a, b, low, high, _below, _mass in variables:
        if kind == 0:
            columns.append(a)
        elif kind == 1:
            columns.append(rng.uniform(a, b, n))
        else:
            x = rng.standard_normal(n)
            x *= b
            x += a
            if kind == 3:
                outside = np.flatnonzero((x < low) | (x > high))
                while outside.size:
                    x[outside] = a + b * rng.standard_normal(outside.size)
                    outside = outside[(x[outside] < low) | (x[outside] > high)]
            columns.append(x)
    return columns


def horner(coefficients, t):
    value = coefficients[-1]
    for c in coefficients[-2::-1]:
        value = value * t + c
    return value


def bearing_constants(bearing, v):
    fi, fo = v[bearing["inner_ratio"]], v[bearing["outer_ratio"]]
    inner, outer = bearing["inner_curve"], bearing["outer_curve"]
    ti, to = (fi - inner["centre"]) / inner["half"], (fo - outer["centre"]) / outer["half"]
    compliance = horner(inner["compliance"], ti) + horner(outer["compliance"], to)
    distance = (fi + fo - 1) * bearing["ball_mm"]
    stiffness = bearing["balls"] / (compliance * np.sqrt(compliance))
    limit = np.inf
    if inner["limit"]:
        limit = np.minimum(horner(inner["limit"], ti), horner(outer["limit"], to)) * compliance
    return distance, stiffness, limit


def take_fit(clearance, seat, sense, ring_alpha, v, rises):
    mate = v[seat["mate"]] * seat["measured"] * (1 + seat["mate_alpha"] * rises[seat["mate_zone"]])
    ring = v[seat["ring"]] * (1 + ring_alpha * rises[seat["ring_zone"]])
    interference = sense * (mate - ring) - v[seat["smoothing"]]
    clearance -= seat["raceway"] * np.maximum(interference, 0)


def radial_clearance(bearing, v, rises):
    alpha = bearing["ring_alpha"]
    g = (
        v[bearing["clearance"]]
        + alpha * bearing["outer_mm"] * rises[bearing["outer"]["ring_zone"]]
        - alpha * bearing["inner_mm"] * rises[bearing["inner"]["ring_zone"]]
        - 2 * bearing["ball_alpha"] * bearing["ball_mm"] * rises[bearing["balls_zone"]]
    )
    take_fit(g, bearing["inner"], 1, alpha, v, rises)
    take_fit(g, bearing["outer"], -1, alpha, v, rises)
    return g


def contact(e, play, squeeze, r2, a, k):
    """Force and slope of one bearing at an excess displacement e."""
    x = play + e
    s = np.sqrt(r2 + x * x)
    t = (e * (e + 2 * play) + squeeze) / (s + a)
    root = k * np.sqrt(t)
    sine = x / s
    return root * t * sine, root * (1.5 * sine * sine + t / s * (1 - sine * sine))


def solve_pairs(offset, wa, aa, ka, wb, ab, kb, c):
    """Preload of pairs at offsets not below zero: Newton over arrays, the pairs that have converged taken out."""
    pa, pb = np.sqrt(np.maximum(wa, 0)), np.sqrt(np.maximum(wb, 0))
    force, xa, xb = np.zeros_like(offset), pa.copy(), pb.copy()
    todo = np.flatnonzero(offset > pa + pb)
    excess = offset[todo] - pa[todo] - pb[todo]
    pa, pb, wa, wb, aa, ab, ka, kb = (z[todo] for z in (pa, pb, wa, wb, aa, ab, ka, kb))
    qa, qb, ra, rb = np.maximum(-wa, 0), np.maximum(-wb, 0), aa * aa - wa, ab * ab - wb
    sa, sb = (pa + 0.5 * excess) / aa, (pb + 0.5 * excess) / ab
    ratio = (ka * sa * sa * np.sqrt(sa)) / (kb * sb * sb * np.sqrt(sb))
    e = excess * (5 + ratio) / (6 + 6 * ratio)
    low, high = np.zeros_like(e), excess.copy()
    for _ in range(200):
        if not todo.size:
            break
        fa, slope_a = contact(e, pa, qa, ra, aa, ka)
        eb = excess - e - c * fa
        fb, slope_b = contact(np.maximum(eb, 0), pb, qb, rb, ab, kb)
        fb, slope_b = np.where(eb > 0, fb, 0), np.where(eb > 0, slope_b, 0)
        difference = fa - fb
        above = difference > 0
        np.copyto(high, e, where=above)
        np.copyto(low, e, where=~above)
        step = difference / (slope_a + slope_b * (1 + c * slope_a))
        following = e - step
        inside = (following > low) & (following < high)
        following = np.where(inside, following, 0.5 * (low + high))
        done = (inside & (np.abs(step) <= 1e-6 * e)) | (difference == 0) | (following == e)
        if done.any():
            at = todo[done]
            f = fa[done] - slope_a[done] * step[done]
            force[at] = f
            xa[at] = pa[done] + following[done]
            xb[at] = pb[done] + excess[done] - following[done] - c * f
            left = ~done
            todo, excess, e, low, high, pa, pb, qa, qb, ra, rb, aa, ab, ka, kb = (
                z[left] for z in (todo, excess, following, low, high, pa, pb, qa, qb, ra, rb, aa, ab, ka, kb)
            )
        else:
            e = following
    return force, xa, xb


def displacement_at(force, a, w, k):
    """Displacement of one bearing under a force: Newton on the contact deflection."""
    tau = np.cbrt(force / k) ** 2
    least = np.where(w < 0, np.sqrt(np.maximum(a * a - w, 0)) - a, 0)
    t = least + tau
    tau3 = tau**3
    while True:
        short = t**3 * (w + t * (2 * a + t)) < tau3 * (a + t) ** 2
        if not short.any():
            break
        t[short] *= 2
    for _ in range(60):
        x2, s = w + t * (2 * a + t), a + t
        step = (t**3 * x2 - tau3 * s * s) / (t * t * (3 * x2 + 2 * t * s) - 2 * tau3 * s)
        following = np.where(t - step > least, t - step, 0.5 * (t + least))
        if (np.abs(following - t) <= 1e-9 * t).all():
            t = following
            break
        t = following
    return np.sqrt(np.maximum(w + t * (2 * a + t), 0))


def deflection(x, a, w):
    return (x * x - w) / (np.sqrt(a * a - w + x * x) + a)


def evaluate_state(model, state, v, constants, n):
    rises = [sum(factor * v[variable] for variable, factor in terms) - 20 for terms in state["rises"]]
    rises = [rises[z] for z in state["zones"]]
    a, b = model["bearings"]
    offset = v[a["stand_out"]] + v[b["stand_out"]] + np.zeros(n)
    for m in model["members"]:
        stretch = 1 + m["alpha"] * rises[m["zone"]]
        if model["clamp"] >= 0 and m["clamp"] > 0:
            stretch = stretch - m["clamp"] * v[model["clamp"]]
        offset += m["factor"] * v[m["length"]] * stretch
    (aa, ka, limit_a), (ab, kb, limit_b) = constants
    half_a, half_b = 0.5 * radial_clearance(a, v, rises), 0.5 * radial_clearance(b, v, rises)
    wa, wb = half_a * (2 * aa - half_a), half_b * (2 * ab - half_b)
    c = model["compliance"]
    force, xa, xb = solve_pairs(np.abs(offset), wa, aa, ka, wb, ab, kb, c)
    if model["clamp_holds"]:
        over = np.flatnonzero((offset > 0) & (force > v[model["clamp"]]))
        if over.size:
            held = np.broadcast_to(v[model["clamp"]], n)[over]
            force[over] = held
            xa[over] = displacement_at(held, aa[over], wa[over], ka[over])
            xb[over] = displacement_at(held, ab[over], wb[over], kb[over])
    signed = np.where(offset < 0, -force, force)
    bind = np.abs(signed) >= model["bind"]
    if model["pressure"]:
        bind |= (deflection(xa, aa, wa) > limit_a) | (deflection(xb, ab, wb) > limit_b)
    outcome = np.select(
        [bind, signed < 0, signed == 0, signed < model["low"], signed <= model["high"]],
        [BIND, REVERSED, PLAY, LIGHT, TARGET],
        HEAVY,
    )
    return outcome, signed


def main():
    with open(sys.argv[1], encoding="utf-8") as file:
        model = read_model(Reader(json.load(file)))
    samples, seed = int(sys.argv[2]), int(sys.argv[3])
    rng = np.random.default_rng(seed)
    states = len(model["states"])
    outcomes = np.zeros((states, 6), dtype=np.int64)
    sums, good = np.zeros((states, 2)), 0
    wall, cpu = time.perf_counter(), time.process_time()
    for first in range(0, samples, BLOCK):
        n = min(BLOCK, samples - first)
        v = draw(model["variables"], rng, n)
        constants = [[np.broadcast_to(z, n) for z in bearing_constants(b, v)] for b in model["bearings"]]
        every = np.ones(n, dtype=bool)
        for index, state in enumerate(model["states"]):
            outcome, preload = evaluate_state(model, state, v, constants, n)
            outcomes[index] += np.bincount(outcome, minlength=6)
            sums[index] += preload.sum(), (preload * preload).sum()
            every &= outcome == TARGET
        good += int(every.sum())
    wall, cpu = time.perf_counter() - wall, time.process_time() - cpu
    mean = sums[:, 0] / samples
    print(json.dumps({
        "samples": samples, "wallS": wall, "cpuS": cpu, "good": good, "outcomes": outcomes.tolist(),
        "meanPreloadN": mean.tolist(), "sdPreloadN": np.sqrt(sums[:, 1] / samples - mean * mean).tolist(),
        "peakMemoryMB": resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024,
    }))


main()
