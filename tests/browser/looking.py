"""Two pictures compared: screens by what lies where, paper dot by dot; and the pictures kept of them."""

import json
from pathlib import Path

from PIL import Image, ImageChops

FOLDER = Path(__file__).with_name("pictures")
BLOCK = 8  # pixels a side: letters blur into grey, boxes and drawings stay
GREY_STEP = 40  # of 255: a block that differs by more is another block
SCREEN_SHARE = 0.07  # of all blocks; another typeface changes fewer
PAPER_SHARE = 0.003  # of the inked pixels: about a word on a sheet
PLACE_PX = 14  # a landmark may lie so far off, or so many hundredths of the screen
PLACE_PERCENT = 2.5
COLOURS = 64
# What a screen is made of: where the first of each that shows lies is kept beside its picture.
LANDMARKS = {
    "edge": ".edge",
    "sheet": ".sheet",
    "strip": "#strip, .strip",
    "heading": ".heading",
    "drawing": ".drawings svg",
    "figures": ".figures",
    "parts": "#list, table.parts, table.entries",
    "side": ".columns > .side",
    "cautions": ".care",
    "title block": "#block, .titleblock",
}
BOXES = """landmarks => Object.fromEntries(Object.entries(landmarks).flatMap(([name, selector]) => {
    const shown = [...document.querySelectorAll(selector)].find(one => one.getClientRects().length);
    if (!shown) return [];
    const at = shown.getBoundingClientRect();
    const inside = (value, most) => Math.round(Math.min(Math.max(value, -1), most + 1));
    return [[name, [inside(at.left, innerWidth), inside(at.top, innerHeight),
        inside(at.right, innerWidth), inside(at.bottom, innerHeight)]]];
}))"""


def boxes(page):
    """Left, top, right and bottom of every landmark that shows, as far as it lies on the screen."""
    return page.evaluate(BOXES, LANDMARKS)


def keep(name, picture, places=None):
    """The picture in few colours, and where its landmarks lie."""
    FOLDER.mkdir(exist_ok=True)
    few = picture.convert("RGB").quantize(COLOURS, dither=Image.Dither.NONE)
    few.save(FOLDER / f"{name}.png", optimize=True)
    if places is not None:
        lines = ",\n".join(f" {json.dumps(key)}: {json.dumps(value)}" for key, value in places.items())
        (FOLDER / f"{name}.json").write_text(f"{{\n{lines}\n}}\n", encoding="utf-8")


def kept(name):
    """The kept picture, and the kept places of a screen's landmarks."""
    path = FOLDER / f"{name}.json"
    places = json.loads(path.read_text(encoding="utf-8")) if path.exists() else {}
    return Image.open(FOLDER / f"{name}.png").convert("RGB"), places


def moved(places, before, size):
    """Landmarks that have gone, have come, or lie elsewhere."""
    slack = [max(PLACE_PX, side * PLACE_PERCENT / 100) for side in size]

    def apart(one, other):
        return any(abs(a - b) > slack[n % 2] for n, (a, b) in enumerate(zip(one, other, strict=True)))

    both = places.keys() & before.keys()
    return sorted(
        (places.keys() ^ before.keys()) | {name for name in both if apart(places[name], before[name])}
    )


def changed_blocks(picture, before):
    """The share of blocks of a screen whose grey is another one."""
    small = [one.convert("L").reduce(BLOCK) for one in (picture, before)]
    return _share_above(ImageChops.difference(*small), GREY_STEP)


def changed_dots(picture, before):
    """The pixels of a page that are plainly another grey, as a share of those with ink."""
    one, other = picture.convert("L"), before.convert("L")
    inked = sum(other.histogram()[: 255 - GREY_STEP]) / (other.width * other.height)
    return _share_above(ImageChops.difference(one, other), GREY_STEP) / inked


def _share_above(difference, step):
    counts = difference.histogram()
    return sum(counts[step + 1 :]) / sum(counts)


def faults_of_screen(name, picture, places):
    """In words how a screen differs from its kept picture; empty when it does not."""
    before, then = kept(name)
    if picture.size != before.size:
        return [f"the picture is {picture.size} and was {before.size}"]
    share = changed_blocks(picture, before)
    faint = [f"{share:.1%} of its blocks differ"] if share > SCREEN_SHARE else []
    return [f"{one} moved" for one in moved(places, then, picture.size)] + faint


def faults_of_paper(name, picture):
    """In words how a page differs from its kept picture; empty when it does not."""
    before, _ = kept(name)
    if picture.size != before.size:
        return [f"the page is {picture.size} and was {before.size}"]
    share = changed_dots(picture, before)
    return [f"{share:.2%} of its dots differ"] if share > PAPER_SHARE else []
