// Tables that sort by a click on a heading, and that can be searched.
export function makeSortable(place, kept = null) {
  for (const table of place.querySelectorAll("table[data-sortable]")) {
    if (table.sortable) continue;
    table.sortable = true;
    const heads = [...table.tHead.rows[0].cells];
    heads.forEach((head, at) => {
      const button = document.createElement("button");
      button.type = "button";
      button.append(...head.childNodes);
      head.append(button);
      button.addEventListener("click", () => {
        const way = head.getAttribute("aria-sort") === "descending" ? "ascending" : "descending";
        sort(table, heads, at, way);
      });
    });
    if (kept && heads[kept.at]) sort(table, heads, kept.at, kept.way);
    if (table.tBodies[0].rows.length > 12) addFilter(table);
  }
}

function sort(table, heads, at, way) {
  for (const head of heads) head.removeAttribute("aria-sort");
  heads[at].setAttribute("aria-sort", way);
  const numeric = heads[at].dataset.sort === "number";
  const sign = way === "ascending" ? 1 : -1;
  const rows = [...table.tBodies[0].rows];
  rows.sort((one, other) => sign * compare(key(one.cells[at], numeric), key(other.cells[at], numeric)));
  table.tBodies[0].append(...rows);
}

function key(cell, numeric) {
  const held = cell.dataset.by ?? cell.textContent.trim();
  if (!numeric) return held.toLowerCase();
  const number = Number(String(held).replace("−", "-").replace(/[^0-9.eE+-]/g, ""));
  return Number.isFinite(number) && held !== "" ? number : null;
}

function compare(one, other) {
  if (one === null || other === null) return one === other ? 0 : one === null ? 1 : -1;
  return one < other ? -1 : one > other ? 1 : 0;
}

function addFilter(table) {
  const box = document.createElement("p");
  box.className = "filter";
  box.innerHTML = '<label>Show only rows with <input type="search" size="18"></label>';
  const input = box.querySelector("input");
  input.addEventListener("input", () => {
    const wanted = input.value.trim().toLowerCase();
    for (const row of table.tBodies[0].rows) row.hidden = wanted !== "" && !row.textContent.toLowerCase().includes(wanted);
  });
  table.closest(".scroll").before(box);
}
