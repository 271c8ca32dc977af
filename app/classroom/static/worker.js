/*
 * Keeps the page itself on the device, so that it opens without a net. It holds the files of one
 * version and nothing about a class: packs and records never pass through here.
 */
const VERSION = "{{version}}";
const FILES = {{files}};
const SHELL = new URL("../classroom", self.location.href).href;
const STORE = `roundelay classroom ${VERSION}`;

self.addEventListener("install", (event) => {
  const addresses = [SHELL, ...FILES.map((name) => new URL(`files/${name}`, self.location.href).href)];
  event.waitUntil(caches.open(STORE).then((store) => Promise.all(addresses.map((one) => put(store, one)))));
});

/** Only a whole and right answer is kept: a page that leads to the sign-in is not the shell. */
async function put(store, address) {
  const answer = await fetch(address, { cache: "reload", redirect: "error" });
  if (!answer.ok) throw new Error(`${address}: ${answer.status}`);
  await store.put(address, answer);
}

self.addEventListener("activate", (event) => {
  event.waitUntil(
    caches.keys()
      .then((names) => names.filter((name) => name.startsWith("roundelay classroom ") && name !== STORE))
      .then((old) => Promise.all(old.map((name) => caches.delete(name))))
      .then(() => self.clients.claim()),
  );
});

self.addEventListener("message", (event) => {
  if (event.data === "take over") self.skipWaiting();
});

self.addEventListener("fetch", (event) => {
  const { request } = event;
  if (request.method !== "GET") return;
  const address = new URL(request.url);
  // With a question behind it the address is for the server to answer.
  const isShell = request.mode === "navigate" && address.href.split("#")[0] === SHELL;
  const isFile = address.href.startsWith(new URL("files/", self.location.href).href);
  if (!isShell && !isFile) return;
  const wanted = isShell ? SHELL : address.href.split(/[?#]/)[0];
  event.respondWith(
    caches.open(STORE).then((store) => store.match(wanted)).then((kept) => kept ?? fetch(request)),
  );
});
