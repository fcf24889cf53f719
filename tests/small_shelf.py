"""A small invented shelf with four made-up roles, for tests of selection that need no shop."""

from types import SimpleNamespace

from kits.planning.shelf import Shelf
from kits.terms.needs import Coupling, Fit, Offer, Tie, Ware


def offer(role, item, cents, *, preference=100, family="", **figures):
    ware = Ware(item, f"Item {item}", "piece", cents, preference=preference, family=family)
    if family:
        figures["family"] = family
    return Offer(ware, role, figures)


def shelf(*offers):
    return Shelf.build([one.ware for one in offers], offers)


class Counter:
    """Free stock that counts how often it is read."""

    def __init__(self, **free):
        self.stock = free
        self.reads = []

    def __call__(self, items):
        self.reads.append(list(items))
        return {item: self.stock[item] for item in items if item in self.stock}


def plain_fit(need, figures):
    smallest = need.wanted.get("size_mm", 0)
    if figures.get("size_mm", 0) < smallest:
        return Fit(f"Its {figures['size_mm']} mm are less than the {smallest} mm wanted.")
    return Fit(
        each=figures.get("each", 1.0),
        rank=figures.get("rank", 0),
        figures={"size_mm": figures.get("size_mm")},
    )


def soil_fit(need, figures):
    if need.wanted.get("style", "any") not in figures.get("styles", ["any"]):
        return Fit("It is listed for another style.")
    return Fit(each=figures.get("yields", 1.0), rank=figures.get("rank", 0))


def lamp_coupling(figures):
    watts = figures["watts"]
    asks = (Tie("socket", figures["cap"], watts), Tie("control", "lamp", watts))
    return Coupling(asks=asks, takes={"top_depth_mm": figures.get("depth_mm", 0)})


def holder_coupling(figures):
    return Coupling(
        offers=(Tie("socket", figures["cap"], figures["watts"]),),
        takes={"top_depth_mm": figures.get("depth_mm", 0)},
    )


def control_coupling(figures):
    return Coupling(offers=(Tie("control", "lamp", figures["watts"]),))


ROLES = {
    "thing": SimpleNamespace(fit=plain_fit),
    "soil": SimpleNamespace(fit=soil_fit),
    "lamp": SimpleNamespace(fit=plain_fit, coupling=lamp_coupling),
    "holder": SimpleNamespace(fit=plain_fit, coupling=holder_coupling),
    "control": SimpleNamespace(fit=plain_fit, coupling=control_coupling),
}


def items(selection):
    """What was picked for each need: item -> pieces."""
    return [{offer.ware.item: number for offer, number in pick.offers} for pick in selection.picks]
