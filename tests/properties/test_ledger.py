"""Random days in the shop: after every step the database says what the miniature says."""

from datetime import UTC, datetime, timedelta

import pytest
import time_machine
from django.db import transaction
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    RuleBasedStateMachine,
    initialize,
    invariant,
    precondition,
    rule,
    run_state_machine_as_test,
)
from zeal import zeal_ignore

from inventory.calc.lines import Line
from inventory.errors import Refusal
from inventory.models import Hold, Lot, Movement, Want
from inventory.selectors import ledger, stock
from inventory.services import (
    adjusting,
    counting,
    handing_over,
    holding,
    lots,
    receiving,
    returning,
    reversing,
)
from inventory.services.counting import Counted
from inventory.services.handing_over import Take
from inventory.services.receiving import Receipt
from inventory.services.returning import Returned
from shop.models import House
from tests.inventory.shelf import OWNER, make_item
from tests.properties.ledger_model import LedgerModel, LotModel, PromiseModel, Refused

START = datetime(2026, 3, 1, 9, tzinfo=UTC)
DATES = {"m1": START.date() + timedelta(days=3), "m2": START.date() + timedelta(days=6), "m3": None}
ITEMS = st.sampled_from(["bag", "moss"])
LOTS = st.sampled_from(["bag-0", "moss-0", *DATES])
REFS = st.sampled_from("abcdefgh")
NTH = st.integers(0, 9)
SMALL = st.integers(1, 5)
LINES = st.lists(st.tuples(ITEMS, st.integers(1, 3)), min_size=1, max_size=3)
SOMETHING_HELD = precondition(lambda self: self.model.holds)


