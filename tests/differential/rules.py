"""Judges plans by the rules, read from `src/check/rules.md` and `assets/problem.md`
alone, and compares with what the checker said of them.

Reads from standard input what the example `plans` writes: a line with a problem, then a
line for each plan of it. Wherever one accepts what the other refuses, or they count
another outcome, that is a disagreement. A plan that was bent to break a rule must break
that rule here too."""

import json
import signal
import sys
from collections import Counter, defaultdict

from rules_kit import kit
from rules_ovens import ovens
from rules_people import people
from rules_whole import calls, ready, whole



class Judged:
    """A plan beside its problem: things by their number, and what is broken."""

    def __init__(self, problem, plan):
        self.problem, self.plan = problem, plan
        self.broken = set()
        self.groups = {g["number"]: g for g in problem["groups"]}
        self.ovens = {o["number"]: (i, o) for i, o in enumerate(problem["ovens"])}
        self.steps = defaultdict(list)
        self.loads = defaultdict(list)
        for step in plan["steps"]:
            self.steps[step["group"]].append(step)
        for load in plan["loads"]:
            self.loads[load["group"]].append(load)
        # Groups that are served: their way, and the placements of its tasks in order.
        self.ways, self.placed = {}, {}

    def want(self, rule, holds):
        """Notes that a rule is broken unless something holds."""
        if not holds:
            self.broken.add(rule)
        return holds


def judge(problem, plan):
    """Names of broken rules, and the outcome of a plan that breaks none."""
    judged = Judged(problem, plan)
    if not whole(judged):
        return judged.broken, None
    people(judged)
    kit(judged)
    ovens(judged)
    if judged.broken:
        return judged.broken, None
    times = {g: ready(judged, g) for g in judged.ways}
    periods = problem["periods"]
    lacking = [
        problem["wanted_spare"] - (periods[judged.groups[g]["period"]]["closing_start"] - at)
        for g, at in times.items()
    ]
    own = [at - periods[judged.groups[g]["period"]]["start"] for g, at in times.items()]
    return set(), [
        len(times), sum(way["departure"] for way in judged.ways.values()),
        max([0, *lacking]), calls(judged), max(own, default=0), sum(own),
    ]


def main():
    # Ctrl-C tells of what was judged so far.
    stopped = []
    signal.signal(signal.SIGINT, lambda *_: stopped.append(True))
    counts, wrong, problem = Counter(), 0, None
    for line in sys.stdin:
        if stopped:
            break
        read = json.loads(line)
        if "horizon" in read:
            problem = read
            counts["lessons"] += 1
            continue
        broken, aims = judge(problem, read)
        how = read["how"] or "planned"
        theirs = read["breaks"]
        counts[f"{'bent' if how not in ('planned', 'nudged') else how}, "
               f"{'accepted' if theirs is None else 'refused'}"] += 1
        why = None
        if (theirs is None) != (not broken):
            why = f"the checker says {theirs or 'accepted'}, this {sorted(broken) or 'accepted'}"
        elif theirs is None and aims != read["aims"]:
            why = f"the checker counts {read['aims']}, this {aims}"
        elif how in (theirs or ()) and how not in broken:
            why = f"{how} was bent; this says {sorted(broken)}"
        if why:
            wrong += 1
            if wrong <= 20:
                print(f"seed {read['seed']}, {how}: {why}", flush=True)
    plans = sum(n for name, n in counts.items() if name != "lessons")
    print(json.dumps(dict(counts) | {"plans": plans, "disagreements": wrong}))
    sys.exit(1 if wrong or not plans else 0)


if __name__ == "__main__":
    main()
