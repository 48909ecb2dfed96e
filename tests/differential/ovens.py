"""The part of the model that speaks of ovens: tins, shelves, heats, doors."""

import json
from collections import defaultdict

import shelves


class Ovens:
    """Adds the ovens to a model that has the groups."""

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
                    and shelves.fits_at_all(shelves.rim_of(bake), (s["width"], s["depth"]))
                    for n, s in enumerate(shelves_)
                )
                if not any(allowed):
                    self.model.add(self.tins[g, o] == 0).only_enforce_if(of.option[k])
                    continue
                kind = (tuple(sorted(shelves.rim_of(bake))), allowed)
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
