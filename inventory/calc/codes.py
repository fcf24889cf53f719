"""The shop's own number codes."""

from inventory.calc.errors import Impossible

CHECK_LETTERS = "ABCDEFGHJKLMNPRSTUVWXYZ"


def numbered(counter: int) -> str:
    """Write a counter with its check letter.

    Formula:  letter = the (counter mod 23)-th of ABCDEFGHJKLMNPRSTUVWXYZ, counted from zero.
    Args:     counter: whole number, > 0.
    Returns:  the code as printed.
    Raises:   Impossible for a counter below one.
    Valid:    any counter; one wrong digit is always noticed, because 23 is prime.
    Source:   common practice (a check character modulo a prime), no source for this alphabet.
    Example:  >>> numbered(1042)
              '1042H'
    """
    if counter < 1:
        raise Impossible("counter", "must be a whole number above zero.")
    return f"{counter}{CHECK_LETTERS[counter % 23]}"


def parse_number(text: str) -> int:
    """Read a number code back, refusing a wrong check letter.

    Formula:  the digits are the counter; the letter must be the one that `numbered` writes.
    Args:     text: code as typed; blanks around it and lower case are accepted.
    Returns:  the counter.
    Raises:   Impossible when it is not a code or its letter does not agree.
    Valid:    codes made by `numbered`.
    Source:   see `numbered`.
    Example:  >>> parse_number(" 1042h ")
              1042
    """
    code = text.strip().upper()
    digits, letter = code[:-1], code[-1:]
    if not (digits.isascii() and digits.isdigit() and digits[0] != "0"):
        raise Impossible("number", f"{text!r} is not a number with its check letter.")
    if numbered(int(digits)) != f"{digits}{letter}":
        raise Impossible("number", f"the check letter of {text!r} does not agree with its digits.")
    return int(digits)
