"""The ledger against a plain model of it: any actions in any order leave the same micrograms in both.

The model knows dictionaries and whole numbers, no database and none of the ledger's own sums. It says of each action
whether it is done or refused, and what is there afterwards. `TRY_LEDGERS=2000` tries that many walks instead of 15.
"""

import os
from dataclasses import dataclass, field
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

import pytest
from django.core.exceptions import ValidationError
from django.db import transaction
from hypothesis import HealthCheck, Phase, assume, settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    Bundle,
    RuleBasedStateMachine,
    consumes,
    initialize,
    invariant,
    multiple,
    rule,
    run_state_machine_as_test,
)

from inventory.ledger.quarantine import quarantine, release_from_quarantine
from inventory.ledger.selectors import ledger_faults, promises_of
from inventory.ledger.services import reverse_move
from inventory.ledger.set_aside import (
    allocate_many,
    close_set_aside,
    open_set_aside,
    release_all,
)
from inventory.ledger.taking import Sale, issue_yarn, return_yarn, sell_yarn, write_off
from inventory.ledger.weighing import weigh_package
from inventory.models import Move, Package, SetAside
from inventory.shelf.services import PackageFacts, YarnFacts, keep_yarn, receive_package
from studio.errors import StudioError
from tests.cast import steward
from tests.inventory.stock import allocate, correct_tare

TRIES, STEPS = int(os.environ.get("TRY_LEDGERS", "15")), 40
PHASES = [Phase.explicit, Phase.reuse, Phase.generate]
"""A walk that fails is not made shorter: each step asks the database, and that would take minutes."""
UG = 1_000_000
SLACK = 1_000
YES, NO = True, False
OUNCE_UG = Decimal("28349523.125")  # by the agreement of 1959

tenths = st.integers(min_value=1, max_value=2500)
"""Weights in tenths: of a gram, or of an ounce where they are said in ounces."""
units = st.sampled_from(["g", "oz"])
parts = st.one_of(st.none(), st.integers(1, 11))
"""Or so many tenths of what is there, so that actions come near the edge and a little over it."""


def whole(amount):
    return int(amount.to_integral_value(ROUND_HALF_UP))


def in_ug(number, unit):
    return Decimal(number) / 10 * (UG if unit == "g" else OUNCE_UG)


def as_mass(number, unit):
    return Fraction(in_ug(number, unit)) / UG


def as_text(number, unit):
    return f"{Decimal(number) / 10} {unit}"


