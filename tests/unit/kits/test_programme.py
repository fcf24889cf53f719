import subprocess
import sys
import threading

import pytest

from kits.planning import one_of_each
from kits.planning.programme import NoAnswer, NoAnswerInTime, Programme

PRINT_ONE_LINE = """
import json, threading
from kits.planning.programme import Programme
def solve(cost=0):
    programme = Programme()
    pair = [programme.column((cost + 3,)), programme.column((cost + 2,))]
    programme.row(dict.fromkeys(pair, 1.0), lower=1.0)  # not as a group: this is the solver's
    return programme.solve().values
threads = [threading.Thread(target=solve, args=(n + 1,)) for n in range(4)]
[t.start() for t in threads]
[t.join() for t in threads]
print(json.dumps({"values": solve()}))
"""


def cheapest_of(*costs):
    programme = Programme()
    programme.exactly_one([programme.column(cost) for cost in costs])
    return programme.solve()


def test_nothing_but_the_answer_reaches_standard_output():
    run = subprocess.run([sys.executable, "-c", PRINT_ONE_LINE], capture_output=True, text=True, check=True)
    assert run.stdout == '{"values": [0, 1]}\n'
    assert run.stderr == ""


def test_importing_the_planning_core_does_not_load_the_solver():
    program = "import sys, kits.planning.selection; print('highspy' in sys.modules)"
    run = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert run.stdout == "False\n"


def test_a_lower_first_cost_wins_whatever_the_later_ones_are():
    assert cheapest_of((1, 0, 0), (0, 10**7, 10**7)).values == (0, 1)
    assert cheapest_of((0, 5, 0), (0, 4, 10**9), (1, 0, 0)).values == (0, 1, 0)


def test_one_cent_decides_even_under_large_first_costs():
    assert cheapest_of((30_000, 30_000, 7, 200_001), (30_000, 30_000, 7, 200_000)).values == (0, 1)


def test_levels_too_far_apart_for_one_solve_are_solved_one_after_the_other(monkeypatch):
    monkeypatch.setattr(one_of_each, "MOST_STEPS", 0)
    programme = Programme()
    pairs = [
        [programme.column((a, b, c)) for a, b, c in ((1, 10**8, 1), (1, 10**8 - 1, 0), (2, 0, 0))]
        for _ in range(3)
    ]
    for pair in pairs:
        programme.exactly_one(pair)
    programme.row({pair[1]: 1.0 for pair in pairs}, upper=1.0)
    assert len(programme._stages()) > 1
    assert programme.solve().costs == (3, 3 * 10**8 - 1, 2)


def test_the_result_says_when_it_is_proved():
    solution = cheapest_of((2,), (1,))
    assert solution.proved
    assert solution.gap == 0.0


def test_a_programme_that_nothing_can_keep_is_told_from_one_without_time():
    programme = Programme()
    programme.row({programme.column((1,)): 1.0}, lower=2.0)
    with pytest.raises(NoAnswer):
        programme.solve()


def test_a_programme_without_any_answer_in_time_is_named(monkeypatch):
    monkeypatch.setattr("kits.planning.programme.LONGEST_WAIT_S", 0.0)
    programme = Programme()
    columns = [programme.column((n * 7919 % 101,), upper=9) for n in range(1, 60)]
    for row in range(1, 30):
        programme.row({c: float((c + 3) * row * 31 % 97) for c in columns}, lower=4000.0 + row)
    with pytest.raises(NoAnswerInTime):
        programme.solve(seconds=0.0)


def test_a_programme_solved_before_is_not_solved_again_and_one_with_other_costs_is():
    assert cheapest_of((7, 1), (7, 0)) is cheapest_of((7, 1), (7, 0))
    assert cheapest_of((7, 1), (7, 2)).values == (1, 0)


def test_groups_of_which_no_set_keeps_the_rows_have_no_answer():
    programme = Programme()
    first, second = ([programme.column((cost,))] for cost in (1, 2))
    programme.exactly_one(first)
    programme.exactly_one(second)
    programme.row({first[0]: 1.0, second[0]: 1.0}, upper=1.5)
    with pytest.raises(NoAnswer):
        programme.solve()


def test_of_two_equally_good_sets_the_later_need_has_its_first_choice():
    programme = Programme()
    pairs = [[programme.column((cost,)) for cost in (0, 5)] for _ in range(2)]
    for pair in pairs:
        programme.exactly_one(pair)
    programme.row({pair[0]: 1.0 for pair in pairs}, upper=1.0)
    assert programme.solve().values == (0, 1, 1, 0)


def test_programmes_may_be_solved_by_several_threads_at_once():
    found = []
    threads = [
        threading.Thread(target=lambda n=n: found.append(cheapest_of((n + 2,), (n + 1,)).values))
        for n in range(8)
    ]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert found == [(0, 1)] * 8
