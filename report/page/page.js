// Follows a run without touching what is typed meanwhile, and counts what is typed and not run.
// Without it the page works too; only progress then asks for a reload.
"use strict";
(function () {
  var form = document.getElementById("plan-form"), count = document.getElementById("typed"), leaving = false;

  // What was typed since the page was shown.
  function typed() {
    return Array.prototype.filter.call(form.elements, function (e) {
      if (e.name.slice(0, 2) !== "n:" && e.inputMode !== "numeric") { return false; }
      if (e.options) { return !e.options[e.selectedIndex].defaultSelected; }
      return e.value !== e.defaultValue;
    });
  }
  function tell() {
    var n = typed().length;
    count.hidden = n === 0;
    count.textContent = n === 1 ? count.dataset.single : count.dataset.plural.replace("{}", n);
  }
  if (form) {
    form.addEventListener("input", tell);
    form.addEventListener("submit", function (e) {
      if (e.submitter && e.submitter.id === "stop") { // stopping leaves the page as it is
        e.preventDefault();
        fetch(e.submitter.formAction, { method: "POST", body: new URLSearchParams({ token: form.elements.token.value }), redirect: "manual" });
        return;
      }
      leaving = true;
    });
    window.addEventListener("pageshow", function () { leaving = false; tell(); });
    window.addEventListener("beforeunload", function (e) { if (!leaving && typed().length) { e.preventDefault(); } });
  }

  // Takes the answer from the server, and nothing else of the page.
  function finished(box) {
    fetch("/plan/" + box.dataset.plan, { cache: "no-store" }).then(function (r) { return r.text(); }).then(function (text) {
      var fresh = new DOMParser().parseFromString(text, "text/html"), idle = document.activeElement === document.body || box.contains(document.activeElement);
      ["answer", "run-state"].forEach(function (id) {
        document.getElementById(id).replaceWith(document.importNode(fresh.getElementById(id), true));
      });
      sortTables();
      if (idle) { document.getElementById("answer").focus({ preventScroll: true }); document.getElementById("answer").scrollIntoView(); }
    }).catch(function () { setTimeout(function () { finished(box); }, 2000); });
  }
  var box = document.getElementById("under-way");
  function look() {
    fetch("/plan/" + box.dataset.plan + "/status", { cache: "no-store" }).then(function (r) { return r.json(); }).then(function (s) {
      if (!s.under_way) { finished(box); return; }
      document.getElementById("said").textContent = s.said;
      var bar = document.getElementById("bar");
      if (s.percent < 0) { bar.removeAttribute("value"); } else { bar.value = s.percent; }
      setTimeout(look, 500);
    }).catch(function () { setTimeout(look, 2000); });
  }
  if (box) { setTimeout(look, 300); }
})();
