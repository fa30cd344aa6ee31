// Follows a run: asks how far it has come and shows the answer when it has ended.
"use strict";
(function () {
  var box = document.getElementById("under-way");
  if (!box) { return; }
  var percent = document.getElementById("percent"), bar = document.getElementById("bar");
  function look() {
    fetch("/plan/" + box.dataset.plan + "/status", { cache: "no-store" }).then(function (r) { return r.json(); }).then(function (s) {
      percent.textContent = s.percent;
      bar.value = s.percent;
      if (s.under_way) { setTimeout(look, 500); } else { location.reload(); }
    }).catch(function () { setTimeout(look, 2000); });
  }
  setTimeout(look, 300);
})();
