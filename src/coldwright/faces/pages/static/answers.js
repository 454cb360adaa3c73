// Long answers: asked for when the page opens and when the sheet or a knob changes; progress is
// shown, and they can be stopped.
import { listeners, send } from "/static/bus.js";
import { drawPlot } from "/static/plot.js";
import { makeSortable } from "/static/tables.js";

let asked = "";
let latest = null;

export function startAnswers(view, knobs, again = false) {
  if (!document.body.dataset.answers) return;
  const wish = { type: "answer", view, options: options(), ...knobs.wish() };
  const held = JSON.stringify(wish);
  if (!again && held === asked) return;
  asked = held;
  latest = () => startAnswers(view, knobs, true);
  send(wish);
}

function options() {
  const found = {};
  for (const input of document.querySelectorAll("[data-option]")) found[input.dataset.option] = input.type === "checkbox" ? String(input.checked) : input.value;
  return found;
}

function show(message) {
  const place = document.getElementById("long-answer");
  const state = document.getElementById("long-state");
  if (!place || message.view !== document.body.dataset.view) return;
  place.setAttribute("aria-busy", String(["waiting", "running"].includes(message.state)));
  if (message.state === "done") {
    place.innerHTML = message.html;
    place.classList.remove("stale");
    makeSortable(place);
    for (const figure of place.querySelectorAll("[data-plot]")) drawPlot(figure, JSON.parse(figure.dataset.plot));
    state.replaceChildren();
    window.dispatchEvent(new CustomEvent("coldwright-answer", { detail: message }));
  } else if (message.problem) {
    state.replaceChildren();
    place.textContent = message.problem.message;
  } else if (message.state === "stopped") {
    state.textContent = "Stopped.";
  } else {
    place.classList.add("stale");
    progress(state, message);
  }
}

function progress(state, message) {
  if (!state.querySelector("progress")) {
    state.innerHTML = '<label><span></span><br><progress></progress></label> <button type="button">Stop</button>';
    state.querySelector("button").addEventListener("click", () => send({ type: "stop", view: document.body.dataset.view }));
  }
  state.querySelector("span").textContent = message.said || (message.state === "waiting" ? "Waiting for another answer …" : "Computing …");
  const bar = state.querySelector("progress");
  if (message.share === null) bar.removeAttribute("value"); else bar.value = message.share;
}

listeners.message.push((message) => { if (message.type === "answer") show(message); });
document.getElementById("options")?.addEventListener("submit", (event) => {
  event.preventDefault();
  latest?.();
});

// "Before and after" solves the design with a change in it; "Write" puts it into the sheet.
document.addEventListener("click", async (event) => {
  const button = event.target.closest("[data-edits] button[data-act]");
  if (!button) return;
  const box = button.closest("[data-edits]");
  const note = box.querySelector("[role=status]");
  const edits = JSON.parse(box.dataset.edits);
  note.textContent = "Computing …";
  const write = button.dataset.act === "write";
  const answer = await fetch(write ? "/api/v1/sheet/edits" : "/api/v1/before-after", {
    method: "POST", headers: { "content-type": "application/json" }, body: JSON.stringify({ changes: edits }),
  });
  const held = await answer.json();
  if (!answer.ok) { note.textContent = held.problem?.message ?? "That cannot be done."; return; }
  note.textContent = write ? "Written into the sheet. “Undo” on the sheet's page takes it back." : "";
  if (!write) box.querySelector(".before-after").innerHTML = held.html;
});
