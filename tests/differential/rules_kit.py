"""Kit and tins: what is needed is named, for its time, and is there."""

from collections import defaultdict

from rules_people import overlap, span


def kit(judged):
    pools = judged.problem["pools"]
    used = defaultdict(list)  # by pool and item: stretch, group, is to be kept apart
    plan = defaultdict(list)
    for use in judged.plan["uses"]:
        plan[use["group"]].append(use)
    for number in judged.ways:
        needs = needed(judged, number)
        mine = defaultdict(list)
        for use in plan[number]:
            pool = pool_of(pools, use, needs)
            rule = "tin" if use["kind"] == "tin" else "kit"
            items = use["items"]
            if not judged.want(rule, pool is not None):
                continue
            judged.want(rule, len(items) == len(set(items)))
            judged.want(rule, all(0 <= i < pools[pool]["count"] for i in items))
            mine[span(use)].append((pool, items))
        judged.want("kit", {s for s, n in needs.items() if n} == set(mine))
        for stretch in set(needs) | set(mine):
            kinds = {pools[p]["kind"] for of, _, _ in needs.get(stretch, []) for p in of}
            kinds |= {pools[pool]["kind"] for pool, _ in mine.get(stretch, [])}
            for kind in kinds:
                wanted = [n for n in needs.get(stretch, []) if pools[n[0][0]]["kind"] == kind]
                there = [u for u in mine.get(stretch, []) if pools[u[0]]["kind"] == kind]
                judged.want(kind, covers(wanted, there))
            apart = {p for of, _, kept in needs.get(stretch, []) if kept for p in of}
            for pool, items in mine.get(stretch, []):
                for item in items:
                    used[pool, item].append((stretch, number, pool in apart))
    shared(judged, used)


def needed(judged, number):
    """By stretch: pools, how many, and whether they are to be kept apart."""
    tasks, placed = judged.ways[number]["tasks"], judged.placed[number]
    period = judged.problem["periods"][judged.groups[number]["period"]]
    needs = defaultdict(list)

    def add(stretch, need):
        if stretch[0] < stretch[1] and need["count"] > 0:
            needs[stretch].append((need["pools"], need["count"], need["kept_apart"]))

    for task, step in zip(tasks, placed):
        for need in task["needs"]:
            if task["when"] == "lesson":
                add(span(step), need)
    for hold in judged.ways[number]["holds"]:
        first, last = tasks[hold["from"]], tasks[hold["to"]]
        if last["when"] == "beforehand":
            continue
        start = placed[hold["from"]]["start"]
        start = period["start"] if first["when"] == "beforehand" else start
        end = period["end"] if last["when"] == "collected" else placed[hold["to"]]["end"]
        add((start, end), hold)
    return needs


def pool_of(pools, use, needs):
    """The pool of a use: tins of a kind may be kept in several rooms."""
    of_kind = [p for p, pool in enumerate(pools)
               if (pool["kind"], pool["number"]) == (use["kind"], use["number"])]
    mine = {p for need in needs.values() for of, _, _ in need for p in of}
    near = [p for p in of_kind if p in mine] or of_kind
    return near[0] if near else None


def covers(wanted, there):
    """Whether what is named is exactly what is wanted, however it is shared out."""
    units = [pool for pool, items in there for _ in items]
    slots = [pools for pools, count, _ in wanted for _ in range(count)]
    if len(units) != len(slots):
        return False
    taken = {}

    def place(unit, seen):
        for slot, pools in enumerate(slots):
            if units[unit] in pools and slot not in seen:
                seen.add(slot)
                if slot not in taken or place(taken[slot], seen):
                    taken[slot] = unit
                    return True
        return False

    return all(place(unit, set()) for unit in range(len(units)))


def shared(judged, used):
    """No item twice in one minute; those kept apart not after others."""
    pools = judged.problem["pools"]
    for (pool, _), all_uses in used.items():
        for i, (stretch, number, apart) in enumerate(all_uses):
            for other, their, their_apart in all_uses[:i]:
                judged.want(pools[pool]["kind"], not overlap(stretch, other))
                if number == their:
                    continue
                mine_kept = apart and judged.groups[number]["keep_apart"]
                theirs_kept = their_apart and judged.groups[their]["keep_apart"]
                judged.want("keep-apart", not (mine_kept and other[0] < stretch[0]))
                judged.want("keep-apart", not (theirs_kept and stretch[0] < other[0]))
    for p, pool in enumerate(pools):
        for a, b in pool["taken"] if pool["kind"] != "adult" else ():
            for minute in range(a, b):
                at_once = sum(s[0] <= minute < s[1] for (of, _), uses in used.items()
                              if of == p for s, _, _ in uses)
                judged.want(pool["kind"], at_once < pool["count"])
