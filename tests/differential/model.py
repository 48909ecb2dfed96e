"""The exported problem as a CP-SAT model."""

from collections import defaultdict

from ortools.sat.python import cp_model

from ovens import Ovens
from windows import FAR, all_links, merged, outside, way, windows


class Way:
    """One set of tasks of a group, shared by the options that differ only in
    minutes and tins."""


class Built(Ovens):
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
