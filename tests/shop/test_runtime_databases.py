"""The tests' own databases: rolled back, or real and thrown away."""

import threading

import pytest
from django.contrib.auth.models import Group
from django.db import connection


@pytest.mark.django_db
@pytest.mark.parametrize("turn", [1, 2])
def test_rows_of_one_test_are_unseen_by_the_next(turn):
    assert Group.objects.count() == 0
    Group.objects.create(name=f"turn {turn}")


@pytest.mark.parametrize("turn", [1, 2])
def test_a_committed_row_is_seen_by_another_thread_and_gone_in_the_next_test(committed_db, turn):
    seen = []

    def look():
        seen.append(Group.objects.count())
        connection.close()

    look()
    Group.objects.create(name=f"turn {turn}")
    thread = threading.Thread(target=look)
    thread.start()
    thread.join()
    assert seen == [0, 1]
