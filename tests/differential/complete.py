"""A solution of the model as a plan file, everything in it named: pupils,
items, shelves and spots. The checker then judges it as any other plan."""

import shelves


def text(value):
    """A value as the plan file wants it."""
    if value is True:
        return "true"
    if value is False:
        return "false"
    if isinstance(value, str):
        return '"' + value.replace("\\", "\\\\").replace('"', '\\"') + '"'
    if isinstance(value, dict):
        return "(" + ", ".join(f"{k}: {text(v)}" for k, v in value.items()) + ")"
    if isinstance(value, (list, tuple)):
        return "[" + ", ".join(text(v) for v in value) + "]"
    if value in ENUMS:
        return value.name
    return repr(value)


class Enum:
    """A name without quotes."""

    def __init__(self, name):
        self.name = name


NOT_FOUND = Enum("NotFound")
ENUMS = [NOT_FOUND]


def called(number):
    return f"#{number}"


def plan(problem, solution):
    """The text of a plan file, or None with the reason if tins found no place
    on the shelves although they fit in number."""
    file = {"format": 1, "choices": [], "class_steps": [], "steps": [], "settings": [],
            "loads": [], "uses": [], "door_watches": [], "not_served": []}
    for step, start in zip(problem["class_steps"], solution.class_starts):
        file["class_steps"].append({
            "period": called(step["period"] + 1), "step": called(step["number"]),
            "start": start, "end": start + step["minutes"]})
    for group, of in zip(problem["groups"], solution.groups):
        name = called(group["number"])
        if of is None:
            file["not_served"].append({"group": name, "refusal": NOT_FOUND})
            continue
        option = group["options"][of["option"]]
        choice = {"group": name, "method": called(option["method"])}
        if option["tin"] is not None:
            choice["tin"] = called(option["tin"])
        file["choices"].append(choice)
        file["steps"] += steps(problem, group, option, of)
    stays = in_ovens(problem, solution)
    file["settings"] = settings(problem, stays)
    standing = loads(problem, stays)
    if standing is None:
        return None, "tins that come and go found no lasting places on a shelf"
    file["loads"] = standing
    file["uses"] = uses(problem, solution)
    file["door_watches"] = watches(problem, solution, stays)
    return text(file), None


def steps(problem, group, option, of):
    placed = []
    free_from = [-10_000] * group["pupils"]
    for t in sorted(range(len(option["tasks"])), key=lambda t: of["starts"][t]):
        task, start, end = option["tasks"][t], of["starts"][t], of["ends"][t]
        pupils = [p for p in range(len(free_from)) if free_from[p] <= start][: task["pupils"]]
        for p in pupils:
            free_from[p] = end
        step = {"group": called(group["number"]), "step": called(t + 1), "start": start,
                "end": end, "pupils": [p + 1 for p in pupils]}
        if t in of["adults"]:
            adult = problem["pools"][of["adults"][t]]["number"]
            step["adult"] = called(adult)
        placed.append(step)
    return placed


def in_ovens(problem, solution):
    """Stays by oven: start, end, group, heat, tins, and the openings."""
    stays = [[] for _ in problem["ovens"]]
    for group, of in zip(problem["groups"], solution.groups):
        option = of and group["options"][of["option"]]
        if not of or not option["bake"]:
            continue
        bake = option["bake"]
        load, out = bake["load"], bake["take_out"]
        number = 1
        for o, tins in sorted(of["tins"].items()):
            stays[o].append({
                "start": of["starts"][load], "end": of["ends"][out], "group": group,
                "bake": bake, "numbers": list(range(number, number + tins)),
                "open": [(of["starts"][t], of["ends"][t]) for t in (load, out)]})
            number += tins
    return stays


def settings(problem, stays):
    out = []
    for oven, mine in zip(problem["ovens"], stays):
        runs, before = [], len(problem["heats"])
        for stay in sorted(mine, key=lambda s: (s["start"], s["end"])):
            heat = stay["bake"]["heat"]
            if runs and runs[-1][2] == heat:
                runs[-1][1] = max(runs[-1][1], stay["end"])
            else:
                runs.append([stay["start"], stay["end"], heat])
        for start, end, heat in runs:
            out.append({"oven": called(oven["number"]), "celsius": problem["heats"][heat],
                        "set_at": start - oven["changes"][before][heat], "hot_from": start,
                        "until": end})
            before = heat
    return out


def loads(problem, stays):
    out = []
    for oven, mine in zip(problem["ovens"], stays):
        tins = [
            (shelves.rim_of(s["bake"]), s["bake"]["height"], s["group"]["shelf"], s["start"],
             s["end"])
            for s in mine for _ in s["numbers"]
        ]
        spaces = [(s["width"], s["depth"], s["gap"], s["clear"]) for s in oven["shelves"]]
        places = shelves.stand(tins, spaces)
        if places is None:
            return None
        owners = [(s, n) for s in mine for n in s["numbers"]]
        for (stay, number), (shelf, x, y, turned) in zip(owners, places):
            out.append({
                "group": called(stay["group"]["number"]), "number": number,
                "oven": called(oven["number"]), "shelf": shelf + 1, "start": stay["start"],
                "end": stay["end"], "celsius": problem["heats"][stay["bake"]["heat"]],
                "x_mm": x, "y_mm": y, "turned": turned})
    return out


def uses(problem, solution):
    """Items by the start of their stretch, each the lowest that is free; those
    of a group kept apart are kept for it from the start of the lesson."""
    blocks = []
    for group, of in zip(problem["groups"], solution.groups):
        if of is None:
            continue
        slots = {}
        for use in of["uses"]:
            spans = [(use["start"], use["end"], use["count"])]
            if use["slot"] is None:
                if use["start"] < use["end"]:
                    blocks.append([use["pool"], use["start"], use["end"], use["count"], group, spans])
            else:
                slot = slots.setdefault(
                    (use["pool"], use["slot"]), [use["pool"], 0, 0, 1, group, []])
                slot[2] = max(slot[2], use["end"])
                slot[5] += spans
        blocks += slots.values()
    free_from = [[-10_000] * min(pool["count"], 10_000) for pool in problem["pools"]]
    out = []
    for pool, start, end, count, group, spans in sorted(blocks, key=lambda b: b[:4]):
        items = [i for i, free in enumerate(free_from[pool]) if free <= start][:count]
        for i in items:
            free_from[pool][i] = end
        of = problem["pools"][pool]
        for start_, end_, n in spans:
            out.append({"group": called(group["number"]), of["kind"] if of["kind"] == "tin" else
                        "kit": called(of["number"]), "items": [i + 1 for i in items[:n]],
                        "start": start_, "end": end_})
    return out


def watches(problem, solution, stays):
    """One adult for each minute in which a door is open."""
    out, seen = [], set()
    for o, t, a in sorted(solution.watches):
        is_open = any(f <= t < u for s in stays[o] for f, u in s["open"])
        if is_open and (o, t) not in seen:
            seen.add((o, t))
            out.append({"oven": called(problem["ovens"][o]["number"]), "minute": t,
                        "adult": called(problem["pools"][a]["number"])})
    return out
