"""The stock ledger in miniature: dictionaries and lists, without a database, written for the reader."""

from dataclasses import dataclass, field


class Refused(Exception):
    """The model says that this cannot be done."""


@dataclass
class LotModel:
    item: str
    best_before: object = None
    standing: bool = False
    quantity: int = 0
    state: str = "good"

    def state_on(self, today):
        """What it is when it could be sold but for its date."""
        return "expired" if self.best_before is not None and self.best_before < today else "good"


@dataclass
class PromiseModel:
    ref: str
    item: str
    quantity: int
    until: object = None


@dataclass
class LedgerModel:
    lots: dict = field(default_factory=dict)
    holds: list = field(default_factory=list)  # oldest first
    wants: list = field(default_factory=list)
    left: list = field(default_factory=list)  # (ref, lot code, quantity) with the customer, oldest first

    def on_hand(self, item):
        return sum(lot.quantity for lot in self.lots.values() if lot.item == item)

    def good(self, item):
        return {code: lot for code, lot in self.lots.items() if lot.item == item and lot.state == "good"}

    def sellable(self, item):
        return sum(lot.quantity for lot in self.good(item).values())

    def held(self, item):
        return sum(hold.quantity for hold in self.holds if hold.item == item)

    def of(self, ref):
        return [hold for hold in self.holds if hold.ref == ref]

    def hold(self, ref, lines, *, until, partial, now):
        totals = {item: sum(n for i, n in lines if i == item) for item, _ in lines}
        short = {i for i, n in totals.items() if self.sellable(i) - self.held(i) < n}
        overdue = {i: sum(h.quantity for h in self.overdue(now) if h.item == i) for i in short}
        if not partial and any(self.sellable(i) - self.held(i) + overdue[i] < totals[i] for i in short):
            raise Refused
        doomed = [hold for hold in self.overdue(now) if hold.item in short]
        standing = [h for h in self.holds if h not in doomed]
        free = {i: self.sellable(i) - sum(h.quantity for h in standing if h.item == i) for i in totals}
        takes = {i: min(n, free[i]) for i, n in totals.items()}
        self._refuse_twins(ref, standing, takes, {i for i, n in totals.items() if n > takes[i]})
        self.holds = standing + [PromiseModel(ref, i, n, until) for i, n in sorted(takes.items()) if n]
        self.wants += [PromiseModel(ref, i, totals[i] - n, until) for i, n in takes.items() if n < totals[i]]

    def _refuse_twins(self, ref, holds, takes, waiting):
        if any(h.ref == ref and takes.get(h.item) for h in holds):
            raise Refused
        if any(w.ref == ref and w.item in waiting for w in self.wants):
            raise Refused

    def overdue(self, now):
        return [hold for hold in self.holds if hold.until is not None and hold.until <= now]

    def lapse(self, now, items=None):
        self.holds = [h for h in self.holds if h not in self.overdue(now) or (items and h.item not in items)]

    def lapse_wants(self, now):
        self.wants = [w for w in self.wants if w.until is None or w.until > now]

    def release(self, ref):
        self.holds = [hold for hold in self.holds if hold.ref != ref]
        self.wants = [want for want in self.wants if want.ref != ref]

    def settle(self, item, now, *, before):
        """After a fact: shorten what is too much, or fill what waits."""
        if self.held(item) > self.sellable(item):
            self.lapse(now, {item})
        for hold in [h for h in reversed(self.holds) if h.item == item]:
            hold.quantity -= min(hold.quantity, max(0, self.held(item) - self.sellable(item)))
        self.holds = [hold for hold in self.holds if hold.quantity]
        if self.sellable(item) > before:
            self._fill(item, now)

    def _fill(self, item, now):
        for want in [w for w in self.wants if w.item == item and (w.until is None or w.until > now)]:
            fill = min(want.quantity, self.sellable(item) - self.held(item))
            if fill <= 0:
                break
            held = [hold for hold in self.holds if (hold.ref, hold.item) == (want.ref, item)]
            if held:
                held[0].quantity += fill
            else:
                self.holds.append(PromiseModel(want.ref, item, fill, want.until))
            want.quantity -= fill
        self.wants = [want for want in self.wants if want.quantity]

    def post(self, moves, now):
        """Signed quantities by lot code, of one item."""
        if any(self.lots[code].quantity + move < 0 for code, move in moves.items()):
            raise Refused
        for code, move in moves.items():
            lot = self.lots[code]
            before = self.sellable(lot.item)
            lot.quantity += move
            if move > 0 and lot.state == "spent":
                lot.state = lot.state_on(now.date())
            if move < 0 and lot.quantity == 0 and lot.state == "good" and not lot.standing:
                lot.state = "spent"
            self.settle(lot.item, now, before=before)

    def restate(self, code, state, now):
        lot = self.lots[code]
        before = self.sellable(lot.item)
        lot.state = state
        self.settle(lot.item, now, before=before)

    def first_out(self, item, quantity, *, today=None):
        """Lot code -> quantity, taken one by one from the lot that goes off first."""
        taken = {}
        for _ in range(quantity):
            choices = [
                (lot.best_before is None, str(lot.best_before), code)
                for code, lot in self.good(item).items()
                if lot.quantity > taken.get(code, 0)
                and (today is None or lot.best_before is None or lot.best_before >= today)
            ]
            if not choices:
                raise Refused
            code = min(choices)[2]
            taken[code] = taken.get(code, 0) + 1
        return taken

    def hand_over(self, ref, takes, *, now, today):
        held = {hold.item: hold for hold in self.of(ref)}
        if not held or any(item not in held or held[item].quantity < n for item, n in takes.items()):
            raise Refused
        out = {item: self.first_out(item, n, today=today) for item, n in takes.items()}
        for item, n in takes.items():
            held[item].quantity -= n
        self.holds = [hold for hold in self.holds if hold.quantity]
        for lots in out.values():
            self.post({code: -n for code, n in lots.items()}, now)
            self.left += [(ref, code, n) for code, n in lots.items()]
