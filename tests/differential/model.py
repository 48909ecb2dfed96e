"""The exported problem as a CP-SAT model, aim by aim.

Two things can be done in more than one way, and both ways are kept to find
out which is faster: ovens by the tins that are in when one goes in (`pair`)
or, besides, by cumulatives over the stays (`cumulative`); and the aims one
after the other (`staged`) or as one weighted sum (`weighted`).
"""

import json
import time
from collections import defaultdict

from ortools.sat.python import cp_model

import shelves

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


class Way:
    """One set of tasks of a group, shared by the options that differ only in
    minutes and tins."""


class Built:
    """The model, and what is needed to read its solutions."""

    def __init__(self, problem, cumulative=False):
        self.problem = problem
        self.cumulative = cumulative
        self.relaxed = []  # what the model does not see exactly
        self.model = cp_model.CpModel()
        self.horizon = problem["horizon"]
        self.uses = defaultdict(list)  # by pool: interval, demand
        self.busy = defaultdict(list)  # by adult pool: intervals
        self.groups = []
        self.literals = {}
        self._class_steps()
        for g, group in enumerate(problem["groups"]):
            self._group(g, group)
        self._alike()
        self._ovens()
        if problem["adult_at_doors"]:
            self._doors()
        self._pools()
        self._aims()

    # -- small helpers ---------------------------------------------------

    def both(self, a, b):
        lit = self.model.new_bool_var("")
        self.model.add_bool_and([a, b]).only_enforce_if(lit)
        self.model.add_bool_or([a.negated(), b.negated(), lit])
        return lit

    def at_most(self, left, right, key=None):
        """A literal that is true exactly if `left <= right`."""
        if key in self.literals:
            return self.literals[key]
        lit = self.model.new_bool_var("")
        self.model.add(left <= right).only_enforce_if(lit)
        self.model.add(left >= right + 1).only_enforce_if(lit.negated())
        if key is not None:
            self.literals[key] = lit
        return lit

    def interval(self, start, end, lit, size=None):
        """An optional interval; its size is a variable if it is not known."""
        if size is None:
            size = self.model.new_int_var(0, FAR, "")
        return self.model.new_optional_interval_var(start, size, end, lit, "")

    def fixed(self, start, end):
        return self.model.new_fixed_size_interval_var(start, end - start, "")

    # -- the class -------------------------------------------------------

    def _class_steps(self):
        model = self.model
        by_period = defaultdict(list)
        self.class_starts = []
        self.floating = []
        for step in self.problem["class_steps"]:
            if step["earliest"] == step["latest"]:
                start = step["earliest"]
                interval = self.fixed(start, start + step["minutes"])
                is_fixed = True
            else:
                if step["earliest"] > step["latest"]:
                    model.add_bool_or([])
                    start = model.new_int_var(0, FAR, "")
                else:
                    start = model.new_int_var(step["earliest"], step["latest"], step["name"])
                interval = model.new_fixed_size_interval_var(start, step["minutes"], "")
                self.floating.append((step, start, interval))
                is_fixed = False
            self.class_starts.append(start)
            by_period[step["period"]].append(interval)
            for adult in step["adults"]:
                taken = self.problem["pools"][adult]["taken"]
                if is_fixed and any(f <= start < u for f, u in taken):
                    continue  # taken from the start
                self.busy[adult].append(interval)
        for intervals in by_period.values():
            model.add_no_overlap(intervals)

    def forbidden(self, group, task):
        """Stretches that a task must not overlap, whatever is planned."""
        none = []
        if task["hands"]:
            for step in self.problem["class_steps"]:
                if step["period"] == group["period"] and step["earliest"] == step["latest"]:
                    none.append((step["earliest"], step["earliest"] + step["minutes"]))
        if task["adult_near"]:
            at = 0
            for start, end in self.problem["adult_near"][group["room"]] + [[self.horizon, FAR]]:
                if at < start:
                    none.append((at, start))
                at = end
            none.append((-FAR, 0))
        return none

    # -- groups ----------------------------------------------------------

    def _group(self, g, group):
        model = self.model
        of = Way()
        of.group, of.ways, of.option = group, [], []
        ways = {}
        for k, option in enumerate(group["options"]):
            lit = model.new_bool_var(f"option {g} {k}")
            of.option.append(lit)
            window = windows(self.problem, group, option)
            if window is None:
                model.add(lit == 0)
                continue
            ways.setdefault(way(option), []).append((k, option, window))
        of.served = model.new_bool_var(f"served {g}")
        model.add(sum(of.option) == of.served)
        self.groups.append(of)
        for members in ways.values():
            of.ways.append(self._way(of, members))
        self._bake_of(g, of)
        self._kit_of(of)

    def _way(self, of, members):
        model = self.model
        made = Way()
        made.members = members
        made.lit = model.new_bool_var("")
        model.add(sum(of.option[k] for k, _, _ in members) == made.lit)
        first = members[0][1]
        made.tasks = first["tasks"]
        made.start, made.end, made.size, made.interval = [], [], [], []
        hands_crowd = []
        for t, task in enumerate(made.tasks):
            low = min(w[t][0] for _, _, w in members)
            high = max(w[t][1] for _, _, w in members)
            domain = cp_model.Domain(low, high)
            lengths = sorted({o["tasks"][t]["minutes"] for _, o, _ in members})
            forbidden = self.forbidden(of.group, task)
            if len(lengths) == 1:
                domain = domain.intersection_with(outside(forbidden, lengths[0]))
            start = model.new_int_var_from_domain(domain, task["name"]) if not domain.is_empty() \
                else None
            if start is None:
                model.add(made.lit == 0)
                start = model.new_int_var(low, high, task["name"])
            size, end = lengths[0], start + lengths[0]
            if len(lengths) > 1:
                size = model.new_int_var_from_domain(cp_model.Domain.from_values(lengths), "")
                for k, option, _ in members:
                    model.add(size == option["tasks"][t]["minutes"]).only_enforce_if(of.option[k])
                end = model.new_int_var(low, high + lengths[-1], "")
                model.add(end == start + size)
            if task["may_last_longer"] and any(
                l["from"] == t and l["longest"] is not None for l in all_links(first)
            ):
                end = model.new_int_var(low, FAR, "")
                model.add(end >= start + size).only_enforce_if(made.lit)
                size = None
            for k, option, window in members:
                lo, hi = window[t]
                own = cp_model.Domain(lo, hi)
                if len(lengths) > 1:
                    own = own.intersection_with(outside(forbidden, option["tasks"][t]["minutes"]))
                if own.is_empty():
                    model.add(of.option[k] == 0)
                elif (lo, hi) != (low, high) or len(lengths) > 1:
                    model.add_linear_expression_in_domain(start, own).only_enforce_if(of.option[k])
            made.start.append(start)
            made.end.append(end)
            made.size.append(size)
            made.interval.append(self.interval(start, end, made.lit, size))
            if task["when"] == "lesson":
                closing = self.problem["periods"][of.group["period"]]["closing_start"]
                model.add(end <= closing).only_enforce_if(made.lit)
            if task["hands"] and task["when"] == "lesson":
                hands_crowd.append(t)
        for link in all_links(first):
            a, b = link["from"], link["to"]
            model.add(made.start[b] >= made.end[a] + link["least"]).only_enforce_if(made.lit)
            if link["longest"] is not None:
                model.add(made.start[b] <= made.end[a] + link["longest"]).only_enforce_if(made.lit)
        self._people_of(of, made, hands_crowd)
        return made

    def _people_of(self, of, made, hands):
        """Pupils, the class's own steps, and adults with a step."""
        model, pupils = self.model, of.group["pupils"]
        crowd = [(made.interval[t], task["pupils"]) for t, task in enumerate(made.tasks)
                 if task["pupils"] > 0]
        floating = [i for step, _, i in self.floating if step["period"] == of.group["period"]]
        if sum(n for _, n in crowd) > pupils or floating:
            # A step of the class takes every pupil; hands that need no pupil
            # are kept off it one by one.
            if all(made.tasks[t]["pupils"] > 0 for t in hands):
                crowd += [(i, pupils) for i in floating]
            model.add_cumulative([i for i, _ in crowd], [n for _, n in crowd], pupils)
        for t in hands:
            if any(made.tasks[u]["pupils"] == 0 for u in hands):
                for interval in floating:
                    model.add_no_overlap([made.interval[t], interval])
        made.adults = {}
        for t, task in enumerate(made.tasks):
            if not task["with_adult"]:
                continue
            lits = []
            for adult in of.group["adults"]:
                lit = model.new_bool_var("")
                lits.append((adult, lit))
                self.busy[adult].append(
                    self.interval(made.start[t], made.end[t], lit, made.size[t]))
            model.add(sum(lit for _, lit in lits) == made.lit)
            made.adults[t] = lits

    def _bake_of(self, g, of):
        """The stay of a group in the ovens, whichever way it goes."""
        model = self.model
        of.baked = [(k, o) for k, o in enumerate(of.group["options"]) if o["bake"]]
        if not of.baked:
            of.stay = None
            return
        of.sizes = [None, None]
        of.is_baked = model.new_bool_var("")
        model.add(sum(of.option[k] for k, _ in of.baked) == of.is_baked)
        ways = [w for w in of.ways if w.members[0][1]["bake"]]
        names = ("load", "take_out")
        if len(ways) == 1:
            way_, bake = ways[0], ways[0].members[0][1]["bake"]
            of.stay = [e for n in names for e in (way_.start[bake[n]], way_.end[bake[n]])]
            of.sizes = [way_.size[bake[n]] for n in names]
        else:
            of.stay = [model.new_int_var(-FAR, 2 * FAR, "") for _ in range(4)]
            for way_ in ways:
                bake = way_.members[0][1]["bake"]
                ends = [e for n in names for e in (way_.start[bake[n]], way_.end[bake[n]])]
                for mine, theirs in zip(of.stay, ends):
                    model.add(mine == theirs).only_enforce_if(way_.lit)

    def _kit_of(self, of):
        """What is used by steps and holds, and for how long."""
        model, group = self.model, of.group
        period = self.problem["periods"][group["period"]]
        of.kit = []
        for made in of.ways:
            wanted = defaultdict(list)  # (from, to, need, which) -> options
            for k, option, _ in made.members:
                seen = defaultdict(int)
                all_needs = [(t, t, n) for t, task in enumerate(option["tasks"])
                             for n in task["needs"]]
                all_needs += [(h["from"], h["to"], h) for h in option["holds"]]
                for a, b, n in all_needs:
                    need = (a, b, tuple(n["pools"]), n["count"], n["kept_apart"])
                    wanted[need + (seen[need],)].append(k)
                    seen[need] += 1
            for (a, b, pools, count, kept_apart, _), options in wanted.items():
                span = self._span(made, period, a, b)
                if span is None or count <= 0:
                    continue
                start, end, here = span
                lit = made.lit
                if len(options) < len(made.members):
                    lit = model.new_bool_var("")
                    model.add(sum(of.option[k] for k in options) == lit)
                if here is not None:
                    lit = self.both(lit, here)
                size = made.size[a] if a == b and start is made.start[a] else None
                use = {"start": start, "end": end, "size": size, "lit": lit, "pools": pools,
                       "count": count, "apart": kept_apart and group["keep_apart"]}
                of.kit.append(use)
        self._share_out(of)

    def _span(self, made, period, a, b):
        """Start, end and, if it may come to nothing, whether it does not."""
        first, last = made.tasks[a], made.tasks[b]
        if last["when"] == "beforehand":
            return None
        start = period["start"] if first["when"] == "beforehand" else made.start[a]
        if last["when"] == "collected":
            if first["when"] == "collected":
                here = self.at_most(made.start[a], period["end"] - 1)
                return start, period["end"], here
            return start, period["end"], None
        return start, made.end[b], None

    def _share_out(self, of):
        """Each use takes from its pools; a group kept apart keeps each item
        from the start of the lesson to its last use of it."""
        model = self.model
        slots = defaultdict(list)  # by pool: literal, start, end
        for use in of.kit:
            use["from"] = []
            span = (use["start"], use["end"])
            if use["apart"]:
                for _ in range(use["count"]):
                    mine = []
                    for pool in use["pools"]:
                        lit = model.new_bool_var("")
                        mine.append(lit)
                        slots[pool].append((lit, use["start"], use["end"], use))
                    model.add(sum(mine) == use["lit"])
                continue
            if use["count"] == 1:
                for pool in use["pools"]:
                    lit = use["lit"] if len(use["pools"]) == 1 else model.new_bool_var("")
                    interval = self.interval(*span, lit, use["size"])
                    self.uses[pool].append((interval, 1))
                    use["from"].append((pool, lit))
                if len(use["pools"]) != 1:
                    model.add(sum(lit for _, lit in use["from"]) == use["lit"])
                continue
            for pool in use["pools"]:
                interval = self.interval(*span, use["lit"], use["size"])
                number = use["count"]
                if len(use["pools"]) > 1:
                    number = model.new_int_var(0, use["count"], "")
                self.uses[pool].append((interval, number))
                use["from"].append((pool, number))
            if len(use["pools"]) != 1:
                model.add(sum(n for _, n in use["from"]) == use["count"]).only_enforce_if(
                    use["lit"])
        of.slots = []
        for pool, uses in slots.items():
            kept = min(self.problem["pools"][pool]["count"], len(uses))
            lits = [[model.new_bool_var("") for _ in range(kept)] for _ in uses]
            for (lit, _, _, _), mine in zip(uses, lits):
                model.add(sum(mine) == lit)
            before = None
            for k in range(kept):
                taken = model.new_bool_var("")
                until = model.new_int_var(0, FAR, "")
                inside = []
                for (_, start, end, use), mine in zip(uses, lits):
                    model.add_implication(mine[k], taken)
                    model.add(until >= end).only_enforce_if(mine[k])
                    inside.append(self.interval(start, end, mine[k], use["size"]))
                    of.slots.append((pool, k, mine[k], use))
                model.add_no_overlap(inside)
                if before is not None:
                    model.add_implication(taken, before)
                before = taken
                block = model.new_optional_interval_var(0, until, until, taken, "")
                self.uses[pool].append((block, 1))

    def _alike(self):
        """Groups that are alike are served in order and load in order."""
        last = {}
        for g, of in enumerate(self.groups):
            like = of.group["like"]
            if like in last:
                before = self.groups[last[like]]
                self.model.add_implication(of.served, before.served)
                if of.stay and len(of.baked) == len(of.group["options"]):
                    self.model.add(before.stay[0] <= of.stay[0]).only_enforce_if(of.served)
            last[like] = g

    # -- ovens -----------------------------------------------------------

    def _ovens(self):
        model, problem = self.model, self.problem
        self.baking = [g for g, of in enumerate(self.groups) if of.stay]
        self.tins, self.present = {}, {}  # by group and oven
        for g in self.baking:
            of = self.groups[g]
            most = max(o["bake"]["tins"] for _, o in of.baked)
            for o in of.group["ovens"]:
                here = model.new_bool_var(f"in {g} {o}")
                tins = here if most == 1 else model.new_int_var(0, most, "")
                if most > 1:
                    model.add(tins >= 1).only_enforce_if(here)
                    model.add(tins == 0).only_enforce_if(here.negated())
                model.add_implication(here, of.is_baked)
                self.tins[g, o], self.present[g, o] = tins, here
            model.add(
                sum(self.tins[g, o] for o in of.group["ovens"])
                == sum(of.option[k] * option["bake"]["tins"] for k, option in of.baked)
            )
        for o, oven in enumerate(problem["ovens"]):
            users = [g for g in self.baking if (g, o) in self.present]
            if not users:
                continue
            self._warm_up(o, oven, users)
            self._shelves(o, oven, users)
            self._door_hands(o, users)
            for i in users:
                for j in users:
                    if i != j:
                        self._pair(o, oven, i, j)
        self._same_ovens()

    def _same_ovens(self):
        """Of ovens that are alike, the next is used by no group before the one
        before it is."""
        problem = self.problem
        seen = defaultdict(list)
        for o, oven in enumerate(problem["ovens"]):
            shape = {k: v for k, v in oven.items() if k not in ("number", "name")}
            users = [g for g in self.baking if (g, o) in self.present]
            doors = [p for p, pool in enumerate(problem["pools"]) if o in (pool.get("doors") or [])]
            seen[json.dumps([shape, users, doors], sort_keys=True)].append((o, users))
        for same in seen.values():
            for (o, users), (nxt, _) in zip(same, same[1:]):
                for n, g in enumerate(users):
                    self.model.add_bool_or(
                        [self.present[g, nxt].negated()]
                        + [self.present[h, o] for h in users[: n + 1]])

    def heat(self, g, heat):
        """A literal: the group bakes at that heat; True or False if always or
        never."""
        of = self.groups[g]
        mine = [k for k, o in of.baked if o["bake"]["heat"] == heat]
        if len(mine) == len(of.baked):
            return True
        if not mine:
            return False
        key = ("heat", g, heat)
        if key not in self.literals:
            lit = self.model.new_bool_var("")
            self.model.add(sum(of.option[k] for k in mine) == lit)
            self.literals[key] = lit
        return self.literals[key]

    def heats_of(self, g):
        return sorted({o["bake"]["heat"] for _, o in self.groups[g].baked})

    def _warm_up(self, o, oven, users):
        for g in users:
            for heat in self.heats_of(g):
                ready = oven["on_from"] + oven["changes"][-1][heat]
                when = self.heat(g, heat)
                lits = [self.present[g, o]] + ([] if when is True else [when])
                self.model.add(self.groups[g].stay[0] >= ready).only_enforce_if(lits)
        # Pairs say all there is only if no change is longer than by way of
        # a third heat.
        changes, n = oven["changes"], len(self.problem["heats"])
        used = {h for g in users for h in self.heats_of(g)}
        for a in list(used) + [n]:
            for b in used:
                for c in used:
                    if a != c and changes[a][c] > changes[a][b] + changes[b][c] + 1:
                        self.relaxed.append(f"changes of oven {o}")
                        raise ValueError("a change of heat is longer than by way of another")

    def ends_before(self, i, j, gap):
        """The stay of `i` ends at least `gap` minutes before that of `j`."""
        return self.at_most(
            self.groups[i].stay[3] + gap, self.groups[j].stay[0], ("ends", i, j, gap))

    def _pair(self, o, oven, i, j):
        model = self.model
        here = [self.present[i, o].negated(), self.present[j, o].negated()]
        if i < j:
            for a in self.heats_of(i):
                for b in self.heats_of(j):
                    apart = self.groups[i].group["keep_apart"] or self.groups[j].group["keep_apart"]
                    if a == b and not apart:
                        continue
                    there, back = (0, 0) if a == b else (
                        oven["changes"][a][b], oven["changes"][b][a])
                    when = [w for w in (self.heat(i, a), self.heat(j, b)) if w is not True]
                    model.add_bool_or(here + [w.negated() for w in when] + [
                        self.ends_before(i, j, there), self.ends_before(j, i, back)])
        # `i` is delicate: `j` opens the door before it is shut or after.
        of = self.groups[i]
        for k, option in of.baked:
            bake = option["bake"]
            if bake["shut"] is None:
                continue
            load = option["tasks"][bake["load"]]["minutes"]
            shut = max(self.problem["call"], load)
            opened = load + bake["shut"]
            if shut >= opened:
                continue
            start, stay = of.stay[0], self.groups[j].stay
            for name, first, last in (("load", stay[0], stay[1]), ("out", stay[2], stay[3])):
                before = self.at_most(last, start + shut, (name, "before", i, j, shut))
                after = self.at_most(start + opened, first, (name, "after", i, j, opened))
                model.add_bool_or(here + [of.option[k].negated(), before, after])

    def kinds(self, o):
        """The kinds of tins an oven may get: rim and shelves they fit on; and
        for each group the options that use each kind."""
        shelves_ = self.problem["ovens"][o]["shelves"]
        kinds, of_group = {}, defaultdict(lambda: defaultdict(list))
        for g in self.baking:
            if (g, o) not in self.present:
                continue
            of = self.groups[g]
            for k, option in of.baked:
                bake, only = option["bake"], of.group["shelf"]
                allowed = tuple(
                    bake["height"] <= s["clear"] and (only is None or only == n)
                    and shelves.fits_at_all(tuple(bake["rim"]), (s["width"], s["depth"]))
                    for n, s in enumerate(shelves_)
                )
                if not any(allowed):
                    self.model.add(self.tins[g, o] == 0).only_enforce_if(of.option[k])
                    continue
                kind = (tuple(sorted(bake["rim"])), allowed)
                of_group[g][kinds.setdefault(kind, len(kinds))].append(k)
        return list(kinds), of_group

    def _shelves(self, o, oven, users):
        model = self.model
        kinds, of_group = self.kinds(o)
        if not kinds:
            return
        most = [0] * len(kinds)
        for g in users:
            for kind, options in of_group[g].items():
                most[kind] += max(
                    self.groups[g].group["options"][k]["bake"]["tins"] for k in options)
        spaces = [(s["width"], s["depth"], s["gap"]) for s in oven["shelves"]]
        rims = tuple(rim for rim, _ in kinds)
        allowed = [tuple(a[n] for _, a in kinds) for n in range(len(spaces))]
        sets = shelves.oven_sets(rims, allowed, tuple(most), spaces)
        if len(kinds) > 1:
            self.relaxed.append(f"tins of several kinds come and go in oven {o}")
        # Tins by kind.
        count = {}
        for g in users:
            mine = of_group[g]
            for kind, options in mine.items():
                if len(options) == len(self.groups[g].baked):
                    count[g, kind] = self.tins[g, o]
                    continue
                n = model.new_int_var(0, max(
                    self.groups[g].group["options"][k]["bake"]["tins"] for k in options), "")
                lit = model.new_bool_var("")
                model.add(sum(self.groups[g].option[k] for k in options) == lit)
                model.add(n == self.tins[g, o]).only_enforce_if(lit)
                model.add(n == 0).only_enforce_if(lit.negated())
                count[g, kind] = n
        if all(sum(v[k] for k in range(len(kinds))) >= sum(most) for v in sets):
            return
        for i in users:
            inside = defaultdict(list)
            for j in users:
                for kind in of_group[j]:
                    inside[kind].append(self._inside(o, i, j, kind, count[j, kind]))
            self._within(sets, {k: sum(v) for k, v in inside.items()}, self.present[i, o])
        if self.cumulative:
            for kind in range(len(kinds)):
                capacity = max(v[kind] for v in sets)
                stays = [(self._stay(g, o), count[g, kind]) for g in users if (g, kind) in count]
                model.add_cumulative([s for s, _ in stays], [n for _, n in stays], capacity)
            capacity = max(sum(v) for v in sets)
            model.add_cumulative(
                [self._stay(g, o) for g in users], [self.tins[g, o] for g in users], capacity)

    def _stay(self, g, o):
        key = ("stay", g, o)
        if key not in self.literals:
            stay = self.groups[g].stay
            self.literals[key] = self.interval(stay[0], stay[3], self.present[g, o])
        return self.literals[key]

    def _inside(self, o, i, j, kind, count):
        """Tins of a kind that `j` has in oven `o` when `i` goes in."""
        if i == j:
            return count
        key = ("inside", o, i, j, kind)
        model = self.model
        if ("there", i, j) not in self.literals:
            started = self.at_most(
                self.groups[j].stay[0], self.groups[i].stay[0], ("starts", j, i))
            self.literals["there", i, j] = self.both(
                started, self.ends_before(j, i, 0).negated())
        there = self.literals["there", i, j]
        most = max(o_["bake"]["tins"] for _, o_ in self.groups[j].baked)
        if most == 1:
            n = model.new_bool_var("")
        else:
            n = model.new_int_var(0, most, "")
        model.add(n >= count).only_enforce_if(there)
        self.literals[key] = n
        return n

    def _within(self, sets, total, here):
        """The tins in an oven are within one of the sets it holds."""
        if len(sets) == 1:
            for kind, n in total.items():
                self.model.add(n <= sets[0][kind]).only_enforce_if(here)
            return
        chosen = [self.model.new_bool_var("") for _ in sets]
        self.model.add_bool_or(chosen).only_enforce_if(here)
        for lit, holds in zip(chosen, sets):
            for kind, n in total.items():
                self.model.add(n <= holds[kind]).only_enforce_if(lit)
        for kind, n in total.items():
            self.model.add(n <= max(v[kind] for v in sets)).only_enforce_if(here)

    def _door_hands(self, o, users):
        model, cap = self.model, self.problem["tins_per_opening"]
        moves = []
        for g in users:
            of = self.groups[g]
            most = max(option["bake"]["tins"] for _, option in of.baked)
            for n, name in enumerate(("load", "take_out")):
                first, last = of.stay[2 * n], of.stay[2 * n + 1]
                interval = self.interval(first, last, self.present[g, o], of.sizes[n])
                moved = 1
                if most > 1:
                    moved = model.new_int_var(0, most, "")
                    for k, option in of.baked:
                        minutes = option["tasks"][option["bake"][name]]["minutes"]
                        model.add(minutes * moved >= self.tins[g, o]).only_enforce_if(of.option[k])
                moves.append((interval, moved))
        model.add_cumulative([i for i, _ in moves], [n for _, n in moves], cap)

    def _doors(self):
        """An adult at every open door, minute by minute."""
        model = self.model
        first = min(p["opening_end"] for p in self.problem["periods"])
        last = max(p["closing_start"] for p in self.problem["periods"])
        adults = [(a, p) for a, p in enumerate(self.problem["pools"]) if p["kind"] == "adult"]
        self.watches = {}
        moving = {}
        for g in self.baking:
            stay = self.groups[g].stay
            for t in range(first, last):
                started, loaded, taking, out = (
                    self.at_most(e, t, ("by", g, n, t)) for n, e in enumerate(stay))
                moving[g, t] = [self.both(started, loaded.negated()),
                                self.both(taking, out.negated())]
        for o in range(len(self.problem["ovens"])):
            users = [g for g in self.baking if (g, o) in self.present]
            for t in range(first, last) if users else ():
                watchers = []
                for a, pool in adults:
                    if o not in pool["doors"] or any(f <= t < u for f, u in pool["taken"]):
                        continue
                    only = pool.get("only_for")
                    if only is not None and not any(g in users for g in only):
                        continue
                    lit = model.new_bool_var("")
                    watchers.append(lit)
                    self.watches[o, t, a] = lit
                    self.busy[a].append(
                        model.new_optional_fixed_size_interval_var(t, 1, lit, ""))
                    if only is not None:
                        (own,) = [g for g in only if g in users]
                        model.add_implication(lit, self.present[own, o])
                        model.add_bool_or([lit.negated(), *moving[own, t]])
                for g in users:
                    for lit in moving[g, t]:
                        model.add_bool_or(
                            [self.present[g, o].negated(), lit.negated(), *watchers])

    # -- counted things, aims --------------------------------------------

    def _pools(self):
        model = self.model
        for p, pool in enumerate(self.problem["pools"]):
            if pool["kind"] == "adult":
                taken = [self.fixed(f, u) for f, u in merged(pool["taken"])]
                if pool["count"] > 0 and self.busy[p]:
                    model.add_no_overlap(self.busy[p] + taken)
                continue
            uses = self.uses[p]
            if uses:
                model.add_cumulative([i for i, _ in uses], [n for _, n in uses], pool["count"])

    def _aims(self):
        model = self.model
        self.served = sum(of.served for of in self.groups)
        self.departures = sum(
            of.option[k] * option["departure"]
            for of in self.groups for k, option in enumerate(of.group["options"]))
        most = self.problem["wanted_spare"] + self.horizon
        self.shortfall = model.new_int_var(0, most, "shortfall")
        for of in self.groups:
            period = self.problem["periods"][of.group["period"]]
            for made in of.ways:
                links = all_links(made.members[0][1])
                inner = {l["from"] for l in links
                         if made.tasks[l["to"]]["when"] != "collected" and l["least"] >= 0}
                ends = [t for t, task in enumerate(made.tasks) if task["when"] != "collected"
                        and t not in inner]
                for t in ends:
                    late = self.problem["wanted_spare"] - period["closing_start"] + made.end[t]
                    model.add(self.shortfall >= late).only_enforce_if(made.lit)
                if not ends:
                    late = self.problem["wanted_spare"] - period["closing_start"] + period["start"]
                    model.add(self.shortfall >= late).only_enforce_if(made.lit)


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


class Watch(cp_model.CpSolverSolutionCallback):
    """Notes when which values were reached, on the solver's own clock."""

    def __init__(self, built, before):
        super().__init__()
        self.built, self.before, self.seen = built, before, []

    def on_solution_callback(self):
        b = self.built
        values = (self.value(b.served), self.value(b.departures), self.value(b.shortfall))
        self.seen.append((self.before + self.wall_time, values))


def solve(problem, variant="pair-staged", workers=2, seconds=60.0, seed=0):
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
