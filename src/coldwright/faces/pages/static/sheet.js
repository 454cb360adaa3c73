// The sheet as text: saved only onto the version it was read from.
import { listeners } from "/static/bus.js";

const area = document.getElementById("text");
const lines = document.getElementById("lines");
const state = document.getElementById("sheet-state");
const buttons = { save: document.getElementById("save"), undo: document.getElementById("undo"), redo: document.getElementById("redo") };
let version = "";
let saved = "";

async function call(method, path, body) {
  const answer = await fetch(`/api/v1/sheet${path}`, { method, headers: { "content-type": "application/json" }, body: body && JSON.stringify(body) });
  return [answer, await answer.json()];
}

function take(held) {
  version = held.version;
  saved = held.text;
  area.value = held.text;
  buttons.undo.disabled = !held.can_undo;
  buttons.redo.disabled = !held.can_redo;
  number();
}

function number() {
  const count = area.value.split("\n").length;
  lines.textContent = Array.from({ length: count }, (_, at) => at + 1).join("\n");
  area.style.height = lines.style.height = `${Math.max(20, count + 1) * 1.35}em`;
  buttons.save.disabled = area.value === saved;
}

function toLine() {
  const found = /^#line-(\d+)$/.exec(location.hash);
  if (!found) return;
  const before = area.value.split("\n").slice(0, Number(found[1]) - 1).join("\n");
  const at = before.length + (Number(found[1]) > 1 ? 1 : 0);
  const end = area.value.indexOf("\n", at);
  area.focus();
  area.setSelectionRange(at, end < 0 ? area.value.length : end);
  window.scrollTo({ top: area.getBoundingClientRect().top + window.scrollY + (Number(found[1]) - 8) * 1.35 * 14 });
}

async function load() {
  const [answer, held] = await call("GET", "");
  if (answer.ok) take(held); else state.textContent = held.problem?.message ?? "The file cannot be read.";
}

buttons.save.addEventListener("click", async () => {
  const [answer, held] = await call("PUT", "", { text: area.value, base: version });
  if (answer.ok) { take(held); state.textContent = "Saved."; return; }
  if (answer.status === 409 && held.version) {
    version = held.version;
    state.textContent = "The file was changed meanwhile. Your text still stands here: look at what changed, then save again to put yours in its place.";
    buttons.save.disabled = false;
  } else state.textContent = held.problem?.message ?? "It could not be saved.";
});
for (const name of ["undo", "redo"]) {
  buttons[name].addEventListener("click", async () => {
    const [answer, held] = await call("POST", `/${name}`);
    if (answer.ok) { take(held); state.textContent = ""; } else state.textContent = held.problem?.message ?? "";
  });
}
area.addEventListener("input", number);
area.addEventListener("keydown", (event) => {
  if ((event.ctrlKey || event.metaKey) && event.key === "s") { event.preventDefault(); buttons.save.click(); }
});
listeners.message.push((message) => {
  if (message.type !== "changed") return;
  if (area.value === saved) load(); else state.textContent = "The file was changed meanwhile; your text here is not saved yet.";
});
window.addEventListener("hashchange", toLine);
load().then(toLine);
