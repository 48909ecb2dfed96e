"""Who is served and how; each task once, with its minutes, in its order and time."""

from collections import Counter


def whole(judged):
    """Whether the plan speaks of what is there, so that the rest can be judged."""
    plan, groups = judged.plan, judged.groups
    known = all(
        of["group"] in groups for name in ("choices", "steps", "loads", "uses")
        for of in plan[name])
    known &= all(
        of["oven"] in judged.ovens for name in ("loads", "settings", "door_watches")
        for of in plan[name])
    if not judged.want("whole-group", known):
        return False
    chosen = Counter(c["group"] for c in plan["choices"])
    left = Counter(g for g in plan["not_served"] if g in groups)
    if not judged.want("whole-group", all(chosen[g] + left[g] == 1 for g in groups)):
        return False
    for name in ("steps", "loads", "uses"):
        judged.want("whole-group", all(of["group"] in chosen for of in plan[name]))
    for choice in plan["choices"]:
        if not chosen_way(judged, choice):
            return False
    return True


def chosen_way(judged, choice):
    """Finds the way that a group goes, by its method, its tin and its heat."""
    number = choice["group"]
    options = [
        o for o in judged.groups[number]["options"]
        if (o["method"], o["tin"]) == (choice["method"], choice["tin"])]
    if not judged.want("tin", options):
        return False
    celsius = {load["celsius"] for load in judged.loads[number]}
    heats = judged.problem["heats"]
    hot = [o for o in options if not o["bake"] or {heats[o["bake"]["heat"]]} == celsius]
    if options[0]["bake"] and celsius:
        judged.want("temperature", hot)
    judged.ways[number] = way = (hot or options)[0]
    tasks = way["tasks"]
    found = Counter(step["step"] for step in judged.steps[number])
    if not judged.want("whole-group", found == Counter(range(1, len(tasks) + 1))):
        return False
    placed = sorted(judged.steps[number], key=lambda step: step["step"])
    judged.placed[number] = placed
    timed(judged, judged.groups[number], way, placed)
    return True


def timed(judged, group, way, placed):
    """The minutes of a group's tasks, their order, and bells and locks."""
    period = judged.problem["periods"][group["period"]]
    for task, step in zip(way["tasks"], placed):
        start, end, lasts = step["start"], step["end"], step["end"] - step["start"]
        if task["may_last_longer"]:
            judged.want("cool-enough", lasts >= task["minutes"])
        else:
            judged.want("bake-time" if task["kind"] == "bake" else "whole-group",
                        lasts == task["minutes"])
        if task["when"] == "lesson":
            if task["hands"]:
                judged.want("period", period["opening_end"] <= start)
                judged.want("period", end <= period["closing_start"])
            judged.want("bell", end <= period["closing_start"])
        elif task["when"] == "beforehand":
            judged.want("period", end <= period["start"])
        elif task["hands"]:
            judged.want("period", start >= period["end"])
        # What the bells leave open, locks may not.
        judged.want("locked", task["earliest"] is None or start >= task["earliest"])
        judged.want("locked", task["latest"] is None or end <= task["latest"] + task["minutes"])
    links = list(way["links"])
    if way["bake"]:
        load, bake, out = (way["bake"][name] for name in ("load", "bake", "take_out"))
        links += [{"from": a, "to": b, "least": 0, "longest": 0} for a, b in
                  ((load, bake), (bake, out))]
    for link in links:
        gap = placed[link["to"]]["start"] - placed[link["from"]]["end"]
        judged.want("order", gap >= link["least"])
        judged.want("order", link["longest"] is None or gap <= link["longest"])


def ready(judged, number):
    """When a group is ready, from the first start bell."""
    tasks = judged.ways[number]["tasks"]
    ends = [step["end"] for task, step in zip(tasks, judged.placed[number])
            if task["when"] != "collected"]
    period = judged.problem["periods"][judged.groups[number]["period"]]
    return max(ends, default=period["start"])


def calls(judged):
    """The least number of stretches of a call that cover all minutes of loading."""
    minutes = set()
    for number, way in judged.ways.items():
        if way["bake"]:
            load = judged.placed[number][way["bake"]["load"]]
            minutes.update(range(load["start"], load["end"]))
    count, until = 0, None
    for minute in sorted(minutes):
        if until is None or minute >= until:
            count, until = count + 1, minute + max(judged.problem["call"], 1)
    return count
