// The pages work without this. With it the bench is swapped in place, what an act showed is
// read aloud, and the keyboard stays where it was.
"use strict";
(function () {
  document.addEventListener("htmx:afterSettle", function () {
    var shown = document.getElementById("shown");
    var live = document.getElementById("live");
    var lost = document.getElementById("lost");
    if (!shown || !live) { return; }
    if (lost) { lost.hidden = true; }
    live.textContent = shown.dataset.say || "";
    var asked = document.querySelector("[data-focus]");
    if (asked) { asked.focus({ preventScroll: true }); }
    var at = document.activeElement;
    if (!at || at === document.body) { shown.focus({ preventScroll: true }); }
    var top = shown.getBoundingClientRect().top;
    if (top < 0 || top > window.innerHeight * 0.6) {
      shown.scrollIntoView({ block: "start" });
    }
  });
  function failed() {
    var lost = document.getElementById("lost");
    if (lost) { lost.hidden = false; }
  }
  document.addEventListener("htmx:sendError", failed);
  document.addEventListener("htmx:responseError", failed);
})();
