"""Pupils, the class's own steps, and adults."""

from collections import Counter, defaultdict


def overlap(a, b):
    """Whether two stretches share a minute."""
    return max(a[0], b[0]) < min(a[1], b[1])


def span(of):
    return of["start"], of["end"]


def people(judged):
    busy = defaultdict(Counter)  # by adult's number: minutes and how often
    pupils(judged)
    class_steps(judged, busy)
    with_adults(judged, busy)
    watches(judged, busy)
    there(judged, busy)


def pupils(judged):
    for number, placed in judged.placed.items():
        group = judged.groups[number]
        doing = defaultdict(list)
        for task, step in zip(judged.ways[number]["tasks"], placed):
            named = step["pupils"]
            wanted = task["pupils"] if task["when"] == "lesson" else 0
            judged.want("pupils", len(named) == wanted == len(set(named)))
            judged.want("pupils", all(0 <= p < group["pupils"] for p in named))
            for pupil in named:
                judged.want("pupils", not any(overlap(span(step), o) for o in doing[pupil]))
                doing[pupil].append(span(step))


def class_steps(judged, busy):
    problem, placed = judged.problem, judged.plan["class_steps"]
    wanted = {(s["period"], s["number"]): s for s in problem["class_steps"]}
    names = Counter((p["period"], p["number"]) for p in placed)
    judged.want("class-step", names == Counter(wanted.keys()))
    of_period = defaultdict(list)
    for one in placed:
        step = wanted.get((one["period"], one["number"]))
        if step is None:
            continue
        judged.want("class-step", one["end"] - one["start"] == step["minutes"])
        judged.want("class-step", step["earliest"] <= one["start"] <= step["latest"])
        judged.want("class-step",
                    not any(overlap(span(one), o) for o in of_period[one["period"]]))
        of_period[one["period"]].append(span(one))
        # Of those whose time is fixed, the adults are taken already.
        if step["earliest"] != step["latest"]:
            for pool in step["adults"]:
                busy[problem["pools"][pool]["number"]].update(range(*span(one)))
    for number, steps in judged.placed.items():
        period = judged.groups[number]["period"]
        for task, step in zip(judged.ways[number]["tasks"], steps):
            if task["hands"] and task["when"] == "lesson":
                judged.want("class-step",
                            not any(overlap(span(step), o) for o in of_period[period]))


def is_near(judged, group, start, end):
    stretches = judged.problem["adult_near"][group["room"]]
    return all(any(a <= minute < b for a, b in stretches) for minute in range(start, end))


def with_adults(judged, busy):
    pools = judged.problem["pools"]
    for number, placed in judged.placed.items():
        group = judged.groups[number]
        may = {pools[pool]["number"] for pool in group["adults"]}
        for task, step in zip(judged.ways[number]["tasks"], placed):
            asks = task["with_adult"] and task["when"] == "lesson"
            judged.want("adults", step["adult"] in may if asks else step["adult"] is None)
            if step["adult"] is not None:
                busy[step["adult"]].update(range(*span(step)))
            if task["adult_near"] and task["when"] == "lesson":
                judged.want("adults", is_near(judged, group, *span(step)))


def openings(judged):
    """By oven and minute in which its door is open: the groups and how many tins each
    moves."""
    out = defaultdict(dict)
    for number, way in judged.ways.items():
        if not way["bake"]:
            continue
        tins = Counter(load["oven"] for load in judged.loads[number])
        for name in ("load", "take_out"):
            step = judged.placed[number][way["bake"][name]]
            lasts = step["end"] - step["start"]
            for oven, count in tins.items():
                for minute in range(*span(step)):
                    out[oven, minute][number] = -(-count // lasts)
    return out


def watches(judged, busy):
    """Those who stand at open doors, and no more moved than may be."""
    problem = judged.problem
    adults = {p["number"]: p for p in problem["pools"] if p["kind"] == "adult"}
    at = defaultdict(list)
    for watch in judged.plan["door_watches"]:
        at[watch["oven"], watch["minute"]].append(watch["adult"])
        busy[watch["adult"]][watch["minute"]] += 1
    opened = openings(judged)
    for (oven, minute), moving in opened.items():
        judged.want("door-hands", sum(moving.values()) <= problem["tins_per_opening"])
        if problem["adult_at_doors"]:
            judged.want("door-hands", at[oven, minute])
    for (oven, minute), those in at.items():
        moving, place = opened.get((oven, minute), {}), judged.ovens[oven][0]
        fit = all(may_stand(judged, adults[adult], place, moving) for adult in those)
        judged.want("door-hands", fit and moving and len(set(those)) == len(those))


def may_stand(judged, adult, place, moving):
    only = adult.get("only_for")
    mine = None if only is None else {judged.problem["groups"][g]["number"] for g in only}
    return place in adult["doors"] and (mine is None or bool(mine & moving.keys()))


def there(judged, busy):
    """No adult is in two places, or where they are not there at all."""
    horizon = judged.problem["horizon"]
    for pool in judged.problem["pools"]:
        if pool["kind"] != "adult":
            continue
        for minute, times in busy[pool["number"]].items():
            away = any(a <= minute < b for a, b in pool["taken"])
            free = 0 <= minute < horizon and not away and pool["count"] > 0
            judged.want("adults", free and times == 1)
