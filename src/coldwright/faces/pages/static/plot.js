// A plot of curves over one knob: the point stands on them, levels are drawn and named, a dragged
// span is magnified (Escape or the button takes it back).
const NS = "http://www.w3.org/2000/svg";
const W = 460, H = 290, LEFT = 46, RIGHT = 14, TOP = 14, BOTTOM = 40;

export function drawPlot(place, plot) {
  place.plot = plot;
  place.span ??= null;
  const svg = make("svg", { viewBox: `0 0 ${W} ${H}`, class: "plot", role: "img", "aria-label": summary(plot) });
  const all = plot.xs;
  const span = place.span ?? [Math.min(0, all[0]), all[all.length - 1]];
  const inside = (x) => x >= span[0] && x <= span[1];
  const ys = plot.curves.flatMap((curve) => curve.ys.filter((y, i) => y !== null && inside(all[i])));
  ys.push(...plot.levels.map((level) => level.y));
  plot.curves.forEach((curve) => { if (curve.at !== null && plot.x.now !== null && inside(plot.x.now)) ys.push(curve.at); });
  if (!ys.length) { place.replaceChildren(title(plot)); return; }
  const yTicks = ticks(Math.min(...ys), Math.max(...ys), 5);
  const low = Math.min(yTicks[0], ...ys), high = Math.max(yTicks[yTicks.length - 1], ...ys);
  const toX = (x) => LEFT + ((x - span[0]) / (span[1] - span[0])) * (W - LEFT - RIGHT);
  const toY = (y) => H - BOTTOM - ((y - low) / (high - low || 1)) * (H - TOP - BOTTOM);
  for (const y of yTicks) {
    svg.append(make("line", { class: "grid", x1: LEFT, x2: W - RIGHT, y1: toY(y), y2: toY(y) }));
    svg.append(label(LEFT - 6, toY(y) + 4, short(y, yTicks), "end", "soft"));
  }
  const xTicks = ticks(span[0], span[1], 5).filter(inside);
  for (const x of xTicks) svg.append(label(toX(x), H - BOTTOM + 16, short(x, xTicks), "middle", "soft"));
  svg.append(make("line", { class: "axis", x1: LEFT, x2: W - RIGHT, y1: H - BOTTOM, y2: H - BOTTOM }));
  svg.append(label(W - RIGHT, H - 6, `${plot.x.name}, ${plot.x.unit}`, "end", "soft"));
  svg.append(label(4, 10, plot.y.unit || "", "start", "soft"));
  const taken = [];
  for (const level of plot.levels) {
    svg.append(make("line", { class: "level", x1: LEFT, x2: W - RIGHT, y1: toY(level.y), y2: toY(level.y) }));
    svg.append(label(LEFT + 5, free(toY(level.y) - 5, LEFT + 5, taken), level.name, "start", "halo"));
  }
  if (plot.x.now !== null && inside(plot.x.now)) svg.append(make("line", { class: "now", x1: toX(plot.x.now), x2: toX(plot.x.now), y1: TOP, y2: H - BOTTOM }));
  plot.curves.forEach((curve, at) => {
    svg.append(make("path", { class: `curve c${at}`, d: path(all, curve.ys, toX, toY, inside) }));
  });
  plot.curves.forEach((curve, at) => {
    if (curve.at !== null && plot.x.now !== null && inside(plot.x.now)) svg.append(make("circle", { class: "dot", cx: toX(plot.x.now), cy: toY(curve.at), r: 5 }));
    const end = lastKnown(all, curve.ys, inside);
    if (end < 0) return;
    const y = free(Math.max(TOP + 10, toY(curve.ys[end]) - 7), W - RIGHT - 120, taken);
    svg.append(label(Math.min(toX(all[end]), W - RIGHT), y, curve.name, "end", "halo"));
  });
  const box = make("rect", { x: LEFT, y: TOP, width: W - LEFT - RIGHT, height: H - TOP - BOTTOM, fill: "transparent" });
  svg.append(box);
  zoom(place, plot, svg, box, span);
  const parts = [title(plot), svg];
  if (place.span) parts.push(backButton(place, plot));
  parts.push(details(plot));
  place.replaceChildren(...parts);
}

