"""Why a role is unmet: the nearest miss, told with the figure that fails."""

import functools
import re
from collections import Counter
from collections.abc import Callable, Mapping, Sequence

from kits.planning.fields import Field
from kits.planning.ties import ROOM, Entry, Rule

NOTHING_LISTED = "Nothing in the catalogue is listed for this job."
NONE_NAMED_LISTED = "None of the items that were named is listed for this job."
MOST_TOLD = 3  # things of which each has a reason of its own
# Two-sided limits are two ties: at least so much, and the inverse of at most so much.
REFLECTORS: Mapping[str, Callable[[float], str]] = {
    "reflector": lambda least: f"a reflector that throws back at least {least:.0%}",
    "weak_reflector": lambda inverse: f"a reflector that throws back at most {1 / inverse:.0%}",
}
_SENTENCE_END = re.compile(r"\.(?:\s|$)")
_NUMBER = re.compile(r"\d+(?:\.\d+)?")


def unmet_reason(field: Field) -> str:
    """Why no item does the job: the reason that most of them share, at the item that misses by least."""
    refused = field.refused
    if refused:
        return nearest_miss([fit.refusal for fit in refused])
    return NONE_NAMED_LISTED if field.named else NOTHING_LISTED


def nearest_miss(refusals: Sequence[str]) -> str:
    """Of sentences that differ in their numbers, the one whose numbers lie closest to what is wanted.

    What fails by a figure is nearer than what is another thing altogether. Where every sentence is about
    something else, such as one kind of animal each, several are told.

    Example:
        >>> nearest_miss(["600 mm long, 443 mm fit", "460 mm long, 443 mm fit", "the wrong cap"])
        '460 mm long, 443 mm fit'
        >>> nearest_miss(["It is no moss.", "It is no moss.", "A needs 9 C.", "B needs 8 C."])
        'A needs 9 C. B needs 8 C.'
    """
    return _nearest(tuple(refusals))


@functools.lru_cache(maxsize=128)
def _nearest(refusals: tuple[str, ...]) -> str:
    by_figures = [refusal for refusal in refusals if _NUMBER.search(refusal)] or list(refusals)
    patterns = Counter(_NUMBER.sub("#", refusal) for refusal in set(by_figures))
    commonest = min(patterns, key=lambda pattern: (-patterns[pattern], pattern))
    if patterns[commonest] == 1:
        return _told_apart(by_figures)
    alike = sorted({refusal for refusal in by_figures if _NUMBER.sub("#", refusal) == commonest})
    return min(alike, key=lambda refusal: (_miss(refusal, alike), refusal))


def _told_apart(refusals: Sequence[str]) -> str:
    """The sentences about what fails in the fewest respects, those that the fewest things share first."""
    shared = Counter(refusals)
    telling = [one for one in shared if 2 * shared[one] <= len(refusals)] or list(shared)
    fewest = min(map(_respects, telling))
    nearest = [one for one in telling if _respects(one) == fewest]
    told = sorted(nearest, key=lambda one: (shared[one], one))[:MOST_TOLD]
    more = len(nearest) - len(told)
    return " ".join(told) + (
        f" {more} more {'fail' if more > 1 else 'fails'} in as few respects." if more else ""
    )


def _respects(refusal: str) -> int:
    """In how many respects something fails: its refusal has a sentence for each."""
    return len(_SENTENCE_END.findall(refusal))


def _miss(refusal: str, alike: Sequence[str]) -> float:
    """How far the figures that vary between items lie from those that do not."""
    columns = list(zip(*(_numbers(one) for one in alike), strict=True))
    fixed = [column[0] for column in columns if len(set(column)) == 1]
    varying = [n for n, column in zip(_numbers(refusal), columns, strict=True) if len(set(column)) > 1]
    return min((abs(number - limit) for number in varying for limit in fixed), default=0.0)


def _numbers(sentence: str) -> list[float]:
    return [float(number) for number in _NUMBER.findall(sentence)]


def untied_reason(kit: Sequence[Entry], broken: Sequence[Rule]) -> str:
    """Why the last item of a kit, which does its own job, cannot stand in it."""
    last = kit[-1]
    if not broken:
        return f"{last.name} would do the job, but it does not go together with the rest of the kit."
    rule = broken[0]
    return f"{last.name} would do the job, but {breach(rule, _whose(rule, kit))}.{figures_of(rule, kit)}"


def figures_of(rule: Rule, kit: Sequence[Entry]) -> str:
    """Why a reflector is asked for: what its lamp does without one; nothing of other rules."""
    asker = kit[min(rule.askers)] if rule.askers and rule.kind in REFLECTORS else None
    because = asker.choice.fit.because if asker else ()
    return f" {because[-1]}" if because else ""


def _whose(rule: Rule, kit: Sequence[Entry]) -> str:
    """Whose wish is not met: that of the last item or of another one."""
    if len(kit) - 1 in rule.askers:
        return "it"
    return kit[min(rule.askers)].name if rule.askers else "the customer's own part"


def breach(rule: Rule, whom: str = "it") -> str:
    """What is missing when a rule is broken, as half a sentence."""
    if rule.kind == ROOM:
        room = rule.key.removesuffix("_mm").replace("_", " ")
        return f"the kit then takes more {room} than the {rule.allowance:g} mm there are"
    if rule.kind in REFLECTORS:
        return f"nothing in the kit offers {whom} {REFLECTORS[rule.kind](rule.amount)}"
    what = f"{rule.kind} {rule.key}".replace("_", " ").strip()
    return f"nothing in the kit offers {whom} the {what} that it needs{_amount(rule)}"


def _amount(rule: Rule) -> str:
    return f" for {rule.amount:g} W" if rule.amount else ""
