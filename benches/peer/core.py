"""A NumPy peer of the model's plant-water-nitrogen-pest core, vectorised over draws and zones.

It has cover with recovery from bites, one annual weed with its seed bank, dead cover, the
root-zone bucket with SCS runoff, nitrogen in three pools with its losses, birds that eat,
scratch and drop under a fixed turn, and one pest with a soil stage: the formulas of
`sim-engine/src/plot`, without phosphorus, crops, creeping weeds, worm eggs, insects, books,
gates by eye, rules or summary. It is there to be fast, not to be right to the last digit.

Prints, for each number of draws, the nanoseconds a zone-day takes on one thread, as JSON: the
least of as many runs as fit into the seconds given. Arguments: days, seconds, numbers of draws.
"""

import json
import os
import sys
import time

for name in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ[name] = "1"

import numpy as np  # noqa: E402  (threads are set before it starts)

PLOTS, RINGS, STAY = 5, 2, 14
# Least times each number of draws is run.
TRIES = 3
ZONES = PLOTS * RINGS


def weather(days, draws, rng):
    """Rain mm, evaporation mm, growth factor and degree-days, each days x draws x 1."""
    season = np.cos(2 * np.pi * (np.arange(days)[:, None] - 200) / 365.0)
    warmth = 10 + 9 * season + rng.normal(0, 3, (days, draws))
    rain = np.where(rng.random((days, draws)) < 0.45, rng.gamma(0.8, 6.0, (days, draws)), 0.0)
    et0 = np.maximum(0.3, 2.2 + 2.0 * season + rng.normal(0, 0.4, (days, draws)))
    growth = np.clip((warmth - 3) / 16, 0, 1)
    thermal = np.maximum(warmth - 5, 0)
    return [a[:, :, None] for a in (rain, et0, growth, thermal)]


def normal_cdf(z):
    """Abramowitz & Stegun 26.2.17."""
    x = np.abs(z)
    t = 1 / (1 + 0.2316419 * x)
    poly = t * (0.31938153 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))))
    tail = 0.3989422804014327 * np.exp(-0.5 * x * x) * poly
    return np.where(z > 0, 1 - tail, tail)


