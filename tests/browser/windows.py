"""Windows of the browser that tests hand on: to open one takes longer than most tests do in it."""

from playwright.sync_api import Error

NOWHERE = (-9, -9)  # where a mouse rests that points at nothing


class Windows:
    """Windows before one shop, on a desk or a phone; each is a browser of its own with cookies of its own."""

    def __init__(self, browser, shop):
        self.browser, self.shop = browser, shop
        self.idle, self.taken, self.complaints = {False: [], True: []}, [], []

    def take(self, size, *, touch, new=False):
        """A blank window; `new` for a test that does to it what cannot be undone, as setting its clock."""
        idle = [] if new else self.idle[touch]
        page = idle.pop() if idle else self._opened(touch)
        self.taken.append((page, touch, new))
        page.set_viewport_size(size)
        return page

    def give_back(self):
        """Clear every window that was taken; one that cannot be cleared, or must not be, is closed."""
        for page, touch, new in self.taken:
            if not new and self._cleared(page):
                self.idle[touch].append(page)
            else:
                page.context.close()
        self.taken.clear()

    def end(self):
        """Close them all."""
        for page in (*self.idle[False], *self.idle[True]):
            page.context.close()

    def _opened(self, touch):
        context = self.browser.new_context(
            base_url=self.shop.url, has_touch=touch, is_mobile=touch, locale="en-US"
        )
        page = context.new_page()
        page.on("pageerror", lambda error: self.complaints.append(str(error)))
        page.on("console", lambda said: self.complaints.append(said.text) if is_fault(said) else None)
        return page

    def _cleared(self, page):
        """Whether the window is as good as new: alone, blank, signed out, with nothing stored."""
        try:
            for other in page.context.pages:
                if other is not page:
                    other.close()
            page.unroute_all()
            if page.url.startswith(self.shop.url):
                page.evaluate("localStorage.clear(); sessionStorage.clear()")
            page.goto("about:blank")
            page.mouse.move(*NOWHERE)
            page.context.clear_cookies()
        except Error:
            return False
        return True


def is_fault(said):
    """Whether a console message is a fault; an answer of 4xx is part of what is tested."""
    return said.type == "error" and "Failed to load resource" not in said.text
