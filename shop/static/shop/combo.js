// A select with data-combo becomes a type-ahead (WAI-ARIA combobox, list autocomplete); an input with data-combo
// gets a list of what its data-remote address offers. Two or three letters, then Enter takes the first.
// An input with data-known keeps what is typed, and notes in the hidden field of that id what was picked by it.

const MOST = 12;
const WAIT_MS = 40;
const combos = new WeakMap(); // by the controls that they were made of
const plain = (text) => text.normalize("NFD").replace(/\p{M}/gu, "").toLowerCase().trim();

export function enhance(root = document) {
  for (const control of root.querySelectorAll("[data-combo]:not([data-combo=done])")) new Combo(control);
}

// The choice was made for it: its words say so, too, unless somebody is just writing others.
export function restore(control, { isOurs }) {
  const combo = combos.get(control);
  if (combo && !(isOurs && combo.input === document.activeElement)) combo.restore();
}

class Combo {
  constructor(control) {
    combos.set(control, this);
    control.dataset.combo = "done";
    this.select = control.matches("select") ? control : null;
    this.input = this.select ? this.inputFor(control) : control;
    this.remote = control.dataset.remote;
    this.known = control.dataset.known ? document.getElementById(control.dataset.known) : null;
    this.list = document.createElement("ul");
    this.list.id = `${this.input.id}-list`;
    this.list.className = "offers";
    this.list.setAttribute("role", "listbox");
    this.list.setAttribute("aria-label", this.input.labels[0]?.textContent.trim() ?? "");
    this.list.hidden = true;
    this.input.after(this.list);
    const about = { role: "combobox", "aria-autocomplete": "list", "aria-expanded": "false", "aria-controls": this.list.id };
    for (const [name, value] of Object.entries(about)) this.input.setAttribute(name, value);
    this.options = this.select ? [...this.select.options].filter((option) => option.value).map(asOffer) : [];
    this.shown = [];
    this.active = -1;
    this.listen();
  }

  inputFor(select) {
    const input = document.createElement("input");
    input.id = select.id;
    select.id = `${input.id}-value`;
    select.hidden = true;
    input.placeholder = select.dataset.prompt ?? "";
    input.spellcheck = false;
    input.autocomplete = "off";
    input.value = select.value ? select.selectedOptions[0].textContent : "";
    if (select.getAttribute("aria-describedby")) input.setAttribute("aria-describedby", select.getAttribute("aria-describedby"));
    select.before(input);
    if (select.autofocus) input.focus();
    return input;
  }

  listen() {
    this.input.addEventListener("input", (event) => {
      if (this.known) this.known.value = "";
      else event.stopPropagation(); // half a word is no choice yet
      this.typed = true;
      this.offer();
    });
    this.input.addEventListener("keydown", (event) => this.press(event));
    this.input.addEventListener("focus", () => this.select && this.input.select());
    this.input.addEventListener("click", () => this.offer(true));
    this.input.addEventListener("blur", () => this.leave());
    this.list.addEventListener("pointerdown", (event) => {
      event.preventDefault();
      const row = event.target.closest("[role=option]");
      if (row) this.take(this.shown[Number(row.dataset.at)], true);
    });
  }

  offer(all = false) {
    const asked = all ? "" : plain(this.input.value);
    this.question?.abort();
    if (this.select) this.show(best(this.options, asked).slice(0, all ? 60 : MOST));
    if (this.remote && asked && !(this.select && this.shown.length)) this.ask();
  }

  ask() {
    clearTimeout(this.waiting);
    this.waiting = setTimeout(async () => {
      const question = (this.question = new AbortController()); // closing the list ends the question, too
      const holder = document.createElement("select");
      try {
        const address = this.remote + encodeURIComponent(this.input.value.trim());
        const answer = await fetch(address, { headers: { "X-Requested-With": "fetch" }, signal: question.signal });
        if (!answer.ok || answer.redirected) return;
        holder.innerHTML = await answer.text();
      } catch (fault) {
        if (fault.name === "AbortError") return;
        throw fault;
      }
      if (question.signal.aborted || document.activeElement !== this.input) return;
      this.show([...holder.options].map(asOffer));
    }, WAIT_MS);
  }

  show(offers) {
    this.shown = offers;
    this.list.replaceChildren(...offers.map((offer, at) => this.row(offer, at)));
    const open = offers.length > 0;
    this.list.hidden = !open;
    this.input.setAttribute("aria-expanded", String(open));
    this.mark(open && this.select && this.input.value.trim() ? 0 : -1);
  }