def run(days, draws, rng):
    """Steps all draws and zones through the days; returns seconds."""
    rain, et0, growth, thermal = weather(days, draws, rng)
    shape = (draws, ZONES)
    full = lambda value: np.full(shape, value)  # noqa: E731
    vary = lambda low, high: rng.uniform(low, high, (draws, 1))  # noqa: E731
    rate, weed_rate, emergence, search = vary(0.04, 0.07), vary(0.1, 0.16), vary(2e-5, 6e-5), vary(0.3, 0.6)
    cover, dead, weed, bank, crowns = full(150.0), full(20.0), full(0.0), full(2000.0), full(0.9)
    bitten, rested = np.zeros((4,) + shape), full(1.0)
    water, mineral, fresh, slow = full(90.0), full(20.0), full(0.0), full(6000.0)
    soil, adults, age, out = full(20.0), full(0.0), full(0.0), full(0.0)
    above = np.zeros((6,) + shape)
    disturbed, seen = full(0.0), full(0.95)
    available, room, capacity = 90.0, 40.0, 350.0
    plot_of = np.repeat(np.arange(PLOTS), RINGS)
    use = np.tile([1.3, 0.7], PLOTS)
    begun = time.perf_counter()
    for day in range(days):
        birds = np.where(plot_of == day // STAY % PLOTS, 0.08 * use, 0.0)
        p = np.clip(0.55 + 0.04 * (5 - et0[day]), 0.1, 0.8)
        dry = np.minimum(water / ((1 - p) * available), 1)
        hungry = mineral / (mineral + 8)
        vigour = rested + (bitten[1] + 4 * bitten[2] + 9 * bitten[3]) / 16
        left = np.maximum(1 - (cover + weed) / capacity, 0)
        conditions = growth[day] * dry * hungry
        grown = rate * conditions * crowns * (0.2 + 0.8 * vigour) * cover * left
        grown += 1.5 * conditions * vigour * np.maximum(1 - cover / 100, 0)
        weed_grown = weed * (np.exp(weed_rate * conditions * left) - 1)
        need = (grown * 0.03 + weed_grown * 0.035) * 10
        factor = np.minimum(1, 0.3 * mineral / np.maximum(need, 1e-12))
        mineral -= need * factor
        asked = birds * 28
        table = np.maximum(cover - 20, 0) + weed
        share = np.minimum(1, asked / (table + 30))
        scratched = birds * 0.8
        torn = 1 - np.exp(-0.3 * scratched)
        bite = np.maximum(cover - 20, 0) * share
        rip = (np.maximum(cover - 20, 0) - bite) * torn
        falls = 1 - np.exp(-(2 * (bite + rip) / np.maximum(cover, 1e-9) + 0.5 * scratched))
        cover += grown * factor - bite - rip
        weed_bite, weed_rip = weed * share, weed * (1 - share) * (1 - np.exp(-scratched))
        weed += weed_grown * factor - weed_bite - weed_rip
        dead += rip + weed_rip
        disturbed += (1 - disturbed) * (1 - np.exp(-scratched))
        bitten *= 1 - falls
        rested *= 1 - falls
        bitten[0] += falls
        moving = np.minimum(0.1 * growth[day] * dry, 1)
        leaving = bitten * moving
        bitten -= leaving
        bitten[1:] += leaving[:-1]
        rested += leaving[-1]
        crowns += crowns * ((1 - crowns) * 0.02 * growth[day] * seen - 0.01 * (1 - vigour))
        aged = np.maximum(cover - 10, 0) * (1 - np.exp(-(0.004 * growth[day] + 0.002)))
        cover -= aged
        dead += aged
        rises = np.minimum(emergence * thermal[day] * dry * (1 + 4 * disturbed) * np.exp(-3 * seen), 1)
        shed = weed * 0.4 * growth[day]
        bank += shed - bank * (rises + (0.128 + 0.26 * disturbed) / 365.25)
        weed += bank * rises * 0.002 - shed * 0.001 - weed * 0.002
        gone = dead * 0.01 * np.minimum(thermal[day] / 15, 1) * dry
        dead -= gone
        mineral += 0.7 * gone * 0.02 * 10
        slow += 0.3 * gone * 0.02 * 10
        uric = birds * 1.6 * 0.7 * 10 * 0.3
        mineral += uric * 0.7
        fresh += birds * 1.6 * 10 * 0.3 * 0.3
        curve = 85 - 25 * seen
        kept = 25400 / curve - 254
        over = np.maximum(rain[day] - 0.2 * kept, 0)
        water += rain[day] - over * over / (over + kept)
        water = np.minimum(water, available + room)
        water -= np.minimum((0.3 + 0.8 * seen) * et0[day] * dry, water)
        drained = np.maximum(water - available, 0) * 0.5
        water -= drained
        released, turned = slow * 4e-5 * growth[day], fresh * 0.05 * growth[day]
        slow -= released
        fresh -= turned
        mineral += released + turned + 0.03
        wet = np.clip((water - available) / room, 0, 1)
        mineral -= mineral * 0.02 * wet
        mineral -= 0.8 * mineral * (1 - np.exp(-drained / 120))
        if day % 365 == 60:
            age[:], out[:] = 0, 0
        age += thermal[day] * (1.1 - 0.1 * seen)
        now = np.maximum(normal_cdf((age - 400) / 40), out)
        hazard = np.where(now > out, 0.7 * (now - out) / (1 - 0.7 * out), 0)
        out = now
        near = 0.1 + 0.6 * (normal_cdf((age - 300) / 40) - normal_cdf((age - 520) / 40))
        soil *= 1 - 0.0015
        soil *= np.exp(-search * near * birds)
        emerging = soil * hazard
        soil -= emerging
        emerging *= np.exp(-search * birds)
        laid = adults * 2.0
        laid /= 1 + 0.002 * (above.sum(0) + laid)
        moves = np.minimum(6 * thermal[day] / 350 + 0.03, 1)
        leaving = above * moves
        above -= leaving
        on = leaving * 0.8
        above[1:] += on[:-1]
        above[0] += laid
        soil += on[-1] * np.exp(-search * birds)
        adults += emerging - adults * 0.1
        disturbed *= 0.97
        seen = 1 - np.exp(-(cover * 0.02 + weed * 0.015 + dead * 0.004))
    seconds = time.perf_counter() - begun
    total = cover.sum() + weed.sum() + mineral.sum() + soil.sum()
    assert np.isfinite(total), "the peer ran away"
    return seconds


def main():
    days, seconds = int(sys.argv[1]), float(sys.argv[2])
    result = {}
    for draws in map(int, sys.argv[3:]):
        runs, begun = [], time.perf_counter()
        while len(runs) < TRIES or time.perf_counter() - begun < seconds:
            runs.append(run(days, draws, np.random.default_rng(len(runs))))
        best = min(runs)
        result[str(draws)] = best / (days * draws * ZONES) * 1e9
    print(json.dumps(result))


if __name__ == "__main__":
    main()