function zoom(place, plot, svg, box, span) {
  let from = null, mark = null;
  const at = (event) => {
    const rect = svg.getBoundingClientRect();
    const x = ((event.clientX - rect.left) / rect.width) * W;
    return span[0] + ((Math.min(Math.max(x, LEFT), W - RIGHT) - LEFT) / (W - LEFT - RIGHT)) * (span[1] - span[0]);
  };
  const toX = (x) => LEFT + ((x - span[0]) / (span[1] - span[0])) * (W - LEFT - RIGHT);
  box.addEventListener("pointerdown", (event) => {
    from = at(event);
    mark = make("rect", { y: TOP, height: H - TOP - BOTTOM, fill: "currentColor", opacity: 0.12 });
    svg.append(mark);
    box.setPointerCapture(event.pointerId);
    place.busy = true;
  });
  box.addEventListener("pointermove", (event) => {
    if (from === null) return;
    const [a, b] = [from, at(event)].sort((p, q) => p - q);
    mark.setAttribute("x", toX(a)); mark.setAttribute("width", toX(b) - toX(a));
  });
  box.addEventListener("pointerup", (event) => {
    if (from === null) return;
    const [a, b] = [from, at(event)].sort((p, q) => p - q);
    from = null;
    mark.remove();
    if (b - a > 0.04 * (span[1] - span[0])) { place.span = [a, b]; drawPlot(place, place.plot); }
  });
}

function backButton(place, plot) {
  const button = document.createElement("button");
  button.type = "button";
  button.className = "small";
  button.textContent = "Show all of it";
  button.addEventListener("click", () => { place.span = null; drawPlot(place, place.plot); });
  return button;
}

function title(plot) {
  const held = document.createElement("p");
  held.className = "plot-title";
  held.textContent = plot.y.name;
  return held;
}

// The same numbers for those who cannot see the curves.
function details(plot) {
  const box = document.createElement("details");
  box.className = "small soft";
  const head = document.createElement("summary");
  head.textContent = "As numbers";
  box.append(head);
  box.addEventListener("toggle", () => {
    if (!box.open || box.children.length > 1) return;
    const table = document.createElement("table");
    const row = (cells, tag) => {
      const line = document.createElement("tr");
      for (const cell of cells) { const made = document.createElement(tag); made.className = "number"; made.textContent = cell; line.append(made); }
      return line;
    };
    table.append(row([plot.x.unit, ...plot.curves.map((curve) => curve.name)], "th"));
    const step = Math.max(1, Math.floor(plot.xs.length / 12));
    for (let i = step - 1; i < plot.xs.length; i += step) {
      table.append(row([plot.xs[i].toPrecision(3), ...plot.curves.map((curve) => curve.ys[i] === null ? "none" : curve.ys[i].toPrecision(3))], "td"));
    }
    box.append(table);
  });
  return box;
}

function summary(plot) {
  if (plot.x.now === null) return `${plot.y.name} over ${plot.x.name}.`;
  const now = plot.curves.filter((curve) => curve.shown).map((curve) => `${curve.name} ${curve.shown}`).join(", ");
  return `${plot.y.name} over ${plot.x.name}. Now: ${now}.`;
}

function path(xs, ys, toX, toY, inside) {
  let d = "", pen = "M";
  ys.forEach((y, i) => {
    if (y === null || !inside(xs[i])) { pen = "M"; return; }
    d += `${pen}${toX(xs[i]).toFixed(1)} ${toY(y).toFixed(1)}`;
    pen = "L";
  });
  return d;
}

function lastKnown(xs, ys, inside) {
  for (let i = ys.length - 1; i >= 0; i -= 1) if (ys[i] !== null && inside(xs[i])) return i;
  return -1;
}

// A place for a label where no other label stands.
function free(y, x, taken) {
  let found = y;
  for (let i = 0; i < 12 && taken.some((other) => Math.abs(other - found) < 14); i += 1) found += 14;
  if (found > H - BOTTOM - 4) { found = y; for (let i = 0; i < 12 && taken.some((other) => Math.abs(other - found) < 14); i += 1) found -= 14; }
  taken.push(found);
  return found;
}

export function ticks(low, high, about) {
  const span = high - low || Math.abs(high) || 1;
  const raw = span / about;
  const decade = 10 ** Math.floor(Math.log10(raw));
  const step = [1, 2, 5, 10].map((each) => each * decade).find((each) => each >= raw) ?? 10 * decade;
  const found = [];
  for (let tick = Math.floor(low / step) * step; tick <= high + step * 0.999; tick += step) found.push(Math.abs(tick) < step / 1e6 ? 0 : tick);
  return found;
}

function short(value, among) {
  const step = among.length > 1 ? Math.abs(among[1] - among[0]) : 1;
  const digits = Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
  return value.toFixed(Math.min(digits, 4)).replace("-", "−");
}

function label(x, y, text, anchor, style) {
  const made = make("text", { x, y, "text-anchor": anchor, class: style });
  made.textContent = text;
  return made;
}

function make(name, attributes) {
  const made = document.createElementNS(NS, name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  return made;
}
