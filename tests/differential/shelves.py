"""Which sets of tins fit on the shelves of an oven together, and where.

Exact for tins that stand there in one minute. Tins that come and go may need
to be moved for a set to fit; `stand` looks for places that never need it.
"""

from functools import lru_cache
from itertools import combinations

from ortools.sat.python import cp_model


def fits_at_all(rim, shelf):
    """Whether one tin with that rim fits on the empty shelf."""
    width, depth = shelf[0], shelf[1]
    return (rim[0] <= width and rim[1] <= depth) or (rim[1] <= width and rim[0] <= depth)


def corner_sums(rims, room, gap):
    """Where an edge can lie once everything is pushed left or to the front."""
    sums = {0}
    for rim in rims:
        sums |= {s + side + gap for s in sums for side in rim if s + side + gap < room + gap}
    return sorted(s for s in sums if s < room)


@lru_cache(maxsize=None)
def packing(rims, shelf):
    """Places `(x, y, turned)` of tins with those rims on one shelf
    `(width, depth, gap)`, or None if they do not fit. Rims are a sorted tuple."""
    width, depth, gap = shelf
    if sum((a + gap) * (b + gap) for a, b in rims) > (width + gap) * (depth + gap):
        return None
    if not all(fits_at_all(rim, shelf) for rim in rims):
        return None
    if len(rims) == 1:
        (a, b), = rims
        return ((0, 0, not (a <= width and b <= depth)),)
    model = cp_model.CpModel()
    across, along, turned = [], [], []
    xs = cp_model.Domain.from_values(corner_sums(rims, width, gap))
    ys = cp_model.Domain.from_values(corner_sums(rims, depth, gap))
    for i, (a, b) in enumerate(rims):
        x, y = model.new_int_var_from_domain(xs, ""), model.new_int_var_from_domain(ys, "")
        turn = model.new_bool_var("")
        if a == b:
            model.add(turn == 0)
        w, d = a + (b - a) * turn, b + (a - b) * turn
        model.add(x + w <= width)
        model.add(y + d <= depth)
        right, back = model.new_int_var(0, width + gap, ""), model.new_int_var(0, depth + gap, "")
        model.add(right == x + w + gap)
        model.add(back == y + d + gap)
        across.append((x, w + gap, right))
        along.append((y, d + gap, back))
        turned.append(turn)
        if i and rims[i - 1] == rims[i]:
            before = across[i - 1][0] * 10_000 + along[i - 1][0]
            model.add(before <= x * 10_000 + y)
    boxes = [
        [model.new_interval_var(start, size, end, "") for start, size, end in side]
        for side in (across, along)
    ]
    model.add_no_overlap_2d(*boxes)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    if solver.solve(model) not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return None
    return tuple(
        (solver.value(x[0]), solver.value(y[0]), bool(solver.value(t)))
        for x, y, t in zip(across, along, turned)
    )


def of_kind(counts, rims):
    """A sorted tuple of rims from counts by kind."""
    return tuple(sorted(rim for n, rim in zip(counts, rims) for _ in range(n)))


@lru_cache(maxsize=None)
def shelf_sets(rims, allowed, most, shelf):
    """All count vectors by kind that fit on one shelf. `allowed` says which
    kinds may stand there at all, `most` how many there are of each."""
    found = set()
    frontier = [tuple(0 for _ in rims)]
    while frontier:
        counts = frontier.pop()
        if counts in found:
            continue
        total = of_kind(counts, rims)
        if total and packing(total, shelf) is None:
            continue
        found.add(counts)
        for k in range(len(rims)):
            if allowed[k] and counts[k] < most[k]:
                frontier.append(counts[:k] + (counts[k] + 1,) + counts[k + 1:])
    return frozenset(found)


def maximal(sets):
    """The vectors no other one contains."""
    ordered = sorted(sets, key=sum, reverse=True)
    kept = []
    for v in ordered:
        if not any(all(a <= b for a, b in zip(v, u)) for u in kept):
            kept.append(v)
    return kept


def oven_sets(rims, allowed_by_shelf, most, shelves):
    """The maximal count vectors by kind that an oven holds, over all ways of
    sharing them out to its shelves."""
    total = {tuple(0 for _ in rims)}
    for shelf, allowed in zip(shelves, allowed_by_shelf):
        more = maximal(shelf_sets(rims, allowed, most, shelf))
        total = {
            tuple(min(a + b, m) for a, b, m in zip(u, v, most)) for u in total for v in more
        }
        total = set(maximal(total))
    return maximal(total)


def stand(tins, shelves, seconds=10.0):
    """A shelf and a place for each tin of an oven: `tins` are
    `(rim, height, only_shelf, start, end)`, `shelves` `(width, depth, gap,
    clear)`. None if there is none, or none was found in the time."""
    if not tins:
        return []
    model = cp_model.CpModel()
    spots = []
    for rim, height, only, _, _ in tins:
        a, b = rim
        on = []
        for s, (width, depth, gap, clear) in enumerate(shelves):
            lit = model.new_bool_var("")
            if height > clear or (only is not None and only != s):
                model.add(lit == 0)
            on.append(lit)
        model.add_exactly_one(on)
        x, y = model.new_int_var(0, 5000, ""), model.new_int_var(0, 5000, "")
        turn = model.new_bool_var("")
        w, d = a + (b - a) * turn, b + (a - b) * turn
        for lit, (width, depth, _, _) in zip(on, shelves):
            model.add(x + w <= width).only_enforce_if(lit)
            model.add(y + d <= depth).only_enforce_if(lit)
        spots.append((on, x, y, w, d, turn))
    for i, j in combinations(range(len(tins)), 2):
        if tins[i][3] >= tins[j][4] or tins[j][3] >= tins[i][4]:
            continue
        for s, shelf in enumerate(shelves):
            gap, sides = shelf[2], []
            for p, q in ((i, j), (j, i)):
                for axis, size in ((1, 3), (2, 4)):
                    lit = model.new_bool_var("")
                    model.add(
                        spots[p][axis] + spots[p][size] + gap <= spots[q][axis]
                    ).only_enforce_if(lit)
                    sides.append(lit)
            model.add_bool_or([spots[i][0][s].negated(), spots[j][0][s].negated(), *sides])
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.max_time_in_seconds = seconds
    if solver.solve(model) not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return None
    return [
        (
            next(s for s, lit in enumerate(on) if solver.value(lit)),
            solver.value(x),
            solver.value(y),
            bool(solver.value(turn)),
        )
        for on, x, y, _, _, turn in spots
    ]
