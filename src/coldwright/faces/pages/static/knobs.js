// The sliders: they move at once; the address holds where they stand.
export class Knobs {
  constructor({ ask, kept }) {
    this.ask = ask;
    this.onKept = kept;
    this.held = [];
    this.moved = {};
    this.place = document.getElementById("knobs");
    for (const [key, value] of new URLSearchParams(location.search)) {
      if (["drive", "cold", "hot"].includes(key) && Number.isFinite(Number(value))) this.moved[key] = Number(value);
    }
    document.getElementById("keep-button")?.addEventListener("click", () => this.keep());
    document.getElementById("back-button")?.addEventListener("click", () => this.back());
  }

  wish() { return { ...this.moved }; }

  query() {
    const held = new URLSearchParams();
    for (const [key, value] of Object.entries(this.moved)) held.set(key, String(value));
    const text = held.toString();
    return text ? `?${text}` : "";
  }

  show(knobs) {
    this.held = knobs;
    if (!this.place) return;
    const keys = knobs.map((knob) => knob.key).join();
    if (this.place.dataset.keys !== keys) this.build(knobs, keys);
    for (const knob of knobs) {
      const row = this.place.querySelector(`[data-knob="${knob.key}"]`);
      const input = row.querySelector("input");
      input.min = knob.least; input.max = knob.most; input.step = knob.step;
      if (document.activeElement !== input || !(knob.key in this.moved)) input.value = this.moved[knob.key] ?? knob.at;
      this.label(row, knob, Number(input.value));
      row.querySelector(".tick").textContent = `${text(knob, knob.now)} in the sheet`;
    }
    this.tell();
  }

  set(key, value) {
    const knob = this.held.find((each) => each.key === key);
    if (!knob) return;
    if (Math.abs(value - knob.now) < knob.step / 2) delete this.moved[key]; else this.moved[key] = Number(value.toPrecision(4));
    history.replaceState(null, "", location.pathname + this.query() + location.hash);
    const row = this.place?.querySelector(`[data-knob="${key}"]`);
    if (row) { row.querySelector("input").value = value; this.label(row, knob, value); }
    this.tell();
    this.ask();
  }

  setAll(wish) {
    for (const [key, value] of Object.entries(wish)) if (value !== null) this.set(key, value);
  }

  sheetChanged() { /* what was moved stays moved; the sheet's own place is told by the next answer */ }

  build(knobs, keys) {
    this.place.dataset.keys = keys;
    this.place.replaceChildren(...knobs.map((knob) => {
      const row = document.createElement("div");
      row.className = "knob";
      row.dataset.knob = knob.key;
      const id = `knob-${knob.key}`;
      row.innerHTML = `<label for="${id}"></label><output for="${id}"></output><input type="range" id="${id}"><span class="tick"></span>`;
      row.querySelector("label").textContent = knob.label;
      row.querySelector("input").addEventListener("input", (event) => this.set(knob.key, Number(event.target.value)));
      return row;
    }));
  }

  label(row, knob, value) {
    const shown = text(knob, value);
    row.querySelector("output").textContent = shown;
    row.querySelector("input").setAttribute("aria-valuetext", shown);
  }

  tell() {
    const box = document.getElementById("keep");
    if (!box) return;
    const changed = Object.keys(this.moved);
    box.hidden = changed.length === 0;
    document.getElementById("differs").textContent = this.held
      .filter((knob) => changed.includes(knob.key))
      .map((knob) => `${knob.label} ${text(knob, this.moved[knob.key])} instead of ${text(knob, knob.now)}`)
      .join(", ");
  }

  async keep() {
    const wish = { view: "", ...this.moved };
    const answer = await fetch("/api/v1/sheet/keep", { method: "POST", headers: { "content-type": "application/json" }, body: JSON.stringify(wish) });
    if (answer.ok) { this.back(); this.onKept(); }
    else document.getElementById("differs").textContent = (await answer.json()).problem?.message ?? "It could not be written.";
  }

  back() {
    this.moved = {};
    history.replaceState(null, "", location.pathname + location.hash);
    this.tell();
    if (this.place) delete this.place.dataset.keys;
    this.ask();
  }
}

function text(knob, value) {
  const shown = value / knob.factor;
  const step = knob.step / knob.factor;
  const digits = step >= 1 ? 0 : step >= 0.1 ? 1 : 2;
  return `${shown.toFixed(digits)}\u2009${knob.unit}`;
}
