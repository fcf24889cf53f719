"""Passwords of tests: hashed as the shop hashes them, at a cost that a test can bear."""

from django.contrib.auth.hashers import Argon2PasswordHasher


class QuickArgon2(Argon2PasswordHasher):
    """The shop's own way with little memory in one pass: its full cost is there to slow down a thief."""

    time_cost, memory_cost, parallelism = 1, 64, 1
