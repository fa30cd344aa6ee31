// Puts a button into each heading of the tables of class "sortable": the first press sorts the rows
// upwards, the second downwards, the third puts them back. A figure goes by data-n, the number that it
// says, or by the whole number that it begins with; what has none stays below. Rows of a second body, the sums, stay at the foot. Without this
// script the tables are as they are written.
"use strict";
function sortTables() {
  function number(cell) {
    if (cell.dataset.n !== undefined) { return Number(cell.dataset.n); }
    var whole = cell.className === "n" && /^([+-]?)(\d[\d.,'\u2019\u00a0]*)/.exec(cell.textContent.trim());
    return whole ? Number(whole[1] + whole[2].replace(/\D/g, "")) : NaN;
  }
  function compare(a, b, down) {
    var x = number(a), y = number(b), s = a.textContent.trim(), t = b.textContent.trim();
    if (isNaN(x) !== isNaN(y)) { return isNaN(x) ? 1 : -1; }
    if (!isNaN(x)) { return (down ? -1 : 1) * (x < y ? -1 : x > y ? 1 : 0); }
    if ((s === "") !== (t === "")) { return s === "" ? 1 : -1; }
    return (down ? -1 : 1) * s.localeCompare(t, document.documentElement.lang, { numeric: true });
  }
  function sort(table, k, head) {
    var was = head.getAttribute("aria-sort"), now = was === "ascending" ? "descending" : was === "descending" ? "" : "ascending";
    var body = table.tBodies[0], rows = Array.prototype.slice.call(body.rows);
    rows.forEach(function (row, at) { if (row.dataset.at === undefined) { row.dataset.at = at; } });
    rows.sort(function (a, b) {
      return now && compare(a.cells[k], b.cells[k], now === "descending") || a.dataset.at - b.dataset.at;
    }).forEach(function (row) { body.appendChild(row); });
    Array.prototype.forEach.call(table.tHead.rows[0].cells, function (h) { h.removeAttribute("aria-sort"); });
    if (now) { head.setAttribute("aria-sort", now); }
  }
  document.querySelectorAll("table.sortable").forEach(function (table) {
    Array.prototype.forEach.call(table.tHead.rows[0].cells, function (head, k) {
      if (head.querySelector("button") || !head.textContent) { return; }
      var b = document.createElement("button");
      b.type = "button";
      b.className = "sort";
      b.textContent = head.textContent;
      b.addEventListener("click", function () { sort(table, k, head); });
      head.replaceChildren(b);
    });
  });
}
sortTables();
