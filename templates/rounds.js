// Keeps the ticks of a pattern's rounds in this browser, and shows the round
// at hand on the chart. Pages are whole without it.
(function () {
  "use strict";

  var key = "ticks " + location.pathname.replace(/[^/]*$/, "");

  function load() {
    try { return JSON.parse(localStorage.getItem(key)) || {}; } catch (e) { return {}; }
  }
  function save(ticks) {
    try { localStorage.setItem(key, JSON.stringify(ticks)); } catch (e) { /* kept for this visit only */ }
  }

  var ticks = load();

  function fade(round) {
    var boxes = Array.from(round.querySelectorAll("[data-tick]"));
    round.classList.toggle("done", boxes.length > 0 && boxes.every(function (b) { return b.checked; }));
  }

  document.querySelectorAll(".round").forEach(function (round) {
    round.querySelectorAll("[data-tick]").forEach(function (box) {
      box.checked = Boolean(ticks[box.dataset.tick]);
      box.addEventListener("change", function () {
        if (box.checked) { ticks[box.dataset.tick] = 1; } else { delete ticks[box.dataset.tick]; }
        save(ticks);
        fade(round);
      });
    });
    fade(round);
  });

  // The ring of a round that is pointed at or focused stands out, and the
  // other way about.
  document.querySelectorAll(".piece").forEach(function (piece) {
    var rounds = Array.from(piece.querySelectorAll(".round"));
    var rings = Array.from(piece.querySelectorAll("svg.chart [data-round]"));

    function holds(round, number) {
      return Number(round.dataset.first) <= number && number <= Number(round.dataset.last);
    }
    function show(first, last) {
      rings.forEach(function (ring) {
        var n = Number(ring.dataset.round);
        ring.classList.toggle("at-hand", first <= n && n <= last);
      });
      rounds.forEach(function (round) {
        round.classList.toggle("at-hand", first > 0 && holds(round, first));
      });
      piece.classList.toggle("one-at-hand", first > 0);
    }

    rounds.forEach(function (round) {
      function on() { show(Number(round.dataset.first), Number(round.dataset.last)); }
      round.addEventListener("mouseenter", on);
      round.addEventListener("focusin", on);
      round.addEventListener("mouseleave", function () { show(0, 0); });
    });
    rings.forEach(function (ring) {
      var n = Number(ring.dataset.round);
      ring.addEventListener("mouseenter", function () { show(n, n); });
      ring.addEventListener("focusin", function () { show(n, n); });
      ring.addEventListener("mouseleave", function () { show(0, 0); });
    });
  });
})();
