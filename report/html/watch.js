function (events) {
  "use strict";
  // What is open and where the reader is lives through the next page; what
  // differs there is marked and told. One page of one tab keeps it.
  var key = "guardband" + location.pathname, root = document.documentElement, version = +root.dataset.version;
  function all(what) { return Array.prototype.slice.call(document.querySelectorAll(what)); }
  function hash(s) { for (var h = 0, i = 0; s.length > i; i++) { h = h * 31 + s.charCodeAt(i) | 0; } return h; }
  function claims() {
    var out = {};
    all('[data-verdict][id^="claim-"]').forEach(function (e) { out[e.id] = [e.dataset.verdict, hash(e.textContent)]; });
    return out;
  }
  // A fold is known by what it stands in and its number there.
  function folds() {
    var n = {};
    return all("details").map(function (e) {
      var near = e.id || (e.parentNode.closest("[id]") || {}).id || "";
      n[near] = (n[near] || 0) + 1;
      return [near + "/" + n[near], e];
    });
  }
  function place() {
    var at = null;
    all("main [id], header [id]").forEach(function (e) {
      var top = e.getBoundingClientRect().top;
      if (e.getClientRects().length && (!at || Math.abs(at[1]) > Math.abs(top))) { at = [e.id, top]; }
    });
    return at;
  }
  function keep() {
    history.scrollRestoration = "manual";
    var field = document.getElementById("search"), shown = document.querySelector("input[name=show]:checked");
    var open = {};
    folds().forEach(function (f) { open[f[0]] = f[1].open; });
    try {
      sessionStorage.setItem(key, JSON.stringify({
        open: open, at: place(), theme: root.dataset.theme || "", search: field ? field.value : "",
        shown: shown ? shown.id : "", claims: claims()
      }));
    } catch (full) { sessionStorage.removeItem(key); }
  }
  function restore(was) {
    if (was.theme && was.theme !== root.dataset.theme) {
      document.querySelector(".theme").click();
      if (was.theme !== root.dataset.theme) { document.querySelector(".theme").click(); }
    }
    folds().forEach(function (f) { if (f[0] in was.open) { f[1].open = was.open[f[0]]; } });
    var field = document.getElementById("search"), shown = was.shown && document.getElementById(was.shown);
    if (shown && !shown.checked) { shown.checked = true; shown.dispatchEvent(new Event("change")); }
    if (field && was.search) { field.value = was.search; field.dispatchEvent(new Event("input")); }
    var at = was.at && document.getElementById(was.at[0]), tries = 0;
    // What was never drawn has a height that is only guessed: look again until nothing moves.
    (function settle() {
      if (!at || !(Math.abs(at.getBoundingClientRect().top - was.at[1]) > 1) || ++tries > 20) { return; }
      at.scrollIntoView();
      scrollBy(0, at.getBoundingClientRect().top - was.at[1]);
      requestAnimationFrame(settle);
    })();
  }
  function tell(was) {
    var now = claims(), turned = [], other = 0, gone = 0, said = [];
    Object.keys(now).forEach(function (id) {
      var old = was[id];
      if (old && old[0] === now[id][0] && old[1] === now[id][1]) { return; }
      document.getElementById(id).classList.add("changed");
      if (old && old[0] === now[id][0]) { other++; return; }
      turned.push(id.slice(6) + ": " + (old ? old[0] + ", now " : "new, ") + now[id][0]);
    });
    Object.keys(was).forEach(function (id) { if (!now[id]) { gone++; } });
    if (turned.length) { said.push(turned.slice(0, 5).join("; ") + (turned.length > 5 ? " and " + (turned.length - 5) + " more" : "")); }
    if (other) { said.push("other figures in " + other + (other > 1 ? " claims" : " claim")); }
    if (gone) { said.push(gone + (gone > 1 ? " claims are" : " claim is") + " gone"); }
    var p = document.createElement("p");
    p.className = "refreshed";
    p.setAttribute("role", "status");
    document.body.insertBefore(p, document.body.firstChild);
    setTimeout(function () { p.textContent = "Refreshed. " + (said.join("; ") || "No claim changed") + "."; }, 50);
  }
  var was = null;
  try { was = JSON.parse(sessionStorage.getItem(key)); sessionStorage.removeItem(key); } catch (none) { was = null; }
  history.scrollRestoration = was ? "manual" : "auto";
  if (was) { restore(was); tell(was.claims); }
  new EventSource(events).onmessage = function (e) {
    if (+e.data !== version) { keep(); location.reload(); }
  };
}
