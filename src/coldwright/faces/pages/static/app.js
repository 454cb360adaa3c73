// One page: speaks with the server through a socket, puts what it says into its places.
import { drawPlot } from "/static/plot.js";
import { makeSortable } from "/static/tables.js";
import { Knobs } from "/static/knobs.js";
import { startAnswers } from "/static/answers.js";
import { listeners, send, useSocket } from "/static/bus.js";

const body = document.body;
const view = body.dataset.view;
const state = document.getElementById("state");
const narrow = window.matchMedia("(max-width: 46rem)");
let number = 0;
let wait = 300;
let lastDrawn = -1;

function ask() {
  number += 1;
  const sent = send({ type: "live", view, number, narrow: narrow.matches, ...knobs.wish() });
  body.classList.toggle("updating", sent);
  if (sent && lastDrawn < 0) say("Computing … The very first time it compiles for about a minute.");
}

const knobs = new Knobs({ ask, kept: () => say("Written into the sheet.") });

function connect() {
  const scheme = location.protocol === "https:" ? "wss" : "ws";
  const socket = new WebSocket(`${scheme}://${location.host}/live`);
  useSocket(socket);
  socket.onopen = () => { wait = 300; say(""); ask(); startAnswers(view, knobs); };
  socket.onmessage = (event) => take(JSON.parse(event.data));
  socket.onclose = () => {
    say("The program has stopped. Start it again, and this page goes on by itself.");
    setTimeout(connect, wait);
    wait = Math.min(5000, wait * 1.7);
  };
}

function take(message) {
  if (message.type === "changed") {
    say("The sheet was changed.");
    knobs.sheetChanged();
    ask();
    startAnswers(view, knobs, true);
  } else if (message.type === "live") {
    if (message.number !== null && message.number < lastDrawn) return;
    lastDrawn = message.number ?? lastDrawn;
    draw(message);
    performance.mark(`drawn-${message.number}-${message.settled ? "settled" : "first"}`);
    window.dispatchEvent(new CustomEvent("coldwright-drawn", { detail: message }));
  }
  for (const each of listeners.message) each(message);
}

function say(text) {
  if (state) state.textContent = text;
}

function draw(content) {
  const problem = document.getElementById("problem");
  const answer = document.getElementById("answer");
  if (content.problem) {
    problem.replaceChildren(problemMarkup(content.problem));
    problem.hidden = false;
    answer.hidden = view !== "sheet";
    body.classList.remove("updating");
    return;
  }
  problem.hidden = true;
  answer.hidden = false;
  put("strip", content.strip);
  for (const [name, held] of Object.entries(content.parts)) put(name, held);
  for (const [page, count] of Object.entries(content.counts ?? {})) {
    const place = document.querySelector(`[data-count="${page}"]`);
    if (place) place.textContent = count ? String(count) : "";
  }
  knobs.show(content.knobs);
  body.classList.toggle("updating", content.settled === false);
  say(content.settled === false ? "Intervals are being updated …" : state.dataset.keep ?? "");
}

// Markup goes into its place only where it changed; what is focused there stays focused.
function put(name, held) {
  for (const place of document.querySelectorAll(`[data-part="${name}"]`)) {
    if (held && typeof held === "object" && held.plot) { drawPlot(place, held.plot); continue; }
    if (place.held === held) continue;
    place.held = held;
    const focused = place.contains(document.activeElement) ? document.activeElement : null;
    const again = focused && (focused.dataset?.line ?? focused.id);
    const sorted = place.querySelector("th[aria-sort]");
    const kept = sorted && { at: [...sorted.parentNode.children].indexOf(sorted), way: sorted.getAttribute("aria-sort") };
    if (name === "strip") putStrip(place, held); else place.innerHTML = held;
    makeSortable(place, kept);
    if (again) place.querySelector(`[data-line="${CSS.escape(again)}"], #${CSS.escape(again)}`)?.focus();
  }
}

// Item by item, so that a screen reader hears only what changed.
function putStrip(place, held) {
  const fresh = document.createElement("dl");
  fresh.innerHTML = held;
  if (fresh.children.length !== place.children.length) { place.innerHTML = held; return; }
  [...fresh.children].forEach((item, at) => {
    const old = place.children[at];
    if (old.outerHTML !== item.outerHTML) { old.className = item.className; old.innerHTML = item.innerHTML; }
  });
}

function problemMarkup(problem) {
  const box = document.createElement("div");
  const head = document.createElement("h1");
  head.textContent = problem.message;
  box.append(head);
  if (problem.findings?.length) {
    const list = document.createElement("ul");
    list.className = "findings";
    for (const each of problem.findings) {
      const item = document.createElement("li");
      item.className = `finding ${each.severity}`;
      item.innerHTML = '<span class="mark" aria-hidden="true">▲</span><div></div>';
      item.lastChild.textContent = each.sentence;
      list.append(item);
    }
    box.append(list);
  }
  if (problem.kind === "sheet" && view !== "sheet") {
    const link = document.createElement("p");
    link.innerHTML = '<a>Open the design sheet</a>';
    link.firstChild.href = `/sheet${problem.line ? `#line-${problem.line}` : ""}`;
    box.append(link);
  }
  return box;
}

// A band says what it is: its lines of the ledger, the laws behind them, what widens its interval.
function tellBand(event) {
  const band = event.target.closest?.(".picture .band[data-line]");
  const note = document.getElementById("band-note");
  if (!band || !note) return;
  const held = band.closest("[data-part]").querySelector("[data-notes]");
  const told = held && JSON.parse(held.dataset.notes)[band.dataset.line];
  if (!told) return;
  const head = document.createElement("b");
  head.textContent = `${told.name}, ${told.heat}`;
  const rows = [told.lines.join("; "), ...told.laws];
  if (told.widens.length) rows.push(`What widens its interval most: ${told.widens.join("; ")}`);
  note.replaceChildren(head, ...rows.filter(Boolean).map((row) => {
    const line = document.createElement("span");
    line.textContent = row;
    return line;
  }));
}
for (const kind of ["pointerover", "focusin", "click"]) document.addEventListener(kind, tellBand);

document.querySelector(".menu")?.addEventListener("click", (event) => {
  const open = document.querySelector(".rail").classList.toggle("open");
  event.currentTarget.setAttribute("aria-expanded", String(open));
});
narrow.addEventListener("change", ask);
for (const link of document.querySelectorAll(".rail a[data-page]")) {
  link.addEventListener("click", () => { link.search = knobs.query(); });
}

const first = JSON.parse(document.getElementById("first").textContent);
if (first) draw({ ...first, settled: false });
makeSortable(document.getElementById("main"));
connect();