class Shop(RuleBasedStateMachine):
    """Each rule does one thing to both ledgers; both must do it, or both must refuse."""

    def __init__(self):
        super().__init__()
        self.undo = transaction.atomic()
        self.undo.__enter__()
        self.now, self.model = START, LedgerModel()

    def teardown(self):
        transaction.set_rollback(True)
        self.undo.__exit__(None, None, None)

    @initialize()
    def open_shop(self):
        House.objects.update_or_create(id=1, defaults={"timezone": "UTC"})  # Its day is that of the model.
        for code in ("bag", "moss"):
            make_item(code)
            self.model.lots[f"{code}-0"] = LotModel(code, standing=True)
            self.receive(code, 9)
        for lot in DATES:
            self.receive_moss_in_a_lot(lot, 2)

    def nth_held(self, nth):
        """The demand of one of the holds: rules that need one do not waste their turn."""
        return self.model.holds[nth % len(self.model.holds)].ref

    def both(self, real, model):
        try:
            with time_machine.travel(self.now, tick=False), transaction.atomic():
                real()
            done = True
        except Refusal:
            done = False
        try:
            model()
        except Refused:
            assert not done, "the ledger did what the miniature refuses"
        else:
            assert done, "the ledger refused what the miniature does"

    @rule(hours=st.sampled_from([1, 5, 24, 72]))
    def time_passes(self, hours):
        self.now += timedelta(hours=hours)

    @rule(item=ITEMS, quantity=SMALL)
    def receive(self, item, quantity):
        if self.model.lots[f"{item}-0"].state == "good":
            self.both(
                lambda: receiving.receive([Receipt(item, quantity)], actor=OWNER),
                lambda: self.model.post({f"{item}-0": quantity}, self.now),
            )

    @rule(lot=st.sampled_from(list(DATES)), quantity=SMALL)
    def receive_moss_in_a_lot(self, lot, quantity):
        past = DATES[lot] is not None and DATES[lot] < self.now.date()
        fresh = LotModel("moss", DATES[lot], state="expired" if past else "good")
        self.model.lots.setdefault(lot, fresh)
        receipt = Receipt("moss", quantity, lot=lot, best_before=DATES[lot])
        self.both(
            lambda: receiving.receive([receipt], actor=OWNER),
            lambda: self.model.post({lot: quantity}, self.now),
        )

    @rule(ref=REFS, lines=LINES, hours=st.sampled_from([None, 2, 30]), partial=st.booleans())
    def hold(self, ref, lines, hours, partial):
        until = None if hours is None else self.now + timedelta(hours=hours)
        wanted = [Line(*line) for line in lines]
        self.both(
            lambda: holding.hold(ref, lines=wanted, until=until, actor=OWNER, partial=partial),
            lambda: self.model.hold(ref, lines, until=until, partial=partial, now=self.now),
        )

    @rule(ref=REFS, item=ITEMS, quantity=st.integers(1, 4), hours=st.sampled_from([None, 2, 30]))
    def hold_one_item(self, ref, item, quantity, hours):
        self.hold(ref, [(item, quantity)], hours, partial=False)

    @SOMETHING_HELD
    @rule(nth=NTH)
    def release(self, nth):
        ref = self.nth_held(nth)
        self.both(lambda: holding.release(ref, actor=OWNER), lambda: self.model.release(ref))

    @SOMETHING_HELD
    @rule(nth=NTH, new=REFS, lines=LINES)
    def hold_again(self, nth, new, lines):
        old = self.nth_held(nth)
        before = [PromiseModel(**vars(p)) for p in self.model.holds], list(self.model.wants)

        def in_miniature():
            try:
                self.model.release(old)
                self.model.hold(new, lines, until=None, partial=False, now=self.now)
            except Refused:
                self.model.holds, self.model.wants = before
                raise

        wanted = [Line(*line) for line in lines]
        self.both(
            lambda: holding.rehold(old, new_ref=new, lines=wanted, until=None, actor=OWNER), in_miniature
        )

    @rule()
    def sweep(self):
        def in_miniature():
            self.model.lapse(self.now)
            self.model.lapse_wants(self.now)

        self.both(holding.lapse_overdue, in_miniature)

    @SOMETHING_HELD
    @rule(nth=NTH)
    def hand_over_everything(self, nth):
        ref = self.nth_held(nth)
        takes = {hold.item: hold.quantity for hold in self.model.of(ref)}
        self.both(
            lambda: handing_over.hand_over(ref, actor=OWNER),
            lambda: self.model.hand_over(ref, takes, now=self.now, today=self.now.date()),
        )

    @SOMETHING_HELD
    @rule(nth=NTH, item=ITEMS, quantity=st.integers(1, 2))
    def hand_over_a_part(self, nth, item, quantity):
        ref = self.nth_held(nth)
        self.both(
            lambda: handing_over.hand_over(ref, lines=[Take(item, quantity)], actor=OWNER),
            lambda: self.model.hand_over(ref, {item: quantity}, now=self.now, today=self.now.date()),
        )

    @precondition(lambda self: self.model.left)
    @rule()
    def take_the_last_piece_back(self):
        ref = self.model.left[-1][0]
        code = self.model.left[-1][1]
        item = self.model.lots[code].item

        def in_miniature():
            self.model.left.remove(next(one for one in self.model.left if one[:2] == (ref, code)))
            self.model.post({code: 1}, self.now)

        self.model.left = [(r, lot, 1) for r, lot, n in self.model.left for _ in range(n)]
        line = Returned(item, 1, lot=code)
        self.both(lambda: returning.take_back(ref, lines=[line], actor=OWNER), in_miniature)

    @rule(item=ITEMS, quantity=st.integers(1, 9))
    def break_some(self, item, quantity):
        def in_miniature():
            lots = self.model.first_out(item, quantity)
            self.model.post({code: -n for code, n in lots.items()}, self.now)

        self.both(
            lambda: adjusting.adjust(item, quantity=-quantity, reason="breakage", actor=OWNER), in_miniature
        )

    @rule(lot=LOTS, quantity=SMALL)
    def find_some(self, lot, quantity):
        if lot in self.model.lots:
            item, fields = self.model.lots[lot].item, {"reason": "found_on_shelf", "lot": lot}
            self.both(
                lambda: adjusting.adjust(item, quantity=quantity, actor=OWNER, **fields),
                lambda: self.model.post({lot: quantity}, self.now),
            )

    @rule(lot=LOTS, quantity=st.integers(0, 9))
    def count(self, lot, quantity):
        if lot in self.model.lots:
            known = self.model.lots[lot]
            counted = Counted(known.item, quantity, lot=lot)
            move = {lot: quantity - known.quantity} if quantity != known.quantity else {}
            self.both(lambda: counting.count([counted], actor=OWNER), lambda: self.model.post(move, self.now))

    @rule(lot=LOTS)
    def quarantine(self, lot):
        if lot in self.model.lots:
            self.both(
                lambda: lots.quarantine(lot, why="mites", actor=OWNER),
                lambda: self.model.restate(lot, "quarantined", self.now),
            )

    @rule(lot=LOTS)
    def lift_quarantine(self, lot):
        def in_miniature():
            if lot not in self.model.lots or self.model.lots[lot].state != "quarantined":
                raise Refused
            self.model.restate(lot, self.model.lots[lot].state_on(self.now.date()), self.now)

        self.both(lambda: lots.release(lot, actor=OWNER), in_miniature)

    @rule()
    def expire(self):
        today = self.now.date()

        def in_miniature():
            for code, lot in self.model.lots.items():
                if lot.state == "good" and lot.best_before is not None and lot.best_before < today:
                    self.model.restate(code, "expired", self.now)

        self.both(lambda: lots.expire_due(today), in_miniature)

    @rule(back=st.integers(0, 3))
    def reverse_a_delivery_or_correction(self, back):
        movements = Movement.objects.filter(kind__in=["receipt", "adjustment"]).order_by("-pk")[
            back : back + 1
        ]
        for movement in movements.select_related("lot"):
            twice = Movement.objects.filter(reverses=movement).exists()

            def in_miniature(movement=movement, twice=twice):
                if twice:
                    raise Refused
                self.model.post({movement.lot.code: -movement.quantity}, self.now)

            self.both(lambda: reversing.reverse(movement.pk, why="mistake", actor=OWNER), in_miniature)  # noqa: B023

    @invariant()
    def both_say_the_same_and_the_audit_agrees(self):
        assert list(ledger.differences()) == []
        promises = lambda rows: sorted((r.demand_ref, r.item.code, r.quantity) for r in rows)  # noqa: E731
        miniature = lambda rows: sorted((r.ref, r.item, r.quantity) for r in rows)  # noqa: E731
        assert promises(Hold.objects.filter(ended_at=None).select_related("item")) == miniature(
            self.model.holds
        )
        assert promises(Want.objects.filter(ended_at=None).select_related("item")) == miniature(
            self.model.wants
        )
        states = {lot.code: lot.state for lot in Lot.objects.all()}
        assert {code: states.get(code) for code in self.model.lots} == {
            code: lot.state for code, lot in self.model.lots.items()
        }
        for code, found in stock.levels_by_code(["bag", "moss"]).items():
            m = self.model
            assert (found.on_hand, found.sellable, found.held) == (
                m.on_hand(code),
                m.sellable(code),
                m.held(code),
            )


@pytest.mark.django_db
def test_a_random_day_in_the_shop_leaves_every_figure_right():
    quiet = settings(
        max_examples=40, stateful_step_count=40, deadline=None, suppress_health_check=list(HealthCheck)
    )
    with zeal_ignore():
        run_state_machine_as_test(Shop, settings=quiet)
