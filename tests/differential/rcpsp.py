"""CP-SAT on problems of the standard kind, one line of JSON for each, as
`cargo bench --bench rcpsp` prints them.

    rcpsp.py FILES... --within SECONDS [--workers N]
"""

import argparse
import json
import re
from pathlib import Path

from ortools.sat.python import cp_model


def read_sm(text):
    def rows(begins):
        lines = iter(text.splitlines())
        for line in lines:
            if line.strip().startswith(begins):
                break
        next(lines)
        out = []
        for line in lines:
            if line.startswith("-"):
                continue
            if not re.fullmatch(r"[\s\d]+", line):
                break
            out.append([int(w) for w in line.split()])
        return out

    order, asked = rows("PRECEDENCE RELATIONS"), rows("REQUESTS/DURATIONS")
    (there,) = rows("RESOURCEAVAILABILITIES")
    minutes = [row[2] for row in asked]
    lags = [(row[0] - 1, to - 1, minutes[row[0] - 1]) for row in order for to in row[3:]]
    return minutes, [row[3:] for row in asked], there, lags


def read_sch(text):
    rows = [[int(w.strip("[]")) for w in line.split()] for line in text.splitlines()
            if line.strip()]
    n = rows[0][0] + 2
    lags = []
    for i, row in enumerate(rows[1:n + 1]):
        count = row[2]
        lags += [(i, to, lag) for to, lag in zip(row[3:3 + count], row[3 + count:])]
    asked = rows[n + 1:2 * n + 1]
    return [row[2] for row in asked], [row[3:] for row in asked], rows[2 * n + 1], lags


def solve(path, within, workers):
    text = path.read_text()
    minutes, takes, there, lags = (read_sm if path.suffix.lower() == ".sm" else read_sch)(text)
    n = len(minutes)
    most = sum(max([minutes[i]] + [lag for a, _, lag in lags if a == i]) for i in range(n))
    model = cp_model.CpModel()
    starts = [model.new_int_var(0, most, "") for _ in range(n)]
    model.add(starts[0] == 0)
    spans = [model.new_fixed_size_interval_var(s, m, "") for s, m in zip(starts, minutes)]
    for a, b, lag in lags:
        model.add(starts[b] >= starts[a] + lag)
    for r, capacity in enumerate(there):
        used = [i for i in range(n) if takes[i][r] > 0]
        model.add_cumulative([spans[i] for i in used], [takes[i][r] for i in used], capacity)
    model.minimize(starts[n - 1])
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = workers
    solver.parameters.max_time_in_seconds = within
    status = solver.solve(model)
    found = status in (cp_model.OPTIMAL, cp_model.FEASIBLE)
    return {
        "file": path.name,
        "makespan": round(solver.objective_value) if found else None,
        "bound": round(solver.best_objective_bound) if status != cp_model.INFEASIBLE else None,
        "closed": status in (cp_model.OPTIMAL, cp_model.INFEASIBLE),
        "ms": round(solver.wall_time * 1e3, 1),
    }


def main():
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("files", nargs="+", type=Path)
    words.add_argument("--within", type=float, default=10.0)
    words.add_argument("--workers", type=int, default=1)
    args = words.parse_args()
    for path in args.files:
        print(json.dumps(solve(path, args.within, args.workers)), flush=True)


if __name__ == "__main__":
    main()
