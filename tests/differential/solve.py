"""Solves the model aim by aim.

Two things can be done in more than one way, and both ways are kept to find
out which is faster: ovens by the tins that are in when one goes in (`pair`)
or, besides, by cumulatives over the stays (`cumulative`); and the aims one
after the other (`staged`) or as one weighted sum (`weighted`).
"""

import time

from ortools.sat.python import cp_model

from model import Built


class Watch(cp_model.CpSolverSolutionCallback):
    """Notes when which values were reached, on the solver's own clock."""

    def __init__(self, built, before):
        super().__init__()
        self.built, self.before, self.seen = built, before, []

    def on_solution_callback(self):
        b = self.built
        values = (self.value(b.served), self.value(b.departures), self.value(b.shortfall))
        self.seen.append((self.before + self.wall_time, values))


def solve(problem, variant="pair-staged", workers=2, seconds=60.0, seed=0, presolve=True):
    """Solves aim by aim. Returns values, bounds, which are proved, and times."""
    begun = time.perf_counter()
    built = Built(problem, cumulative=variant.startswith("cumulative"))
    answer = {
        "build_seconds": time.perf_counter() - begun, "relaxed": built.relaxed,
        "values": None, "proved": [], "bounds": [], "seconds": 0.0, "seen": [],
    }
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = workers
    solver.parameters.random_seed = seed
    solver.parameters.cp_model_presolve = presolve
    model, groups = built.model, len(built.groups)
    if variant.endswith("weighted"):
        most_departures = sum(max((o["departure"] for o in of.group["options"]), default=0)
                              for of in built.groups)
        late = problem["wanted_spare"] + problem["horizon"] + 1
        weight = (late, late * (most_departures + 1))
        goal = built.shortfall + weight[0] * built.departures \
            + weight[1] * (groups - built.served)
        stages = [("min", goal)]
    else:
        stages = [("max", built.served), ("min", built.departures), ("min", built.shortfall)]
    built.values = None
    for n, (sense, aim) in enumerate(stages):
        left = seconds - answer["seconds"]
        if left <= 0:
            break
        solver.parameters.max_time_in_seconds = left
        model.clear_objective()
        (model.maximize if sense == "max" else model.minimize)(aim)
        watch = Watch(built, answer["seconds"])
        status = solver.solve(model, watch)
        answer["seconds"] += solver.wall_time
        answer["seen"] += watch.seen
        if status == cp_model.INFEASIBLE:
            answer["proved"].append(True)
            answer["infeasible"] = True
            break
        if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            break
        built.solution = Solution(built, solver)
        answer["values"] = built.solution.values
        done = status == cp_model.OPTIMAL
        answer["bounds"].append(solver.best_objective_bound)
        if len(stages) == 1:
            answer["proved"] = [done] * 3
            break
        answer["proved"].append(done)
        if not done:
            break
        if n + 1 < len(stages):
            value = round(solver.objective_value)
            model.add(aim == value)
            model.clear_hints()
            for i in range(len(model.proto.variables)):
                model.proto.solution_hint.vars.append(i)
                model.proto.solution_hint.values.append(solver.response_proto.solution[i])
    built.answer = answer
    return built, answer


class Solution:
    """The values of one solution, kept apart from the solver."""

    def __init__(self, built, solver):
        v = solver.value
        self.values = (v(built.served), v(built.departures), v(built.shortfall))
        self.class_starts = [v(s) for s in built.class_starts]
        self.groups = []
        for g, of in enumerate(built.groups):
            options = [k for k, lit in enumerate(of.option) if v(lit)]
            if not options:
                self.groups.append(None)
                continue
            (made,) = [w for w in of.ways if v(w.lit)]
            uses = [
                {"pool": pool, "count": v(n), "start": v(use["start"]), "end": v(use["end"]),
                 "slot": None}
                for use in of.kit if v(use["lit"]) for pool, n in use["from"] if v(n)
            ]
            uses += [
                {"pool": pool, "count": 1, "start": v(use["start"]), "end": v(use["end"]),
                 "slot": k}
                for pool, k, lit, use in of.slots if v(lit)
            ]
            self.groups.append({
                "option": options[0],
                "starts": [v(s) for s in made.start],
                "ends": [v(e) for e in made.end],
                "adults": {t: next(a for a, lit in lits if v(lit))
                           for t, lits in made.adults.items()},
                "tins": {o: v(built.tins[g, o]) for o in of.group["ovens"]
                         if (g, o) in built.tins and v(built.tins[g, o])},
                "uses": uses,
            })
        self.watches = [k for k, lit in getattr(built, "watches", {}).items() if v(lit)]