def amount(there, number, unit, part):
    """Give what is asked for, in grams as it is said and in micrograms as it is kept."""
    if part is None:
        return as_mass(number, unit), whole(in_ug(number, unit))
    return Fraction(there * part // 10, UG), there * part // 10


def near(asked, there):
    return there if abs(asked - there) < SLACK else asked


@dataclass
class Cone:
    """What the model knows of a package: the last reading, the tare, and what is there and promised to whom [ug]."""

    gross: Decimal
    tare: Decimal
    hand: int
    animal: bool
    promised: dict = field(default_factory=dict)
    promises: list = field(default_factory=list)
    rounds: int = 0
    out: int = 0

    @property
    def free(self):
        return 0 if self.rounds else self.hand - sum(self.promised.values())

    def net(self, gross):
        return whole(gross - self.tare) if gross >= self.tare else None

    def lose(self, left):
        """Cut the latest promises until what is left is enough for the rest."""
        need = sum(self.promised.values()) - left
        spare = dict(self.promised)
        for work, amount in reversed(self.promises):
            cut = max(0, min(need, amount, spare.get(work, 0)))
            if cut:
                spare[work] -= cut
                self.promised[work] -= cut
                need -= cut
        self.hand = left


class Ledger(RuleBasedStateMachine):
    cones = Bundle("cones")
    works = Bundle("works")
    moves = Bundle("moves")

    def __init__(self):
        super().__init__()
        self.inside = transaction.atomic()
        self.inside.__enter__()
        self.by = steward()
        self.yarns = [
            keep_yarn(facts=YarnFacts(name=name, fibre=name, grist_text="3360 yd/lb")) for name in ("cotton", "wool")
        ]
        self.model, self.closed, self.reversed = {}, set(), set()

    def teardown(self):
        assert ledger_faults() == ()
        transaction.set_rollback(True)
        self.inside.__exit__(None, None, None)

    def attempt(self, allowed, action, **known):
        """Do it, and see it done or refused as the model says; a refusal leaves nothing behind."""
        if allowed:
            return action(by=self.by, **known)
        with pytest.raises((StudioError, ValidationError)), transaction.atomic():
            action(by=self.by, **known)
        return None

    @initialize(target=cones)
    def a_shelf_of_three(self):
        return multiple(
            *(self._receive(*facts) for facts in ((5250, 250, "g", False), (185, 9, "oz", True), (75, 8, "oz", False)))
        )

    @initialize(target=works)
    def two_pieces_of_work(self):
        return multiple(self.begin_work(), self.begin_work())

    @rule(target=cones, gross=st.integers(260, 9000), tare=st.integers(0, 250), unit=units, wool=st.booleans())
    def receive(self, gross, tare, unit, wool):
        return self._receive(gross, tare, unit, wool)

    def _receive(self, gross, tare, unit, wool):
        facts = PackageFacts(gross_text=as_text(gross, unit), tare_text=as_text(tare, unit))
        package = receive_package(yarn=self.yarns[wool], facts=facts, by=self.by)
        cone = Cone(in_ug(gross, unit), in_ug(tare, unit), 0, animal=wool)
        cone.hand = cone.net(cone.gross)
        self.model[package.pk] = cone
        return package

    def begin_work(self):
        return open_set_aside(title="Towels", for_member=self.by, by=self.by)

    @rule(target=moves, package=cones, number=st.integers(0, 9000), unit=units)
    def weigh(self, package, number, unit):
        cone, gross = self.model[package.pk], in_ug(number, unit)
        left = cone.net(gross)
        done = self.attempt(left is not None, weigh_package, package=package, gross_text=as_text(number, unit))
        if done is not None:
            cone.gross = gross
            cone.lose(left)
        return done and done.move

    @rule(target=moves, package=cones, part=st.integers(0, 10))
    def weigh_less_than_is_promised(self, package, part):
        cone = self.model[package.pk]
        left = cone.tare + sum(cone.promised.values()) * part // 10
        return self.weigh(package, whole(left / UG * 10) + 1, "g")

    @rule(target=moves, package=cones, number=st.integers(0, 400), unit=units)
    def weigh_the_empty_cone(self, package, number, unit):
        cone, tare = self.model[package.pk], in_ug(number, unit)
        fits = tare <= cone.gross
        left = cone.hand + whole(cone.gross - tare) - whole(cone.gross - cone.tare) if fits else -1
        done = self.attempt(left >= 0, correct_tare, package=package, tare_text=as_text(number, unit))
        if done is not None:
            cone.tare = tare
            cone.lose(left)
        return done and done.move

    @rule(target=moves, package=cones, work=works, number=tenths, unit=units, part=parts)
    def allocate(self, package, work, number, unit, part):
        cone = self.model[package.pk]
        mass, said = amount(cone.free, number, unit, part)
        asked = near(said, cone.free)
        allowed = said > 0 and asked <= cone.free and not cone.rounds and work.pk not in self.closed
        done = self.attempt(allowed, allocate, set_aside=work, package=package, mass_g=mass)
        if done is not None:
            self._promised(cone, work, asked)
        return done

    def _promised(self, cone, work, amount):
        cone.promised[work.pk] = cone.promised.get(work.pk, 0) + amount
        cone.promises.append((work.pk, amount))

    @rule(first=cones, second=cones, work=works, number=tenths, other=tenths)
    def allocate_of_two(self, first, second, work, number, other):
        assume(first != second)
        asked = {}
        for package, amount in ((first, number), (second, other)):
            asked[package.pk] = near(whole(in_ug(amount, "g")), self.model[package.pk].free)
        cones = {key: self.model[key] for key in asked}
        allowed = work.pk not in self.closed and all(
            amount <= cones[key].free and not cones[key].rounds for key, amount in asked.items()
        )
        shares = [(first, as_mass(number, "g")), (second, as_mass(other, "g"))]
        if self.attempt(allowed, allocate_many, set_aside=work, shares=shares) is not None:
            for key, amount in asked.items():
                self._promised(cones[key], work, amount)

    @rule(target=moves, work=works)
    def release(self, work):
        moves = self.attempt(YES, release_all, set_aside=work)
        self._hold_nothing(work)
        return multiple(*moves)

    def _hold_nothing(self, work):
        for cone in self.model.values():
            cone.promised.pop(work.pk, None)

    @rule(target=works, work=consumes(works))
    def end_work(self, work):
        self.attempt(YES, close_set_aside, set_aside=work)
        self.closed.add(work.pk)
        self._hold_nothing(work)
        some_cone = Package.objects.get(pk=min(self.model))
        self.attempt(NO, allocate, set_aside=work, package=some_cone, mass_g=Fraction(1))
        return self.begin_work()

    @rule(target=moves, package=cones, number=tenths, unit=units, part=parts, work=st.one_of(st.none(), works))
    def issue_by_weight(self, package, number, unit, part, work):
        cone = self.model[package.pk]
        there = cone.promised.get(work.pk, 0) if work else cone.free
        mass, said = amount(there, number, unit, part)
        return self._issue(cone, said, work, package=package, mass_g=mass, set_aside=work)

    @rule(target=moves, package=cones, number=st.integers(0, 9000), unit=units, work=st.one_of(st.none(), works))
    def issue_by_the_scale(self, package, number, unit, work):
        cone, gross = self.model[package.pk], in_ug(number, unit)
        left = cone.net(gross)
        asked = 0 if left is None else cone.hand - left
        done = self._issue(cone, asked, work, package=package, gross_text=as_text(number, unit), set_aside=work)
        cone.gross = cone.gross if done is None else gross
        return done

    def _issue(self, cone, asked, work, **known):
        of_work = cone.promised.get(work.pk, 0) if work else 0
        there, said = of_work + cone.free, asked
        asked = near(near(said, there), of_work)
        done = self.attempt(said > 0 and 0 < asked <= there and not cone.rounds, issue_yarn, **known)
        if done is not None:
            cone.hand -= asked
            cone.out += asked
            if work:
                cone.promised[work.pk] = of_work - min(of_work, asked)
        return done

    @rule(target=moves, package=cones, number=tenths, unit=units, part=parts)
    def bring_back(self, package, number, unit, part):
        cone = self.model[package.pk]
        out = max(0, cone.out)
        mass, said = amount(out, number, unit, part)
        asked = near(said, out)
        done = self.attempt(said > 0 and 0 < asked <= out, return_yarn, package=package, mass_g=mass)
        if done is not None:
            cone.hand += asked
            cone.out -= asked
        return done

    @rule(target=moves, package=cones, number=tenths, unit=units)
    def sell(self, package, number, unit):
        cone = self.model[package.pk]
        asked = near(whole(in_ug(number, unit)), cone.free)
        sale = Sale(unit_price_text="1 for 100 g", amount=Decimal(1))
        known = {"package": package, "mass_g": as_mass(number, unit), "sale": sale}
        done = self.attempt(0 < asked <= cone.free, sell_yarn, **known)
        if done is not None:
            cone.hand -= asked
        return done

    @rule(target=moves, package=cones, number=tenths, unit=units)
    def spoil(self, package, number, unit):
        cone = self.model[package.pk]
        asked = near(whole(in_ug(number, unit)), cone.hand)
        known = {"package": package, "mass_g": as_mass(number, unit), "said_why": "Moths"}
        done = self.attempt(0 < asked <= cone.hand, write_off, **known)
        if done is not None:
            cone.lose(cone.hand - asked)
        return done and done.move

    @rule(package=cones, rounds=st.integers(1, 3), stays=st.sampled_from([False, False, False, True]))
    def freeze(self, package, rounds, stays):
        for _ in range(rounds):
            self._freeze_once(package)
        if stays:  # rarely, since most actions with it are then refused
            return
        self.let_out(package)
        if self.model[package.pk].rounds:
            self._freeze_once(package)
            self.let_out(package)

    def _freeze_once(self, package):
        self.attempt(YES, quarantine, package=package, said_why="Sure")
        self.model[package.pk].rounds += 1

    def let_out(self, package):
        cone = self.model[package.pk]
        enough = 2 if cone.animal else 1
        if self.attempt(cone.rounds >= enough, release_from_quarantine, package=package, said_why="Sure") is not None:
            cone.rounds = 0

    @rule(move=consumes(moves), again=st.booleans())
    def reverse(self, move, again):
        assume(move is not None)
        cone, work = self.model[move.package_id], move.set_aside_id
        of_work = cone.promised.get(work, 0) - move.promised_ug
        promised = sum(cone.promised.values()) - move.promised_ug
        allowed = cone.hand - move.on_hand_ug >= promised and of_work >= 0
        if move.promised_ug < 0:
            allowed = allowed and not cone.rounds and work not in self.closed
        done = self.attempt(allowed, reverse_move, move=move)
        if done is None:
            return
        cone.hand -= move.on_hand_ug
        cone.out += move.on_hand_ug if move.kind in ("issue", "return") else 0
        if work:
            cone.promised[work] = of_work
        if move.kind == "allocate":
            cone.promises.reverse()
            cone.promises.remove((work, move.promised_ug))
            cone.promises.reverse()
        self._look_at_the_scale(move)
        if again:
            self.attempt(NO, reverse_move, move=move)
            self.attempt(NO, reverse_move, move=done)

    def _look_at_the_scale(self, move):
        """Readings come back by their words, which the model does not keep: take them as the package says them."""
        kept = Package.objects.get(pk=move.package_id)
        if move.scale_text is not None or move.tare_text is not None:
            cone = self.model[move.package_id]
            cone.gross, cone.tare = kept.gross_g * UG, kept.tare_g * UG

    @invariant()
    def every_package_holds_what_the_model_says(self):
        columns = Package.objects.values_list("pk", "on_hand_ug", "promised_ug", "quarantined")
        told = {key: balance for key, *balance in columns}
        assert told == {
            key: [cone.hand, sum(cone.promised.values()), cone.rounds > 0] for key, cone in self.model.items()
        }
        assert all(0 <= promised <= hand for hand, promised, _ in told.values())

    @invariant()
    def all_work_holds_what_the_model_says(self):
        told = {
            (work, one.package.pk): one.mass_g * UG
            for work, promises in promises_of(SetAside.objects.all()).items()
            for one in promises
        }
        model = {
            (work, key): amount for key, cone in self.model.items() for work, amount in cone.promised.items() if amount
        }
        assert told == model


@pytest.mark.django_db
def test_any_walk_through_the_ledger_agrees_with_a_plain_model():
    health = [HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.filter_too_much]
    walks = settings(
        max_examples=TRIES, stateful_step_count=STEPS, deadline=None, suppress_health_check=health, phases=PHASES
    )
    run_state_machine_as_test(Ledger, settings=walks)
    assert not Move.objects.exists()
