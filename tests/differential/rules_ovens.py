"""Ovens: their heat, tins on their shelves, their doors."""

from collections import defaultdict

from rules_people import openings, overlap, span


def ovens(judged):
    by_oven = defaultdict(list)
    for number, way in judged.ways.items():
        mine = judged.loads[number]
        bake = way["bake"]
        if not bake:
            judged.want("one-oven", not mine)
            continue
        judged.want("one-oven", sorted(l["number"] for l in mine) == list(range(bake["tins"])))
        placed = judged.placed[number]
        stay = placed[bake["load"]]["start"], placed[bake["take_out"]]["end"]
        group = judged.groups[number]
        for load in mine:
            place, oven = judged.ovens[load["oven"]]
            judged.want("one-oven", place in group["ovens"] and span(load) == stay)
            judged.want("one-oven", load["end"] <= oven.get("out_from", load["end"]))
            judged.want("locked", group["shelf"] in (None, load["shelf"] - 1))
            by_oven[load["oven"]].append((load, number, bake))
    for number, loads in by_oven.items():
        shelves(judged, judged.ovens[number][1], loads)
        apart(judged, loads)
        doors(judged, number, loads)
    settings(judged)


def settings(judged):
    heats = judged.problem["heats"]
    by_oven = defaultdict(list)
    for setting in judged.plan["settings"]:
        by_oven[setting["oven"]].append(setting)
    for number, mine in by_oven.items():
        oven = judged.ovens[number][1]
        mine.sort(key=lambda s: s["set_at"])
        before, free_from = len(heats), oven["on_from"]
        for setting in mine:
            if not judged.want("temperature", setting["celsius"] in heats):
                continue
            heat = heats.index(setting["celsius"])
            judged.want("warm-up", setting["set_at"] >= free_from)
            changes = oven["changes"][before][heat]
            judged.want("warm-up", setting["hot_from"] - setting["set_at"] >= changes)
            judged.want("warm-up", setting["until"] >= setting["hot_from"])
            before, free_from = heat, setting["until"]
    for load in judged.plan["loads"]:
        judged.want("temperature", any(
            s["celsius"] == load["celsius"] and s["hot_from"] <= load["start"]
            and load["end"] <= s["until"] for s in by_oven[load["oven"]]))


def shape(load, bake):
    """A circle (its middle and radius) or a rectangle (its edges), in hundredths of a
    millimetre."""
    long, wide = (100 * side for side in bake["rim"])
    place = load["place"]
    if "centre" in place:
        x, y = place["centre"]
        if bake.get("round"):
            return "circle", x, y, long / 2
        return "box", x - long / 2, x + long / 2, y - wide / 2, y + wide / 2
    x, y = place["corner"]
    if bake.get("round"):
        return "circle", x + long / 2, y + long / 2, long / 2
    across, deep = (wide, long) if place["turned"] else (long, wide)
    return "box", x, x + across, y, y + deep


def edges(of):
    if of[0] == "box":
        return of[1:]
    _, x, y, r = of
    return x - r, x + r, y - r, y + r


def far_enough(a, b, gap):
    if a[0] == b[0] == "box":
        _, al, ar, af, ab = a
        _, bl, br, bf, bb = b
        return al - br >= gap or bl - ar >= gap or af - bb >= gap or bf - ab >= gap
    if a[0] == b[0]:
        return (a[1] - b[1]) ** 2 + (a[2] - b[2]) ** 2 >= (a[3] + b[3] + gap) ** 2
    circle, box = (a, b) if a[0] == "circle" else (b, a)
    _, x, y, r = circle
    _, left, right, front, back = box
    dx, dy = max(left - x, 0, x - right), max(front - y, 0, y - back)
    return dx * dx + dy * dy >= (r + gap) ** 2


def shelves(judged, oven, loads):
    standing = defaultdict(list)
    for load, _, bake in loads:
        if not judged.want("shelf", 1 <= load["shelf"] <= len(oven["shelves"])):
            continue
        shelf = oven["shelves"][load["shelf"] - 1]
        judged.want("shelf", bake["height"] <= shelf["clear"])
        tin = shape(load, bake)
        left, right, front, back = edges(tin)
        judged.want("shelf", left >= 0 and right <= 100 * shelf["width"])
        judged.want("shelf", front >= 0 and back <= 100 * shelf["depth"])
        for other, stay in standing[load["shelf"]]:
            if overlap(span(load), stay):
                judged.want("shelf", far_enough(tin, other, 100 * shelf["gap"]))
        standing[load["shelf"]].append((tin, span(load)))


def apart(judged, loads):
    for i, (load, number, _) in enumerate(loads):
        for other, their, _ in loads[:i]:
            if number != their and overlap(span(load), span(other)):
                kept = (judged.groups[g]["keep_apart"] for g in (number, their))
                judged.want("keep-apart", not any(kept))


def doors(judged, oven, loads):
    """Doors of delicate bakes stay shut for their minutes."""
    opened = {minute for of, minute in openings(judged) if of == oven}
    for number in {number for _, number, _ in loads}:
        bake = judged.ways[number]["bake"]
        if bake["shut"] is None:
            continue
        load = judged.placed[number][bake["load"]]
        start = max(load["start"] + judged.problem["call"], load["end"])
        judged.want("door", opened.isdisjoint(range(start, load["end"] + bake["shut"])))
