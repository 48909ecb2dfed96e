"""Which sets of tins fit on the shelves of an oven together, and where.

Exact for tins that stand there in one minute, if none is round. Tins that come
and go may need to be moved for a set to fit; `stand` looks for places that never
need it.

A rim is two sides, or of a round tin its diameter alone. Round tins stand on a
grid of tenths of a millimetre; a set of which some are round counts as fitting
if it does with a little less air, or if that was not found out in time.
"""

from functools import lru_cache
from itertools import combinations

from ortools.sat.python import cp_model


TENTHS = 10
# Less air, in tenths, that a set of tins counts as fitting with: more than what
# a grid of tenths can be off by.
LENIENT = 3


def rim_of(bake):
    """The rim of an exported bake."""
    rim = bake["rim"]
    return (rim[0],) if bake.get("round") else tuple(rim)


def is_round(rim):
    return len(rim) == 1


def sides(rim):
    """Both sides of the rectangle round a rim."""
    return (rim[0], rim[-1])


class Spot:
    """Where a tin stands, in tenths of a millimetre: its left front corner."""

    def __init__(self, model, rim, most):
        a, b = (TENTHS * side for side in sides(rim))
        self.rim, self.a, self.b = rim, a, b
        self.x, self.y = model.new_int_var(0, most, ""), model.new_int_var(0, most, "")
        self.turn = model.new_bool_var("")
        if a == b:
            model.add(self.turn == 0)
        self.w, self.d = a + (b - a) * self.turn, b + (a - b) * self.turn


def squares(model, terms, most):
    """The sum of the squares of some terms."""
    total = 0
    for term in terms:
        value = model.new_int_var(-most, most, "")
        model.add(value == term)
        square = model.new_int_var(0, most * most, "")
        model.add_multiplication_equality(square, [value, value])
        total += square
    return total


def beyond(model, low, at, high, most):
    """How far a point is outside a stretch."""
    value = model.new_int_var(0, most, "")
    model.add_max_equality(value, [low - at, at - high, 0])
    return value


def keep_apart(model, p, q, gap, most, when=()):
    """Two spots are so many tenths apart, if all of `when` is so."""
    if is_round(p.rim) and is_round(q.rim):
        terms = [p.x + p.a // 2 - q.x - q.a // 2, p.y + p.b // 2 - q.y - q.b // 2]
        least = p.a // 2 + q.a // 2 + gap
    elif is_round(p.rim) or is_round(q.rim):
        circle, box = (p, q) if is_round(p.rim) else (q, p)
        r = circle.a // 2
        terms = [
            beyond(model, box.x, circle.x + r, box.x + box.w, most),
            beyond(model, box.y, circle.y + r, box.y + box.d, most),
        ]
        least = r + gap
    else:
        lits = []
        for first, then in ((p, q), (q, p)):
            for axis, size in (("x", "w"), ("y", "d")):
                lit = model.new_bool_var("")
                model.add(
                    getattr(first, axis) + getattr(first, size) + gap <= getattr(then, axis)
                ).only_enforce_if(lit)
                lits.append(lit)
        model.add_bool_or([*(w.negated() for w in when), *lits])
        return
    model.add(squares(model, terms, most) >= least * least).only_enforce_if(list(when))


# Seconds that the searches for places of round tins of a lesson may take together:
# where it has many kinds of them, there are thousands of sets.
ROUND_SECONDS = 60.0
spent = 0.0


def round_packing(rims, shelf, seconds=1.0):
    """Whether tins of which some are round fit on one shelf with a little less
    air, for all that is known in the time. Once all time is spent they do, as far
    as is known: what is found outside is then no worse than the best there is."""
    global spent
    if spent >= ROUND_SECONDS:
        return True
    width, depth, gap = (TENTHS * n for n in shelf)
    most = max(width, depth)
    model = cp_model.CpModel()
    spots = [Spot(model, rim, most) for rim in rims]
    for spot in spots:
        model.add(spot.x + spot.w <= width)
        model.add(spot.y + spot.d <= depth)
    for i, j in combinations(range(len(spots)), 2):
        keep_apart(model, spots[i], spots[j], gap - LENIENT, most)
        if j == i + 1 and rims[i] == rims[j]:
            model.add(spots[i].x <= spots[j].x)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.max_time_in_seconds = seconds
    status = solver.solve(model)
    spent += solver.wall_time
    return status != cp_model.INFEASIBLE


def fits_at_all(rim, shelf):
    """Whether one tin with that rim fits on the empty shelf."""
    width, depth = shelf[0], shelf[1]
    if is_round(rim):
        return rim[0] <= min(width, depth)
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
    if any(is_round(rim) for rim in rims):
        if not all(fits_at_all(rim, shelf) for rim in rims):
            return None
        area = sum(
            0.785398 * (rim[0] + gap) ** 2 if is_round(rim) else rim[0] * rim[1] for rim in rims
        )
        if area > (width + gap) * (depth + gap):
            return None
        return () if len(rims) == 1 or round_packing(rims, shelf) else None
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
    clear)`; places are left front corners in millimetres. None if there is none, or none was found in the time."""
    if not tins:
        return []
    model = cp_model.CpModel()
    most = TENTHS * max(max(s[0], s[1]) for s in shelves)
    spots, places = [], []
    for rim, height, only, _, _ in tins:
        on = []
        for s, (width, depth, gap, clear) in enumerate(shelves):
            lit = model.new_bool_var("")
            if height > clear or (only is not None and only != s):
                model.add(lit == 0)
            on.append(lit)
        model.add_exactly_one(on)
        spot = Spot(model, rim, most)
        for lit, (width, depth, _, _) in zip(on, shelves):
            model.add(spot.x + spot.w <= TENTHS * width).only_enforce_if(lit)
            model.add(spot.y + spot.d <= TENTHS * depth).only_enforce_if(lit)
        spots.append(spot)
        places.append(on)
    for i, j in combinations(range(len(tins)), 2):
        if tins[i][3] >= tins[j][4] or tins[j][3] >= tins[i][4]:
            continue
        for s, shelf in enumerate(shelves):
            when = (places[i][s], places[j][s])
            keep_apart(model, spots[i], spots[j], TENTHS * shelf[2], most, when)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.max_time_in_seconds = seconds
    if solver.solve(model) not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return None
    return [
        (
            next(s for s, lit in enumerate(on) if solver.value(lit)),
            solver.value(spot.x) / TENTHS,
            solver.value(spot.y) / TENTHS,
            bool(solver.value(spot.turn)),
        )
        for on, spot in zip(places, spots)
    ]
