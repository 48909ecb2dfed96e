"""Lessons of which CP-SAT proves that some groups but not all can be served:
seed, number of groups, and the most that can be, until enough groups are left
out. (Where none can be, the chain of one group's steps mostly shows it.)"""

import argparse
import json
import subprocess
from pathlib import Path

from ortools.sat.python import cp_model

from compare import fingerprint
from model import Built


def most_served(problem, workers, seconds):
    """The most groups that can be served, if that is proved in time; `None`
    also where the class's own steps find no place."""
    built = Built(problem)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = workers
    solver.parameters.max_time_in_seconds = seconds
    built.model.maximize(built.served)
    if solver.solve(built.model) != cp_model.OPTIMAL:
        return None
    return round(solver.objective_value)


def main():
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("lessons", nargs="+", type=Path)
    words.add_argument("--ovenbell", default="target/debug/ovenbell")
    words.add_argument("--seconds", type=float, default=20.0, help="for CP-SAT, each lesson")
    words.add_argument("--workers", type=int, default=2)
    words.add_argument("--enough", type=int, default=200, help="groups left out")
    words.add_argument("--store", type=Path, help="write the lessons here (JSON)")
    args = words.parse_args()
    kept, left_out, looked_at = [], 0, 0
    for path in args.lessons:
        done = subprocess.run(
            [args.ovenbell, "problem", path, "--json"], capture_output=True, text=True)
        if done.returncode:
            continue
        looked_at += 1
        problem = json.loads(done.stdout)
        groups = len(problem["groups"])
        most = most_served(problem, args.workers, args.seconds)
        if most is None or most in (0, groups):
            continue
        left_out += groups - most
        seed = int(path.stem.removeprefix("seed-"))
        kept.append({"seed": seed, "problem": fingerprint(done.stdout), "groups": groups,
                     "served": most})
        print(f"{path.name}: {most} of {groups}; {left_out} left out so far", flush=True)
        if args.store:
            rows = ",\n".join(json.dumps(row) for row in kept)
            args.store.write_text(f"[\n{rows}\n]\n")
        if left_out >= args.enough:
            break
    print(f"{left_out} groups left out of {len(kept)} lessons; {looked_at} looked at")


if __name__ == "__main__":
    main()