  row(offer, at) {
    const row = document.createElement("li");
    row.id = `${this.list.id}-${at}`;
    row.dataset.at = String(at);
    row.setAttribute("role", "option");
    const words = document.createElement("bdi");
    words.textContent = offer.words;
    row.append(words);
    if (offer.more && offer.more !== offer.words) {
      const more = document.createElement("small");
      more.textContent = offer.more;
      row.append(" ", more);
    }
    return row;
  }

  mark(at) {
    this.active = at;
    [...this.list.children].forEach((row, n) => row.setAttribute("aria-selected", String(n === at)));
    if (at < 0) this.input.removeAttribute("aria-activedescendant");
    else {
      this.input.setAttribute("aria-activedescendant", this.list.children[at].id);
      this.list.children[at].scrollIntoView({ block: "nearest" });
    }
  }

  press(event) {
    const open = !this.list.hidden;
    if (event.key === "ArrowDown" || event.key === "ArrowUp") {
      event.preventDefault();
      if (!open) return this.offer(true);
      const step = event.key === "ArrowDown" ? 1 : -1;
      this.mark((this.active + step + this.shown.length) % this.shown.length);
    } else if (event.key === "Enter" && this.select) {
      event.preventDefault();
      if (open && this.active >= 0) this.take(this.shown[this.active], true);
      else if (this.input.value.trim() && this.select.dataset.free) this.free();
      else if (!this.input.value.trim()) this.take({ value: "", words: "" }, true);
    } else if (event.key === "Enter" && this.known) {
      event.preventDefault();
      if (open && this.active >= 0) this.take(this.shown[this.active]);
      this.close();
    } else if (event.key === "Enter") {
      event.preventDefault();
      if (open && this.active >= 0) this.input.value = this.shown[this.active].value;
      this.close();
      if (this.input.value.trim()) document.getElementById(`${this.input.id}-go`).click();
    } else if (event.key === "Escape" && open) {
      event.stopPropagation();
      this.close();
      this.restore();
    }
  }

  take(offer, onward = false) {
    this.typed = false;
    this.close();
    if (this.known) {
      this.input.value = offer.words;
      this.input.dispatchEvent(new Event("input", { bubbles: true }));
      this.close();
      this.known.value = offer.value;
      return;
    }
    if (!this.select) {
      this.input.value = offer.value;
      document.getElementById(`${this.input.id}-go`).click();
      return;
    }
    if (![...this.select.options].some((option) => option.value === offer.value))
      this.select.add(new Option(offer.words, offer.value));
    const changed = this.select.value !== offer.value;
    this.select.value = offer.value;
    this.input.value = offer.words;
    if (changed) this.select.dispatchEvent(new Event("input", { bubbles: true }));
    if (onward) this.onward();
  }

  free() {
    const field = document.createElement("input");
    field.type = "hidden";
    field.name = this.select.dataset.free;
    field.value = this.input.value.trim();
    this.select.after(field);
    this.select.form.requestSubmit();
    field.remove();
  }

  onward() {
    const next = this.input.closest("[data-next]")?.dataset.next;
    if (next === "submit") this.select.form.requestSubmit();
    else document.dispatchEvent(new CustomEvent("worktable:onward", { detail: { to: next } }));
  }

  leave() {
    if (this.select && this.typed) {
      if (!this.input.value.trim()) this.take({ value: "", words: "" });
      else if (this.active >= 0) this.take(this.shown[this.active]);
      else this.restore();
    }
    this.close();
  }

  restore() {
    this.typed = false;
    if (this.select) this.input.value = this.select.value ? this.select.selectedOptions[0].textContent : "";
  }

  close() {
    clearTimeout(this.waiting);
    this.question?.abort();
    this.list.hidden = true;
    this.active = -1;
    this.input.setAttribute("aria-expanded", "false");
    this.input.removeAttribute("aria-activedescendant");
  }
}

function asOffer(option) {
  const words = option.textContent.trim();
  const more = option.dataset.more ?? "";
  return { value: option.value, words, more, keys: [plain(words), plain(more)] };
}

// At the start of a name before the start of a word before anywhere.
function best(offers, asked) {
  if (!asked) return offers;
  const rank = ({ keys }) => {
    if (keys.some((key) => key.startsWith(asked))) return 0;
    if (keys.some((key) => key.split(/[\s-]+/).some((word) => word.startsWith(asked)))) return 1;
    return keys.some((key) => key.includes(asked)) ? 2 : 3;
  };
  return offers.map((offer) => [rank(offer), offer]).filter(([r]) => r < 3).sort((a, b) => a[0] - b[0]).map(([, offer]) => offer);
}
