"""How fast CP-SAT is on exported problems: for the benchmark of lessons.

    race.py PROBLEM.json... --seconds S [--workers 1,2] [--variants V,V...]

Prints one line of JSON for each problem, number of workers and variant:
`seen`, the values (served, departures, shortfall) of each solution and the
seconds after which it came; `proved`, whether all three aims are; `seconds`,
how long that took. Seconds are the solver's own; building the model is not
among them.
"""

import argparse
import json
from pathlib import Path

import solve

VARIANTS = ("pair-staged", "pair-weighted", "cumulative-staged", "cumulative-weighted")


def main():
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("problems", nargs="+", type=Path)
    words.add_argument("--seconds", type=float, required=True)
    words.add_argument("--workers", default="1,2")
    words.add_argument("--variants", default=",".join(VARIANTS))
    args = words.parse_args()
    for path in args.problems:
        problem = json.loads(path.read_text())
        for workers in map(int, args.workers.split(",")):
            for variant in args.variants.split(","):
                _, answer = solve.solve(problem, variant, workers, args.seconds)
                done = len(answer["proved"]) == 3 and all(answer["proved"])
                print(json.dumps({
                    "problem": path.stem, "workers": workers, "variant": variant,
                    "seen": answer["seen"], "proved": done, "seconds": answer["seconds"],
                }), flush=True)


if __name__ == "__main__":
    main()
