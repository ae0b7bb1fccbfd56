// Keeps the files of the bench, so that it opens without a network. VERSION changes with them.
"use strict";
var kept = "shimwright-VERSION";
var files = ["./", "index.html", "bench.css", "bench.js", "icon.svg", "site.js", "wasm_exec.js", "bench.wasm.gz"];
self.addEventListener("install", function (event) {
  event.waitUntil(caches.open(kept).then(function (c) { return c.addAll(files); }).then(function () { return self.skipWaiting(); }));
});
self.addEventListener("activate", function (event) {
  event.waitUntil(caches.keys().then(function (all) {
    return Promise.all(all.filter(function (k) { return k.startsWith("shimwright-") && k !== kept; }).map(function (k) { return caches.delete(k); }));
  }).then(function () { return self.clients.claim(); }));
});
self.addEventListener("fetch", function (event) {
  if (event.request.method !== "GET") { return; }
  event.respondWith(caches.match(event.request, { ignoreSearch: true }).then(function (r) { return r || fetch(event.request); }));
});
