// The board renews itself: by a stream of events or, where that fails, by asking again.
"use strict";
(function () {
  var board = document.getElementById("board");
  if (!board) { return; }
  var asking = null;
  function ask() {
    fetch(board.dataset.rows).then(function (r) {
      if (!r.ok) { throw new Error(String(r.status)); }
      return r.text();
    }).then(function (rows) { board.innerHTML = rows; }).catch(function () {});
  }
  function askAgain() {
    if (!asking) { asking = window.setInterval(ask, 5000); }
  }
  if (!window.EventSource) { askAgain(); return; }
  var live = new EventSource(board.dataset.live);
  live.onmessage = function (e) {
    board.innerHTML = e.data;
    if (asking) { window.clearInterval(asking); asking = null; }
  };
  live.onerror = askAgain;
})();
