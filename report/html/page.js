"use strict";
(function () {
  var root = document.documentElement, block = document.querySelector(".block");
  // A button for the page's colours; without script they follow the system.
  var dark = matchMedia("(prefers-color-scheme: dark)");
  var button = document.createElement("button");
  button.type = "button";
  button.className = "theme";
  function isDark() { return root.dataset.theme ? root.dataset.theme === "dark" : dark.matches; }
  function name() { button.textContent = isDark() ? "Light page" : "Dark page"; }
  button.addEventListener("click", function () { root.dataset.theme = isDark() ? "light" : "dark"; name(); });
  dark.addEventListener("change", name);
  name();
  block.insertBefore(button, block.firstChild);

  // Search narrows what the radio buttons show.
  var field = document.getElementById("search"), found = document.getElementById("found");
  if (!field) { return; }
  field.parentNode.hidden = false;
  var items = Array.prototype.slice.call(document.querySelectorAll("[data-verdict]")), texts = null, all = document.getElementById("show-all");
  var rows = document.querySelectorAll('[id^="claim-"]');
  function fold(s) { return s.normalize("NFKC").toLowerCase().replace(/\s+/g, " "); }
  function show() {
    var words = fold(field.value).split(" ").filter(Boolean), picked = document.querySelector("input[name=show]:checked").id.slice(5);
    if (words.length && !texts) { texts = items.map(function (e) { return fold(e.textContent); }); }
    items.forEach(function (e, i) {
      var hit = words.every(function (w) { return texts[i].indexOf(w) >= 0; });
      e.classList.toggle("miss", !hit);
    });
    document.body.classList.toggle("searching", words.length > 0);
    var shown = 0;
    rows.forEach(function (e) { e = e.closest("[data-verdict]"); if (!e.classList.contains("miss") && (picked === "all" || e.dataset.verdict === picked)) { shown++; } });
    found.textContent = words.length || picked !== "all" ? shown + " of " + rows.length + " claims shown" : "";
  }
  var wait = 0;
  field.addEventListener("input", function () { clearTimeout(wait); wait = setTimeout(show, 120); });
  document.querySelectorAll("input[name=show]").forEach(function (e) { e.addEventListener("change", show); });
  // A link to something that the filter hides shows everything again.
  function reveal() {
    var to = document.getElementById(decodeURIComponent(location.hash.slice(1)));
    if (!to) { return; }
    var fold = to.closest("details");
    if (fold) { fold.open = true; }
    var picked = document.querySelector("input[name=show]:checked").id.slice(5), verdict = to.dataset.verdict;
    if (verdict && (picked !== "all" && verdict !== picked || to.classList.contains("miss")) || !to.checkVisibility()) { field.value = ""; all.checked = true; show(); to.scrollIntoView(); }
    if (to.matches("article,tr,section")) { to.tabIndex = -1; to.focus({ preventScroll: true }); }
  }
  addEventListener("hashchange", reveal);
  show();
  if (location.hash) { reveal(); }
})();
