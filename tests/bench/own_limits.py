"""Do the 90 % intervals of the observer's own limits hold? Simulated logs of 40 looks.

Prints, without and with 15 % of wild looks, the share of intervals that hold each setting, the
gain in log score a look over the kit's values on 40 looks held out, and the times of a fit.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
import time
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1] / "limits"))
from simulated_logs import example_instrument, example_setup, pool, simulated, truth  # noqa: E402

from planner.kit.reading import load_kit  # noqa: E402
from planner.limits.evidence import instrument_at  # noqa: E402
from planner.limits.fitting import fit  # noqa: E402
from planner.limits.foretelling import log_score  # noqa: E402
from planner.limits.priors import Own  # noqa: E402

WILD = 0.15


def covered(logs: int, wild: float, seed: int) -> None:
    """Print how often the intervals hold."""
    random, found = np.random.default_rng(seed), pool()
    held, gains, widths, effective = [], [], [], []
    for _ in range(logs):
        own = truth(found.prior, random)
        result = fit(simulated(found, own, random, wild=wild), found.prior)
        aside = simulated(found, own, random, wild=wild)
        kit, one = found.prior.mean[None], np.ones(1)
        gains.append(log_score(aside, result.draws, result.weight) - log_score(aside, kit, one))
        held.append([s.low <= own[s.own] <= s.high for s in result.learnt])
        widths.append([s.sd / s.prior_sd for s in result.learnt])
        effective.append(result.effective)
    print(f"{logs} logs, {100 * wild:.0f} % wild")
    for own_, share, width in zip(Own, np.mean(held, axis=0), np.mean(widths, axis=0), strict=True):
        print(f"  {own_.name.lower():<9} held {100 * share:5.1f} %   doubt left {width:.2f}")
    better = 100 * np.mean(np.array(gains) > 0)
    print(f"  all       held {100 * np.mean(held):5.1f} %   least effective {min(effective):.0f}")
    print(f"  log score a look {np.mean(gains):+.3f} over the kit's, better in {better:.0f} %")


def timed(count: int) -> None:
    """Print how long a fit takes, without and with its tables to build."""
    random, found = np.random.default_rng(1), pool()
    log = simulated(found, truth(found.prior, random), random, count)
    start = time.process_time()
    fit(log, found.prior)
    print(f"fit of {count} looks: {time.process_time() - start:.2f} s of processor time")


def main() -> None:
    """Run it."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--logs", type=int, default=200)
    parser.add_argument("--seed", type=int, default=11)
    given = parser.parse_args()
    example_instrument()
    with tempfile.TemporaryDirectory() as folder:
        setup = example_setup()
        views = load_kit().views(setup.telescope)
        for words in ("built", "kept"):
            start = time.process_time()
            instrument_at(setup, views, Path(folder))
            spent = time.process_time() - start
            print(f"tables of {len(views)} views, {words}: {spent:.2f} s of processor time")
    for count in (40, 160, 400):
        timed(count)
    for wild in (0.0, WILD):
        covered(given.logs, wild, given.seed)


if __name__ == "__main__":
    main()
