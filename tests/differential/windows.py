"""When the tasks of an option can start, by bells, locks and links."""

import json

from ortools.sat.python import cp_model

FAR = 2000  # minutes; nothing that matters lies further from the start bell


def windows(problem, group, option):
    """Earliest and latest start of each task of an option by bells, locks and
    links, or None if they contradict each other."""
    tasks = option["tasks"]
    low = [FAR * -1 if t["earliest"] is None else t["earliest"] for t in tasks]
    high = [FAR if t["latest"] is None else t["latest"] for t in tasks]
    arcs = []
    for link in all_links(option):
        a, b = link["from"], link["to"]
        minutes = tasks[a]["minutes"]
        arcs.append((a, b, minutes + link["least"]))
        if link["longest"] is not None and not tasks[a]["may_last_longer"]:
            arcs.append((b, a, -(minutes + link["longest"])))
    for _ in range(len(tasks) + 1):
        changed = False
        for a, b, least in arcs:
            if low[a] + least > low[b]:
                low[b], changed = low[a] + least, True
            if high[b] - least < high[a]:
                high[a], changed = high[b] - least, True
        if any(l > h for l, h in zip(low, high)):
            return None
        if not changed:
            return list(zip(low, high))
    return None


def all_links(option):
    """The links, with those of the bake, which leave no gap."""
    links = list(option["links"])
    bake = option["bake"]
    if bake:
        for a, b in ((bake["load"], bake["bake"]), (bake["bake"], bake["take_out"])):
            links.append({"from": a, "to": b, "least": 0, "longest": 0})
    return links


def way(option):
    """What options have in common that are one set of tasks to the model."""
    tasks = [
        {k: v for k, v in t.items() if k not in ("minutes", "earliest", "latest", "needs")}
        for t in option["tasks"]
    ]
    bake = option["bake"] and [option["bake"][k] for k in ("load", "bake", "take_out")]
    return json.dumps([option["method"], tasks, all_links(option), bake], sort_keys=True)


def outside(forbidden, minutes):
    """Starts at which a task of that length overlaps none of the stretches."""
    domain = cp_model.Domain(-FAR, FAR)
    for start, end in forbidden:
        if minutes > 0 and start < end:
            bad = cp_model.Domain(start - minutes + 1, end - 1)
            domain = domain.intersection_with(bad.complement())
    return domain


def merged(stretches):
    """Stretches that do not overlap or touch."""
    out = []
    for start, end in sorted(stretches):
        if out and start <= out[-1][1]:
            out[-1][1] = max(out[-1][1], end)
        else:
            out.append([start, end])
    return out
