/* Pages without signal: asks the garden's machine first, and after a short wait shows the copy kept here.

Only pages that the machine marks are kept (the sheet, plantings, the round, what is asked of a trouble, the forms for
entries), and only those of the session that is in: another session's mark, or the way in or out, throws every copy away.
Where a page was asked something else than what is kept of it, the copy that was asked last stands in and says so. */
"use strict";
importScripts("/static/queue.js");

const PAGES = "kailyard-pages-1", FILES = "kailyard-files-1";
const MARK = "Kailyard-Keep", AT = "Kailyard-Kept-At", COPY = "Kailyard-Copy";
/* Pages that answer questions: without signal the answer to another question about the same plant is still of use. */
const ASKED = /^\/(what$|options\/|check\/)/;
const PATIENCE_MS = 3000, LONG_PATIENCE_MS = 10_000, MOST_PAGES = 500, MOST_AHEAD = 60;

/* Goes up whenever the copies are thrown away: what was asked for before that is no longer kept. */
let thrown = 0;
const forget = () => { thrown += 1; return caches.delete(PAGES); };

addEventListener("install", event => event.waitUntil(skipWaiting()));
addEventListener("activate", event => event.waitUntil((async () => {
  for (const name of await caches.keys()) if (name !== PAGES && name !== FILES) await caches.delete(name);
  await clients.claim();
})()));

addEventListener("fetch", event => {
  const { request } = event, address = new URL(request.url);
  if (address.origin !== location.origin) return;
  if (address.pathname.startsWith("/static/")) return event.respondWith(file(request, address, event));
  if (["/login", "/logout"].includes(address.pathname)) return event.waitUntil(forget());
  if (request.mode === "navigate" && request.method === "GET") event.respondWith(page(request, address, event));
});

addEventListener("sync", event => event.waitUntil((async () => {
  const sent = await kailyard.send();
  if (!sent.reached) throw new Error("No signal yet.");
})()));

addEventListener("message", event => {
  event.waitUntil(fetchAll(event.data.keep));
});

/* A file's address holds its digest, so what is kept under it is right for ever; an older one is better than none. */
async function file(request, address, event) {
  const kept = await caches.open(FILES);
  const there = await kept.match(request);
  if (there && address.searchParams.has("v")) return there;
  const older = there ?? await kept.match(request, { ignoreSearch: true });
  try {
    const answer = await fetch(request, older && { signal: AbortSignal.timeout(PATIENCE_MS) });
    if (answer.ok) event.waitUntil(keepFile(request, answer.clone()));
    return answer;
  } catch (error) {
    if (older) return older;
    throw error;
  }
}

/* Read whole before it is put away: while a copy is written nobody can read another. */
async function keepFile(request, answer) {
  const kept = await caches.open(FILES), copy = new Response(await answer.blob(), { headers: answer.headers });
  for (const old of await kept.keys(request, { ignoreSearch: true })) if (old.url !== request.url) await kept.delete(old);
  await kept.put(request, copy);
}

async function page(request, address, event) {
  const asked = fetch(request), before = thrown;
  // An entry was just made: the copies of the sheet and of the page it was made on are behind.
  if (address.searchParams.has("kept")) event.waitUntil(asked.then(() => fetchAll(["/", address.pathname])).catch(() => 0));
  event.waitUntil(asked.then(answer => keepPage(address, answer, before)).catch(() => undefined));
  const pages = await caches.open(PAGES);
  const same = await pages.match(key(address)), there = same ?? await like(pages, address);
  try {
    const first = await Promise.race([asked, tooLong(there ? PATIENCE_MS : LONG_PATIENCE_MS)]);
    if (first) return first;
  } catch { /* no signal */ }
  return there ? asOf(there, !same) : nothing(address);
}

/* The copy of the same page about the same plant that was put away last. */
async function like(pages, address) {
  const about = url => `${url.pathname} ${url.searchParams.get("of") ?? ""}`;
  if (!ASKED.test(address.pathname)) return undefined;
  const keys = await pages.keys(), last = keys.reverse().find(each => about(new URL(each.url)) === about(address));
  return last && pages.match(last);
}

