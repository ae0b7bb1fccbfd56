// The bench in a page: what would go to a server goes to the program in this page, and what
// it answers is shown. The part of the address after # says which page is shown.
"use strict";
(function () {
  var shown = "";

  function answer(method, path, body) {
    return new Promise(function (done) { window.shimwright(method, path, body, done); });
  }

  // ask asks for a page and goes where the answer leads.
  async function ask(method, path, body) {
    var mark = "";
    for (var n = 0; n < 6; n++) {
      var cut = path.indexOf("#");
      if (cut >= 0) {
        mark = path.slice(cut + 1);
        path = path.slice(0, cut);
      }
      var r = await answer(method, path, body);
      if (!r.location) { return { path: path, mark: mark, page: r }; }
      method = "GET";
      path = r.location;
      body = "";
    }
    throw new Error("the pages lead in a circle");
  }

  function place(mark) {
    var e = mark && document.getElementById(mark);
    if (!e) { return; }
    e.scrollIntoView({ block: "start" });
    e.focus({ preventScroll: true });
  }

  async function show(method, path, body) {
    var got = await ask(method, path, body);
    var doc = new DOMParser().parseFromString(got.page.body, "text/html");
    var at = document.activeElement && document.activeElement.id;
    var same = shown.split("?")[0] === got.path.split("?")[0];
    var asked = doc.querySelector("[autofocus]");
    if (asked) { asked.removeAttribute("autofocus"); } // a page that is put in has no start of its own
    document.title = doc.title;
    document.body.replaceChildren.apply(document.body, Array.from(doc.body.childNodes));
    shown = got.path;
    if (location.hash.slice(1) !== shown) {
      history[same ? "replaceState" : "pushState"](null, "", "#" + shown);
    }
    if (same && method === "POST" && document.getElementById("bench")) {
      var e = at && document.getElementById(at);
      if (e) { e.focus({ preventScroll: true }); }
      document.dispatchEvent(new Event("htmx:afterSettle"));
      return;
    }
    window.scrollTo(0, 0);
    var first = asked || document.getElementById("main");
    if (first) { first.focus({ preventScroll: true }); } // where a reader of the screen begins
    place(got.mark);
  }

  async function download(path) {
    var r = await answer("GET", path, "");
    var name = /filename="([^"]+)"/.exec(r.file);
    var a = document.createElement("a");
    a.href = URL.createObjectURL(new Blob([r.body], { type: "application/x-ndjson" }));
    a.download = name ? name[1] : "attempt.jsonl";
    a.click();
    setTimeout(function () { URL.revokeObjectURL(a.href); }, 10000);
  }

  document.addEventListener("click", function (event) {
    var a = event.target.closest("a[href]");
    var to = a && a.getAttribute("href");
    if (!a || to.startsWith("blob:")) { return; }
    event.preventDefault();
    if (to.startsWith("#")) {
      place(to.slice(1));
    } else if (a.hasAttribute("download")) {
      download(to);
    } else {
      show("GET", to, "");
    }
  });

  document.addEventListener("submit", async function (event) {
    event.preventDefault();
    var form = event.target;
    var sent = new URLSearchParams();
    for (var pair of new FormData(form, event.submitter)) {
      sent.append(pair[0], typeof pair[1] === "string" ? pair[1] : await pair[1].text());
    }
    show("POST", form.getAttribute("action"), sent.toString());
  });

  window.addEventListener("hashchange", function () {
    var path = location.hash.slice(1) || "/";
    if (path.startsWith("/") && path !== shown) { show("GET", path, ""); }
  });
  window.addEventListener("popstate", function () {
    var path = location.hash.slice(1) || "/";
    if (path.startsWith("/") && path !== shown) { show("GET", path, ""); }
  });

  window.shimwrightReady = function () {
    var path = location.hash.slice(1);
    show("GET", path.startsWith("/") ? path : "/", "");
  };

  function script(name) {
    return new Promise(function (done, failed) {
      var s = document.createElement("script");
      s.src = name;
      s.onload = done;
      s.onerror = function () { failed(new Error(name + " is missing")); };
      document.head.append(s);
    });
  }

  // program is the bench, packed. A folder that is opened from a disk allows no fetching: there
  // it stands in a script.
  async function program() {
    if (location.protocol !== "file:") { return (await fetch("bench.wasm.gz")).body; }
    await script("bench.wasm.js");
    var packed = atob(globalThis.shimwrightProgram);
    var bytes = new Uint8Array(packed.length);
    for (var i = 0; i < packed.length; i++) { bytes[i] = packed.charCodeAt(i); }
    return new Blob([bytes]).stream();
  }

  async function load() {
    var unpacked = (await program()).pipeThrough(new DecompressionStream("gzip"));
    var go = new Go();
    var made = await WebAssembly.instantiate(await new Response(unpacked).arrayBuffer(), go.importObject);
    go.run(made.instance);
  }

  load().catch(function (err) {
    var p = document.getElementById("loading");
    if (p) { p.textContent = "The bench could not be loaded: " + err.message; }
  });
  if ("serviceWorker" in navigator && location.protocol !== "file:") {
    navigator.serviceWorker.register("sw.js").catch(function () {}); // without it nothing is kept for later
  }
})();
