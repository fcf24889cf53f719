"""Trade item numbers as scanned: 14 digits, a check digit, and which of them mean nothing outside."""

import re
from dataclasses import dataclass

from stdnum import ean

from inventory.calc.errors import Impossible

LENGTHS = (8, 12, 13, 14)
# What a scanner may send first (ISO/IEC 15424): ]E0 for EAN-13, ]C1 for GS1-128, ]d2 for GS1 DataMatrix.
_SYMBOLOGY = re.compile(r"^\][A-Za-z]\d")
_ELEMENT_STRING = re.compile(r"^(?:\(01\)|01)(\d{14})")


@dataclass(frozen=True, slots=True)
class Gtin:
    """A checked trade item number; an internal one may not leave the shop on labels, feeds or links."""

    digits: str  # always 14, zero filled
    scanned: str
    internal: bool


def read(text: str) -> Gtin | None:
    """The trade item number in a scan, or None when it holds none.

    Accepts GTIN-8, -12, -13 and -14 with blanks or hyphens, a symbology identifier before it, and a GS1
    element string that begins with AI 01. Raises Impossible when the digits are there but the check digit
    is wrong.

    >>> read("6291041500213").digits
    '06291041500213'
    """
    body = _trade_number(text)
    if not (body.isascii() and body.isdigit() and len(body) in LENGTHS):
        return None
    if not ean.is_valid(body):
        raise Impossible("barcode", f"the check digit of {body} is wrong: expected {check_digit(body[:-1])}.")
    return Gtin(digits=body.zfill(14), scanned=text, internal=is_internal(body))


def gtin14(text: str) -> str:
    """The 14 digits of the trade item number in a scan, empty when it holds none; refuses like `read`.

    >>> gtin14("036000241457")
    '00036000241457'
    """
    number = read(text)
    return "" if number is None else number.digits


def check_digit(body: str) -> str:
    """The digit that completes a GTIN, GLN or SSCC body (GS1: weights 3, 1, 3 … from the right).

    >>> check_digit("629104150021")
    '3'
    """
    return str(ean.calc_check_digit(body))


def is_internal(digits: str) -> bool:
    """Whether a number is restricted: inside a company (04), inside a region (02, 20-29), GTIN-8 from 0 or 2.

    Its meaning is the shop's or the region's own: GS1 General Specifications (2018), section 2.1.13.2 for 04;
    the GTIN-8 rule is from memory.

    >>> is_internal("0412345678903")
    True
    """
    if len(digits) == 8:
        return digits[0] in "02"
    thirteen = digits.zfill(14)[1:]
    return thirteen[:2] in ("02", "04") or "20" <= thirteen[:2] <= "29"


def _trade_number(text: str) -> str:
    plain = _SYMBOLOGY.sub("", text.strip())
    element = _ELEMENT_STRING.match(plain)
    return element.group(1) if element else re.sub(r"[ -]", "", plain)