const tooLong = wait => new Promise(well => setTimeout(well, wait));

function key(address) {
  const plain = new URL(address);
  plain.hash = "";
  return plain.href;
}

async function keepPage(address, answer, before) {
  const mark = answer.headers.get(MARK);
  if (!answer.ok || mark === null || address.searchParams.has("kept")) return;
  const copy = answer.clone(), headers = new Headers(copy.headers);
  headers.set(AT, new Date().toISOString());
  for (const name of ["Content-Encoding", "Content-Length", "Set-Cookie"]) headers.delete(name);
  const text = await copy.text();
  if (thrown !== before) return;
  const pages = await caches.open(PAGES), keys = await pages.keys();
  const last = keys.length && await pages.match(keys.at(-1));
  if (last && last.headers.get(MARK) !== mark) for (const other of keys) await pages.delete(other);
  for (const old of keys.slice(0, Math.max(0, keys.length - MOST_PAGES))) await pages.delete(old);
  await pages.delete(key(address));
  await pages.put(key(address), new Response(text, { headers }));
  for (const [, name] of text.matchAll(/"(\/static\/[^"]+)"/g)) await fetchFile(new URL(name, address));
  return text;
}

async function asOf(there, otherwise) {
  const at = there.headers.get(AT), text = await there.clone().text();
  const marked = text.replace("<html ", `<html data-as-of="${at}" `).replace("<main ",
    `<p class="message as-of" role="status">No signal: this page is as of ${moment(new Date(at))}${
      otherwise ? ", and answers what was asked then" : ""}.</p>\n<main `);
  return new Response(marked, { headers: there.headers });
}

function moment(at) {
  const time = at.toLocaleTimeString("en-GB", { hour: "2-digit", minute: "2-digit" });
  if (at.toDateString() === new Date().toDateString()) return time;
  return `${at.toLocaleDateString("en-GB", { day: "numeric", month: "long" })}, ${time}`;
}

/* Another day's sheet, a planting never looked at: say so, with the way to what there is. */
async function nothing(address) {
  const pages = await caches.open(PAGES);
  const sheet = await pages.match(new URL("/", address).href);
  if (!sheet) return Response.error();
  const text = (await sheet.text()).replace("<html ", '<html data-as-of="none" ').replace(/<title>[^]*?<\/title>/,
    "<title>No signal</title>").replace(/<main [^]*<\/main>/,
    `<main id="main" tabindex="-1"><header><h1>No signal</h1></header><p class="form">This page is not kept on this
device. The <a href="/">sheet</a>, the <a href="/scouting">round</a>, the plantings looked at and the
<a href="/enter">forms for entries</a> are.</p></main>`);
  return new Response(text, { status: 503, headers: sheet.headers });
}

/* Pages and files that a page asks to be kept, one after another so that nobody has to wait for them. */
async function fetchAll(addresses) {
  const wanted = [...new Set(addresses)];
  for (const each of wanted) {
    const address = new URL(each, location.origin);
    if (address.origin !== location.origin) continue;
    try {
      if (address.pathname.startsWith("/static/")) { await fetchFile(address); continue; }
      const before = thrown, text = await keepPage(address, await ask(address), before);
      // The list of plantings, the likeliest first, is that of the forms for entries.
      const named = each === "/enter" && text ? [...text.matchAll(/href="(\/planting\/[^"?]+)"/g)] : [];
      wanted.push(...new Set(named.slice(0, MOST_AHEAD).map(([, path]) => path)));
    } catch { return; }
  }
}

const ask = address =>
  fetch(address, { headers: { [COPY]: "yes" }, redirect: "error", signal: AbortSignal.timeout(LONG_PATIENCE_MS) });

async function fetchFile(address) {
  if (await (await caches.open(FILES)).match(address)) return;
  const answer = await ask(address);
  await keepFile(new Request(address), answer.clone());
  if (!address.pathname.endsWith(".css")) return;
  for (const [, name] of (await answer.text()).matchAll(/url\("([^"]+)"\)/g)) await fetchFile(new URL(name, address));
}
